"""Each act in one sentence of the trade's words, with the figures that matter."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass

from sillwright.drawing.figures import Figures
from sillwright.drawing.water.acts import Act, Standing, named_holes
from sillwright.drawing.water.faces import overlap
from sillwright.drawing.water.measures import folds_of
from sillwright.drawing.water.outline import Rect
from sillwright.drawing.water.seams import slits
from sillwright.water import WALL, Join, Kind, Panel, Span

_NEAR = 1.0 / 32
_SHORT = 0.25
"""A leg that is so much shorter than the others is told apart [in]."""
_MOST = 0.6
"""A part that covers so much of a jamb's height covers the jamb."""


@dataclass(frozen=True, slots=True)
class Teller:
    """Words one act."""

    now: Standing
    figures: Figures

    # --- figures

    def size(self, length: float) -> str:
        """Return a length with its unit."""
        return f"{self.figures.place(length)} {self.figures.mark}"

    def hole(self) -> Rect | None:
        """Return x and z of the opening that the piece belongs to."""
        return dict(named_holes(self.now.dressing)).get(self.act.opening or "")

    @property
    def act(self) -> Act:
        """Return the act."""
        return self.now.act

    @property
    def name(self) -> str:
        """Return what the piece is called."""
        return self.act.sheet.words

    def on_wall(self) -> list[Panel]:
        """Return the parts of the piece on the wall's face."""
        return [panel for panel in self.act.panels if panel.facet == WALL]

    # --- the whole

    def sentence(self) -> str:
        """Return the act in words."""
        if self.act.flap:
            return self._flap()
        told = _TOLD.get(self.act.sheet.kind, Teller.laid)
        return told(self)

    def laid(self) -> str:
        """Return the words for a piece of any shape."""
        how = "Roll on" if self._rolled() else "Lay"
        return f"{how} the {self.name}{_colon(self.reaches())}."

    def _rolled(self) -> bool:
        return self.act.sheet.kind is not Kind.BEAD and any(panel.bonded for panel in self.act.panels)

    # --- pieces

    def _flap(self) -> str:
        laps = list(self._head_laps())
        strips = "head strips" if len(laps) > 1 else "head strip"
        least = " or more" if len(laps) > 1 else ""
        over = f" over the {strips} (lap {self.size(min(laps))}{least})" if laps else ""
        return f"Bring the {called_flap(self.act)} down{over}."

    def _head_laps(self) -> Iterator[float]:
        """Yield how far a flap hangs down over each piece that runs along a head."""
        for panel in self.on_wall():
            for act, other in self.now.laid():
                if act is not self.act and shingled(panel, other, act.sheet.kind, (Kind.STRIP,)):
                    yield other.v[1] - panel.v[0]

    def folded(self) -> str:
        """Return the words for a pan or a formed metal piece."""
        how = "Set the metal" if self.act.sheet.kind is Kind.METAL else "Fold the"
        parts = [f"{how} {self.name}{_colon(self.reaches())}", *self._corners()]
        if self._rolled():
            parts.append("roll it")
        return "; ".join(parts) + "."

    def _corners(self) -> Iterator[str]:
        if self.act.sheet.kind is Kind.METAL:
            return
        joins = {crease.join for crease in folds_of(self.now)}
        if any(True for _ in slits(self.now.dressing, self.act.sheet)):
            yield "slit it at the front corners only"
        elif Join.FORMED in joins:
            yield "stretch it round the front corners, no cut"
        if Join.PLEAT in joins:
            yield "fold it over itself in the back corners"

    def patch(self) -> str:
        """Return the words for a patch round a corner."""
        what, _, where = self.act.sheet.words.partition(", ")
        where = where if " " in where else f"{where} {what.removesuffix(' patch')}".strip()
        reach = max((panel.u[1] - panel.u[0] for panel in self.on_wall()), default=0.0)
        each = f", {self.size(reach)} each way" if reach else ""
        short = min((panel.v[1] - panel.v[0] for panel in self.on_wall()), default=reach)
        if short < reach - _SHORT:
            each += f" but {self.size(short)} {'down' if ' sill ' in where else 'up'} the wall"
        return f"Stretch the patch round the {where}{each}, no wrinkle at the point; roll it."

    def strip(self) -> str:
        """Return the words for a strip beside or over an opening, or for a lining of it."""
        hole, walls = self.hole(), self.on_wall()
        if hole is None or not walls:
            return self.laid()
        (u, v), (x, z) = (walls[0].u, walls[0].v), hole
        if any(panel.facet != WALL for panel in self.act.panels):
            beside = overlap(u, x) < _NEAR and v != z
            return self.laid().removesuffix(".") + (f", {_from_to(self, v, z)}." if beside else ".")
        over = " over the fin" if self._over(Kind.UNIT) else ""
        if overlap(u, x) > (x[1] - x[0]) / 2:
            return f"Roll on the {self.name}{over}{self._past_strips(u)}."
        ends = f", {_from_to(self, v, z)}"
        return f"Roll on the {self.name}{over}: {self.size(u[1] - u[0])} wide{ends}."

    def _past_strips(self, u: Span) -> str:
        laps = list(self._laps(Kind.STRIP))
        below = [p for act, p in self.now.laid() if act.sheet.kind is Kind.STRIP and act is not self.act]
        mine = [p for p in below if p.facet == WALL and overlap(p.u, u)]
        past = min((p.u[0] for p in mine), default=u[0]) - u[0]
        if not laps:
            return ""
        end = f", {self.size(past)} past them at each end" if past > _NEAR else ""
        return f" and the tops of the jamb strips (lap {self.size(laps[0])}){end}"

    def tape(self) -> str:
        """Return the words for a tape."""
        walls = self.on_wall()
        if not walls:
            return self.laid()
        sides = sorted((walls[0].u[1] - walls[0].u[0], walls[0].v[1] - walls[0].v[0]))
        return f"Roll on the {self.name}: {self.size(sides[0])} wide, {self.size(sides[1])} long."

    def bead(self) -> str:
        """Return the words for a bead."""
        if not any(panel.bonds_above for panel in self.act.panels):
            return f"Run the {self.name}." if "bead" in self.name else f"Lay the {self.name}."
        return f"Lay the {self.name}: what comes over it is pressed down on it."

    def unit(self) -> str:
        """Return the words for a unit: where it is bedded, where it drains, where it is sealed."""
        fins = self.on_wall()
        parts = [f"Set the {self.name}"]
        hole = self.hole()
        if fins and hole:
            bedded = _listed([side for side, panel in _sides(fins, hole) if panel.bonded])
            dry = _listed([side for side, panel in _sides(fins, hole) if not panel.bonded])
            parts += [f"bed the fin at {bedded}"] if bedded else []
            parts += [f"leave it dry at {dry} to drain"] if dry else []
        else:
            parts += ["a bead outside at head and jambs", "the sill left open to drain"]
        parts.append("seal it to the room side all round")
        return f"{parts[0]}: {', '.join(parts[1:-1])}; {parts[-1]}."

    def wrap(self) -> str:
        """Return the words for a course of wrap."""
        laps = [f"lap {self.size(lap)} over the {name}" for name, lap in self._lapped()]
        cut = self._cuts()
        return (
            f"Hang the {self.name}"
            + "".join(f", {each}" for each in laps)
            + (f"; {cut}" if cut else "")
            + "."
        )

    def _cuts(self) -> str:
        returns = any(panel.facet != WALL for panel in self.act.panels)
        flaps = [panel for act, panel in self.now.held_up() if act is self.act]
        if flaps:
            tall = self.size(flaps[0].v[1] - flaps[0].v[0])
            folded = "fold sides and sill in, " if returns else ""
            return f"cut it at each opening: {folded}turn the head flap up {tall} and tape it there"
        if returns:
            return "cut it at each opening and fold it in"
        z = [span for _, (_, span) in named_holes(self.now.dressing)]
        spans = [panel.v for panel in self.on_wall()] or [(0.0, 0.0)]
        low, high = min(v[0] for v in spans), max(v[1] for v in spans)
        crossed = any(low < a[1] and a[0] < high for a in z)
        return "cut it round the units, no tape across their sills" if crossed else ""

    def _lapped(self) -> Iterator[tuple[str, float]]:
        told: set[str] = set()
        for panel in self.on_wall():
            for act, other in self.now.laid():
                if (
                    act is self.act
                    or act.sheet.kind.value in told
                    or not shingled(panel, other, act.sheet.kind)
                ):
                    continue
                told.add(act.sheet.kind.value)
                name = "head strips" if act.sheet.kind is Kind.STRIP else act.sheet.words
                yield name, other.v[1] - panel.v[0]

    def face(self) -> str:
        """Return the words for a sheathing that is itself the face that sheds."""
        return f"Tape every joint of the {self.name} and roll it."

    def backing(self) -> str:
        """Return the words for the sheet behind a ledger."""
        mount = next((m for m in self.now.dressing.complex.mounts if m.facet == WALL), None)
        walls = self.on_wall()
        if mount is None or not walls:
            return self.laid()
        (u, v), m = (walls[0].u, walls[0].v), mount
        past = f"{self.size(m.u[0] - u[0])} past each end"
        above, below = self.size(v[1] - m.v[1]), self.size(m.v[0] - v[0])
        return f"Roll on the {self.name}: {past} of it, {above} above, {below} below."

    def mount(self) -> str:
        """Return the words for a ledger."""
        sealed = [each for each in self.now.dressing.fasteners if each.sealed]
        bed = ", each bedded in sealant" if sealed else ""
        return f"Set the {self.name} on the backing sheet and drive its fasteners{bed}."

    # --- parts

    def _over(self, kind: Kind) -> bool:
        return any(
            act.sheet.kind is kind and act is not self.act and overlap(p.u, q.u) and overlap(p.v, q.v)
            for q in self.on_wall()
            for act, p in self.now.laid()
            if p.facet == WALL
        )

    def _laps(self, kind: Kind) -> Iterator[float]:
        for panel in self.on_wall():
            for act, other in self.now.laid():
                if act.sheet.kind is kind and act is not self.act and other.facet == WALL:
                    over = other.v[0] < panel.v[0] < other.v[1] <= panel.v[1]
                    if over and overlap(panel.u, other.u):
                        yield other.v[1] - panel.v[0]

    def reaches(self) -> list[str]:
        """Return how far the parts of the piece reach, each way once."""
        found: list[str] = []
        for panel in self.act.panels:
            told = self._reach(panel)
            twin = told.replace(" left ", " right ") if told else None
            if told and twin != told and any(self._reach(p) == twin for p in self.act.panels):
                told = told.replace("the left ", "each ")
            elif (
                told
                and told.replace(" right ", " left ") != told
                and told.replace("the right ", "each ") in found
            ):
                continue
            if told and told not in found:
                found.append(told)
        return found

    def _up_from_mount(self) -> str | None:
        """Return how far the piece goes up the wall over a ledger, and how far where a sill is nearer."""
        up = [panel.v[1] - panel.v[0] for panel in self.on_wall() if self._on_mount(panel)]
        if not up:
            return None
        cut = f", {self.size(min(up))} where a sill is nearer" if min(up) < max(up) - _SHORT else ""
        return f"{self.size(max(up))} up the wall{cut}"

    def _on_mount(self, panel: Panel) -> bool:
        mounts = self.now.dressing.complex.mounts
        return any(abs(panel.v[0] - m.v[1]) < _NEAR and overlap(panel.u, m.u) > 0 for m in mounts)

    def _reach(self, panel: Panel) -> str | None:
        part = panel.facet.rpartition(".")[2]
        if panel.facet == WALL:
            return self._wall_reach(panel)
        deep, tall = panel.u[1] - panel.u[0], panel.v[1] - panel.v[0]
        facet = self.now.dressing.complex.by_name[panel.facet]
        if any(panel.facet in mount.faces for mount in self.now.dressing.complex.mounts):
            return {"top": "over its top", "face": f"{self.size(tall)} down its face"}.get(part)
        if part in ("sill", "head"):
            name, whole = ("header", "the full depth of the header") if part == "head" else ("sill", None)
            return whole if panel.v == facet.v else f"{self.size(tall)} deep on the {name}"
        if part == "dam":
            return f"{self.size(tall)} up the back dam"
        if tall > _MOST * (facet.v[1] - facet.v[0]):
            whole = f"the full depth of the {part} jamb"
            return whole if panel.u == facet.u else f"{self.size(deep)} folded into the opening"
        return f"{self.size(tall)} {'down' if panel.v[1] == facet.v[1] else 'up'} the {part} jamb"

    def _wall_reach(self, panel: Panel) -> str | None:
        hole = self.hole()
        if hole is None:
            return self._by_mount(panel)
        (x, z), u, v = hole, panel.u, panel.v
        beside = u[1] <= x[0] + _NEAR or u[0] >= x[1] - _NEAR
        if beside:
            level = overlap(v, z) > 0
            return f"{self.size(u[1] - u[0])} out on the wall" if level else None
        return f"{self.size(v[1] - v[0])} {'up' if v[0] >= z[1] - _NEAR else 'down'} the wall"

    def _by_mount(self, panel: Panel) -> str | None:
        if self._on_mount(panel):
            return self._up_from_mount()
        if any(abs(panel.v[0] - mount.v[1]) < _NEAR for mount in self.now.dressing.complex.mounts):
            return f"{self.size(panel.u[1] - panel.u[0])} past each end"
        return None


_UNDER_WRAP = (Kind.WRAP, Kind.LEDGER_SHEET, Kind.STRIP)


def shingled(panel: Panel, other: Panel, kind: Kind, kinds: tuple[Kind, ...] = _UNDER_WRAP) -> bool:
    """Tell whether a course of wrap hangs down over the upper edge of a piece that runs along below it."""
    if kind not in kinds or other.facet != WALL:
        return False
    along = kind is not Kind.STRIP or other.u[1] - other.u[0] > other.v[1] - other.v[0]
    hangs = other.v[0] < panel.v[0] < other.v[1] <= panel.v[1]
    return along and hangs and overlap(panel.u, other.u) > 0


def called_flap(act: Act) -> str:
    """Return what a head flap is called, by the openings that it hangs over."""
    if len(act.over) > 1:
        return f"head flap over {act.over[0]} to {act.over[-1]}"
    return f"head flap of {act.opening}" if act.opening else "head flap"


def sentence(now: Standing, figures: Figures) -> str:
    """Return an act in one sentence, in the imperative."""
    return Teller(now, figures).sentence()


def _colon(parts: Sequence[str]) -> str:
    return f": {', '.join(parts)}" if parts else ""


def _listed(words: Sequence[str]) -> str:
    return " and ".join([", ".join(words[:-1]), words[-1]] if len(words) > 1 else words)


def _from_to(teller: Teller, v: Span, z: Span) -> str:
    low = z[0] - v[0]
    foot = (
        f"{teller.size(abs(low))} {'below' if low > 0 else 'above'} the sill"
        if abs(low) > _NEAR
        else "the sill"
    )
    top = v[1] - z[1]
    head = (
        f"{teller.size(abs(top))} {'above' if top > 0 else 'below'} the head"
        if abs(top) > _NEAR
        else "the head"
    )
    return f"from {foot} to {head}"


def _sides(fins: Sequence[Panel], hole: Rect) -> Iterator[tuple[str, Panel]]:
    """Yield the fins of a unit with their side, both jambs once."""
    told = set()
    for panel in fins:
        over = panel.v[0] >= hole[1][1] - _NEAR
        side = "the sill" if panel.v[1] <= hole[1][0] + _NEAR else "the head" if over else "the jambs"
        if side not in told:
            told.add(side)
            yield side, panel


_TOLD: dict[Kind, Callable[[Teller], str]] = {
    Kind.PAN: Teller.folded,
    Kind.METAL: Teller.folded,
    Kind.PATCH: Teller.patch,
    Kind.STRIP: Teller.strip,
    Kind.TAPE: Teller.tape,
    Kind.UNIT: Teller.unit,
    Kind.WRAP: Teller.wrap,
    Kind.BEAD: Teller.bead,
    Kind.FACE: Teller.face,
    Kind.BACKING: Teller.backing,
    Kind.MOUNT: Teller.mount,
}
