"""A section as a drawing: wood, layers apart in their order, the unit, laps, the way of water, names."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from functools import cached_property

from sillwright.drawing.figures import Figures
from sillwright.drawing.labels import TYPE, Label, column
from sillwright.drawing.scene import (
    Anchor,
    AnyItem,
    Fill,
    Hatch,
    Mark,
    MarkKind,
    Path,
    Pattern,
    Point,
    Role,
    Text,
)
from sillwright.drawing.water.acts import Act, acts, piece_ref
from sillwright.drawing.water.cut import FLAP, Leg, Out, Piece, Run, in_order, line, pieces, runs
from sillwright.drawing.water.section_laps import Lap, laps
from sillwright.drawing.water.sections import Section, shifted
from sillwright.water import WALL, Dressing, Kind, Mount, Sheet

GAP = 0.1
"""From one layer to the next [paper in]."""
_WEIGHT = {Kind.WRAP: 0.9, Kind.FACE: 0.7, Kind.METAL: 1.3, Kind.TAPE: 1.6, Kind.BEAD: 1.6}
_MEMBRANE = 2.0
_AT_DAM = 0.3
"""Before the back dam layers are drawn so much closer: the unit stands there."""
_STITCH = 0.09
_COLUMNS = 3
_BESIDE, _COLUMN = 0.14, 0.5
"""Laps are written so far from the wall's face, and so far apart [paper in]."""


@dataclass(frozen=True)
class Drawer:
    """Draws one section at a scale [paper inches to an inch]."""

    dressing: Dressing
    section: Section
    figures: Figures
    scale: float

    @property
    def gap(self) -> float:
        """Return the distance of two layers [in]."""
        return GAP / self.scale

    @property
    def mount(self) -> Mount | None:
        """Return the ledger that the section cuts."""
        faces = {each.facet for each in self.section.legs}
        return next((m for m in self.dressing.complex.mounts if faces & set(m.faces)), None)

    def board(self) -> Sheet | None:
        """Return the piece that is the ledger's board."""
        mount = self.mount
        return next((s for s in self.dressing.sheets if mount is not None and s.name == mount.name), None)

    def front(self) -> tuple[Leg, ...]:
        """Return the outer line of the wall, over the ledger where that is drawn."""
        mount = self.mount
        if mount is None:
            return self.section.legs
        return shifted(
            self.section.legs, mount, self.section.ranks.get((mount.name, mount.facet), 0), self.gap
        )

    def legs(self, sheet: Sheet) -> tuple[Leg, ...]:
        """Return the line that a sheet follows."""
        board = self.board()
        path = self.section.behind if board is not None and sheet.laid <= board.laid else self.front()
        return tuple(self._on_sill(each, sheet) if each.facet.endswith(".dam") else each for each in path)

    def _on_sill(self, dam: Leg, sheet: Sheet) -> Leg:
        """Return the back dam as high as the sheet lies on the sill, so that its upturn keeps its length."""
        sill = f"{dam.facet.removesuffix('.dam')}.sill"
        up = self.section.ranks.get((sheet.name, sill), 0) * self.gap
        ends = ((x, z + up) for x, z in (dam.first, dam.last))
        return replace(dam, first=next(ends), last=next(ends))

    def out(self, sheet: Sheet, more: float = 0.0) -> Out:
        """Return how far out of each leg a sheet lies, and so many gaps more [in]."""
        ranks = self.section.ranks

        def out(each: Leg) -> float:
            part = _AT_DAM if each.facet.endswith(".dam") else 1.0
            return part * (ranks.get((sheet.name, each.facet), 0) + more) * self.gap

        return out

    @cached_property
    def layers(self) -> list[Sheet]:
        """Return the sheets that are drawn, but for the ledger's board, in the order of work."""
        cut = {name for name, _ in self.section.ranks}
        return [each for each in in_order(self.dressing) if each.name in cut and each.kind is not Kind.MOUNT]

    def outermost(self, each: Leg) -> float:
        """Return how many layers lie on a leg."""
        return max((n for (_, facet), n in self.section.ranks.items() if facet == each.facet), default=0)

    # --- the whole

    def marks(self) -> list[AnyItem]:
        """Return the whole drawing."""
        found: list[AnyItem] = [*self._wood()]
        for sheet in self.layers:
            found += self._unit(sheet) if sheet.kind is Kind.UNIT else self._layer(sheet)
            found += self._hung(sheet)
        return [*found, *self._solid(), *self._laps(), *self._water(), *self._names()]

    def _wood(self) -> Iterator[AnyItem]:
        yield Path(self.section.wood, closed=True, fill=Fill.TINT, weight=0.0)
        for each in self.section.behind:
            yield Path((each.first, each.last), weight=1.0)

    def _layer(self, sheet: Sheet) -> Iterator[AnyItem]:
        legs, out, ref = self.legs(sheet), self.out(sheet), piece_ref(sheet)
        weight = _WEIGHT.get(sheet.kind, _MEMBRANE)
        thin = sheet.kind in (Kind.WRAP, Kind.FACE)
        for run in (self._on_top(each, legs) for each in runs(sheet, legs)):
            yield Path(tuple(line(legs, run, out)), role=Role.NEW, weight=weight, hidden=thin, ref=ref)
            for piece in run:
                if piece.bonded and sheet.kind is not Kind.FACE:
                    yield from self._stitches(legs[piece.leg], piece, out, ref)

    def _on_top(self, run: Run, legs: Sequence[Leg]) -> Run:
        """Return a run that ends on the ledger's top, drawn to end over the layers there."""
        first, mount = run[0], self.mount
        below = legs[first.leg - 1] if first.leg > 0 else None
        each = legs[first.leg]
        ends_there = abs(first.span[0] - each.start) < 1e-6
        if mount is None or below is None or below.facet not in mount.faces or not ends_there:
            return run
        if each.facet != WALL:
            return run
        start = min(first.span[0] + (self.outermost(below) + 0.5) * self.gap, first.span[1])
        return (replace(first, span=(start, first.span[1])), *run[1:])

    def _hung(self, flap: Sheet) -> Iterator[AnyItem]:
        """Yield the line from a flap back to the piece that it hangs on."""
        owner = next(
            (s for s in self.layers if FLAP in flap.name and s.name == flap.name.partition(FLAP)[0]), None
        )
        if owner is None:
            return
        for piece in pieces(self.legs(flap), flap):
            each = self.legs(flap)[piece.leg]
            ends = (each.lifted(piece.ends[1], self.out(sheet)(each)) for sheet in (owner, flap))
            yield Path(tuple(ends), role=Role.NEW, weight=_WEIGHT[Kind.WRAP], ref=piece_ref(flap))

    def _stitches(self, each: Leg, piece: Piece, out: Out, ref: str) -> Iterator[AnyItem]:
        """Yield short strokes under a stretch that is stuck down."""
        low, high = piece.ends
        count = max(int((high - low) * self.scale / _STITCH), 1)
        for n in range(count):
            along = low + (n + 0.5) * (high - low) / count
            ends = each.lifted(along, out(each)), each.lifted(along, out(each) - 0.45 * self.gap)
            yield Path(ends, role=Role.NOTE, ref=ref)

    def _solid(self) -> Iterator[AnyItem]:
        board = self.board()
        if board is None:
            return
        face, top = (
            next(each for each in self.front() if each.facet.endswith(end)) for end in (".face", ".top")
        )
        back = top.last[0]
        outline = (face.first, face.last, (back, face.last[1]), (back, face.first[1]))
        yield Hatch(outline, Pattern.WOOD, weight=0.8, ref=piece_ref(board))

    def _unit(self, sheet: Sheet) -> Iterator[AnyItem]:
        legs = self.legs(sheet)
        mine = list(pieces(legs, sheet))
        inner = [p for p in mine if legs[p.leg].facet.endswith((".sill", ".head", ".left", ".right"))]
        if inner:
            body = UnitBody(legs[inner[0].leg], inner, self.out(sheet), self.gap, piece_ref(sheet))
            yield from body.marks()
            for piece in mine:
                if legs[piece.leg].facet == WALL:
                    yield from body.fin(legs[piece.leg], piece, at_start=self.section.name == "head")

    # --- laps

    def _laps(self) -> Iterator[AnyItem]:
        """Yield how far each piece hangs down over the one below, least first, written on the wood."""
        columns: list[list[Lap]] = []
        room = 0.1 / self.scale
        found = laps(self.layers, self.legs, mirrored=self.section.name == "right jamb")
        for lap in sorted(found, key=lambda each: each.high - each.low):
            free = (n for n, used in enumerate(columns) if not any(lap.near(other, room) for other in used))
            place = next(free, len(columns))
            if place == _COLUMNS:
                continue
            columns += [[]] if place == len(columns) else []
            columns[place].append(lap)
            yield from self._lap(lap, place)

    def _lap(self, lap: Lap, place: int) -> Iterator[AnyItem]:
        k, ref = self.scale, piece_ref(lap.upper)
        flat = self.section.name.endswith("jamb")
        away = (_BESIDE + (0.25 if flat else _COLUMN) * place) / k

        def at(along: float, off: float) -> Point:
            return (along, off) if flat else (off, along)

        yield Path((at(lap.low, away), at(lap.high, away)), role=Role.NOTE, ref=ref)
        for end, sheet in lap.ends:
            out = self.out(sheet)(next(each for each in self.legs(sheet) if each.facet == WALL))
            yield Path((at(end, away + 0.05 / k), at(end, -out)), role=Role.NOTE, weight=0.6, ref=ref)
            yield Path(
                (at(end, away - 0.04 / k), at(end, away + 0.04 / k)), role=Role.NOTE, weight=2.2, ref=ref
            )
        yield Text(
            at((lap.low + lap.high) / 2, away + 0.06 / k),
            f"lap {self.figures.place(lap.high - lap.low)}",
            anchor=Anchor.S if flat else Anchor.W,
            size=TYPE,
            bold=True,
            ref=ref,
        )

    # --- water

    def _water(self) -> Iterator[AnyItem]:
        """Yield the way of water: what the unit lets in, out over the pan; rain, down over all."""
        ways: dict[str, Callable[[], list[Point]]] = {
            "sill": self._drained,
            "head": self._rain,
            "ledger": self._rain,
        }
        way = ways[self.section.name]() if self.section.name in ways else []
        if way:
            (x0, y0), (x1, y1) = way[-2:]
            angle = math.degrees(math.atan2(y1 - y0, x1 - x0))
            yield Path(tuple(way), role=Role.WATER)
            yield Mark(way[-1], MarkKind.ARROW, role=Role.WATER, angle=angle, size=0.13)
            yield Mark(way[0], MarkKind.DROP, role=Role.WATER, nudge=(0.0, 0.1), size=0.17)

    def _drained(self) -> list[Point]:
        """Return the way from a leak at the unit's foot over what lies on the sill, and down its front."""
        facet = next(each.facet for each in self.section.behind if each.facet.endswith(".sill"))
        start = next((spot.v for spot in self.dressing.weak_spots if spot.facet == facet), 1.0)
        under = [each for each in self.layers if each.kind is not Kind.UNIT and self._on(each, facet, start)]
        if not under:
            return []
        top = max(under, key=lambda each: self.section.ranks[each.name, facet])
        legs = self.legs(top)
        run = next(run for run in runs(top, legs) if any(legs[piece.leg].facet == facet for piece in run))
        low = min((p.ends[0] for p in run if legs[p.leg].facet == WALL), default=None)
        front = self.front()
        ends = [_stretch(n, each, facet, start, low) for n, each in enumerate(front)]
        way = line(front, [piece for piece in ends if piece], self._over_all(top, low))[::-1]
        return [*way, (way[-1][0], way[-1][1] - 0.22 / self.scale)]

    def _over_all(self, top: Sheet, low: float | None) -> Out:
        """Return the way over a sheet on the sill, and over all that lies below its foot."""
        ranks = self.section.ranks

        def out(each: Leg) -> float:
            rank = ranks.get((top.name, each.facet)) if low is not None or each.facet != WALL else None
            return ((self.outermost(each) if rank is None else rank) + 0.5) * self.gap

        return out

    def _on(self, sheet: Sheet, facet: str, along: float) -> bool:
        legs = self.legs(sheet)
        return any(
            legs[p.leg].facet == facet and p.ends[0] <= along <= p.ends[1] for p in pieces(legs, sheet)
        )

    def _rain(self) -> list[Point]:
        legs = self.front()
        if self.section.name == "head":
            wall = legs[-1]
            out = (self.outermost(wall) + 0.8) * self.gap
            x, foot = wall.lifted(wall.start, out)
            return [wall.lifted(wall.end, out), (x, foot - 0.3 / self.scale)]
        run = [
            Piece(leg=n, span=(each.start, each.end), bonded=False, panel="") for n, each in enumerate(legs)
        ]
        return line(legs, run, lambda each: (self.outermost(each) + 0.8) * self.gap)[::-1]

    # --- names

    def _names(self) -> Iterator[AnyItem]:
        number = {_name(act): act.number for act in acts(self.dressing)}
        labels = [
            Label(
                at=self._aim(sheet), text=f"{number[sheet.name]} {self._named(sheet)}", ref=piece_ref(sheet)
            )
            for sheet in self.layers
        ]
        k = self.scale
        if self.section.name.endswith("jamb"):
            most = max(self.outermost(each) for each in self.front() if each.facet == WALL)
            yield from self._stairs(labels, -(most + 1.2) * self.gap)
        else:
            xs = [
                p[0] - (self.outermost(each) + 1.6) * self.gap
                for each in self.front()
                for p in (each.first, each.last)
            ]
            yield from column(labels, x=min(xs) - 0.1 / k, scale=(k, k), to_left=True)

    def _named(self, sheet: Sheet) -> str:
        """Return a piece's name, with its opening where that is not the section's."""
        if sheet.opening is None or self.section.opening in (None, sheet.opening):
            return short(sheet)
        return f"{short(sheet)} of {sheet.opening}"

    def _aim(self, sheet: Sheet) -> Point:
        """Return where a leader meets a layer: where the least lies over it, on a face that looks outward."""
        legs, out = self.legs(sheet), self.out(sheet)
        best, least = legs[0].first, math.inf
        for piece in pieces(legs, sheet):
            each = legs[piece.leg]
            inner = 0.0 if each.facet == WALL or each.facet.endswith(".face") else 1.5
            for share in (0.5, 0.25, 0.75, 0.1, 0.9):
                at = piece.span[0] + share * (piece.span[1] - piece.span[0])
                cost = inner + self._over(sheet, each.facet, at)
                if cost < least:
                    best, least = each.lifted(at, out(each)), cost
        return best

    def _over(self, sheet: Sheet, facet: str, along: float) -> int:
        """Return how many layers lie over a sheet at a place."""
        ranks = self.section.ranks
        mine = ranks[sheet.name, facet]
        return sum(self._on(s, facet, along) for s in self.layers if ranks.get((s.name, facet), 0) > mine)

    def _stairs(self, labels: Sequence[Label], y: float) -> Iterator[AnyItem]:
        """Yield labels under a plan, nearest to the opening first, each with a plumb leader to its layer."""
        k = self.scale
        way = -1 if self.section.name == "right jamb" else 1
        anchor = Anchor.E if way < 0 else Anchor.W
        for row, label in enumerate(sorted(labels, key=lambda each: -way * each.at[0])):
            foot = (label.at[0], y - (0.1 + 0.17 * row) / k)
            yield Path((label.at, foot), role=Role.NOTE)
            yield Text(foot, label.text, anchor=anchor, nudge=(0.05 * way, 0.0), size=TYPE, ref=label.ref)


def _name(act: Act) -> str:
    return f"{act.sheet.name}{FLAP}{act.panels[0].name}" if act.flap else act.sheet.name


def _stretch(number: int, each: Leg, sill: str, start: float, low: float | None) -> Piece | None:
    """Return the part of a leg that a leak on the sill runs over, down to the foot of the sheet under it."""
    if each.facet.endswith(".dam"):
        return None
    span = (each.start, each.end)
    if each.facet == sill:
        span = (0.0, start)
    elif each.facet == WALL and low is not None:
        span = (max(low, each.start), each.end)
    return Piece(leg=number, span=span, bonded=False, panel="")


def short(sheet: Sheet) -> str:
    """Return a piece's name without its opening."""
    if sheet.kind is Kind.WRAP and FLAP not in sheet.name:
        return sheet.words.replace(" course of", "")
    return sheet.words.partition(" of ")[0].partition(" behind ")[0]


@dataclass(frozen=True, slots=True)
class UnitBody:
    """A unit as a section shows it: frame, the start of the glass, seals, fin; it stands level and plumb."""

    leg: Leg
    inner: Sequence[Piece]
    out: Out
    gap: float
    ref: str

    def marks(self) -> Iterator[AnyItem]:
        """Yield frame, glass and the seals to the room."""
        front, back = self._depth()
        middle = (front + back) / 2
        glass = ((middle - 0.3, RAIL), (middle + 0.3, RAIL), (middle + 0.3, SHOWN), (middle - 0.3, SHOWN))
        frame = ((front, 0.0), (back, 0.0), (back, RAIL), (front, RAIL))
        outline = tuple(self._at(*p) for p in glass)
        yield Path(outline, closed=True, fill=Fill.PAPER, role=Role.NEW, weight=0.6, ref=self.ref)
        yield Hatch(tuple(self._at(*p) for p in frame), Pattern.PAD, weight=0.8, ref=self.ref)
        for piece in self.inner:
            if piece.bonded:
                low, high = piece.ends
                below = self.out(self.leg) - 0.9 * self.gap
                seal = (
                    *(self.leg.lifted(at, below) for at in (low, high)),
                    self._at(high, 0.0),
                    self._at(low, 0.0),
                )
                yield Hatch(seal, Pattern.SEALANT, weight=0.5, ref=self.ref)

    def fin(self, wall: Leg, piece: Piece, *, at_start: bool) -> Iterator[AnyItem]:
        """Yield a fin: along the wall, on past the edge of the opening, and into the frame."""
        edge = wall.start if at_start else wall.end
        far = max(piece.ends, key=lambda at: abs(at - edge))
        out = self.out(wall)
        root = self._at(self._depth()[0], 0.4 * RAIL)
        corner = wall.lifted(edge, out)
        bend = (root[0], corner[1]) if abs(wall.normal[1]) > 0.5 else (corner[0], root[1])
        yield Path((wall.lifted(far, out), bend, root), role=Role.NEW, weight=1.4, ref=self.ref)
        if piece.bonded:
            a, b = (far + share * (edge - far) for share in (0.25, 0.7))
            bead = ((a, out - 0.85 * self.gap), (b, out - 0.85 * self.gap), (b, out), (a, out))
            yield Hatch(tuple(wall.lifted(*p) for p in bead), Pattern.SEALANT, weight=0.5, ref=self.ref)

    def _depth(self) -> tuple[float, float]:
        return min(p.ends[0] for p in self.inner), max(p.ends[1] for p in self.inner)

    def _at(self, along: float, up: float) -> Point:
        """Return a place of the frame: so far in, and so far from its foot."""
        axis = 0 if abs(self.leg.normal[0]) > abs(self.leg.normal[1]) else 1
        sign = math.copysign(1.0, self.leg.normal[axis])
        foot = max(sign * self.leg.lifted(end, self.out(self.leg))[axis] for end in self._depth())
        point = list(self.leg.lifted(along, 0.0))
        point[axis] = sign * (foot + up)
        return point[0], point[1]


RAIL, SHOWN = 2.25, 3.5
"""Height of a unit's frame, and how much of a unit shows, as drawn [in]."""
