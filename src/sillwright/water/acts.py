"""The acts that dress a wall, and which of them cannot be swapped, each with its reason.

Two sheets that overlap are tried both ways round. If water that runs down by its weight gets in at an edge of
the upper one and comes out behind an edge of the lower one, that way round leaks: the lower one must go on
top, and so later.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator
from dataclasses import dataclass
from enum import StrEnum
from itertools import combinations, pairwise, permutations

import numpy as np

from sillwright.water.falls import Falls, Leak
from sillwright.water.geodesic import Place
from sillwright.water.lattice import SAME
from sillwright.water.model import Complex, Dressing, Face, Kind, Mount, Panel, Point, Sheet, Span
from sillwright.water.tiles import Tile, Tiling, covers, on_each_other, tiling


class Do(StrEnum):
    """What is done to a piece."""

    LAY = "lay"
    ROLL = "roll"
    FOLD_DOWN = "fold down"
    DRY_FIT = "dry fit"
    BED = "bed in sealant"


@dataclass(frozen=True, slots=True, kw_only=True)
class Act:
    """One thing to do to a piece, or to a part of it that is held up until then."""

    do: Do
    sheet: str
    panel: str | None = None
    """The part held up; None: the piece, without such parts."""
    words: str

    @property
    def name(self) -> str:
        """Return the name of the act: of the piece alone where it is laid."""
        part = "" if self.panel is None else f" {self.panel}"
        return f"{self.sheet}{part}" if self.do in (Do.LAY, Do.FOLD_DOWN) else f"{self.do} {self.sheet}{part}"


class Force(StrEnum):
    """How much a rule of order binds."""

    WORK = "work"
    """It cannot be done the other way round."""
    SHED = "shed"
    """The other way round, water runs in across no bond."""
    BOND = "bond"
    """The other way round, water runs in but for a bond."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Must:
    """One act must come before another."""

    first: str
    then: str
    force: Force
    why: str
    """What comes of it the other way round."""
    facet: str = ""
    edge: tuple[Point, Point] | None = None
    """The edge that faces up the other way round: in there, water runs behind what was to come then."""
    panel: str = ""
    """The part of the piece that was to come then, behind which it runs."""
    reach: tuple[Span, Span] | None = None
    """Between which u and v of that facet the water gets in and out, where both are on one facet."""
    shelters: tuple[str, ...] = ()
    """Acts that lay something over all of that edge: after one of these no water gets in there."""


def acts(dressing: Dressing) -> tuple[Act, ...]:
    """Return every act that dresses a wall, in the order that the wall has."""
    found: list[tuple[float, int, Act]] = []
    for sheet in dressing.sheets:
        steps = list(_acts_of(sheet))
        found += [(at, number, act) for number, (at, act) in enumerate(steps)]
    return tuple(act for _, _, act in sorted(found, key=lambda each: each[:2]))


def _acts_of(sheet: Sheet) -> Iterator[tuple[float, Act]]:
    words = sheet.words
    if sheet.kind is Kind.UNIT:
        yield sheet.laid, Act(do=Do.DRY_FIT, sheet=sheet.name, words=f"dry fit the {words}")
        if any(panel.bonded for panel in sheet.panels):
            yield sheet.laid, Act(do=Do.BED, sheet=sheet.name, words=f"run the sealant for the {words}")
    verb = {Kind.UNIT: "set", Kind.MOUNT: "fix"}.get(sheet.kind, "lay")
    yield sheet.laid, Act(do=Do.LAY, sheet=sheet.name, words=f"{verb} the {words}")
    if is_rolled(sheet):
        yield sheet.laid, Act(do=Do.ROLL, sheet=sheet.name, words=f"roll the {words} down")
    flaps = [(panel.laid, panel.name) for panel in sheet.panels if panel.laid is not None]
    for laid, name in flaps:
        flap = "the flap" if len(flaps) == 1 else name
        down = f"bring {flap} of the {words} down"
        yield laid, Act(do=Do.FOLD_DOWN, sheet=sheet.name, panel=name, words=down)


def is_rolled(sheet: Sheet) -> bool:
    """Tell whether a piece is a bonded membrane, which holds only once it is rolled."""
    rolled = (Kind.BACKING, Kind.PATCH, Kind.PAN, Kind.STRIP, Kind.LEDGER_SHEET, Kind.TAPE)
    return sheet.kind in rolled and any(panel.bonded for panel in sheet.panels)


def act_of(sheet: Sheet, panel: Panel) -> str:
    """Return the name of the act that lays a panel down."""
    return sheet.name if panel.laid is None else f"{sheet.name} {panel.name}"


# --- what cannot be swapped


def musts(dressing: Dressing) -> tuple[Must, ...]:
    """Return every rule of order that a dressed wall is under."""
    found = [*_on_the_face(dressing), *_round_mounts(dressing), *_before_units(dressing)]
    for one, other in combinations(dressing.sheets, 2):
        if not any(on_each_other(a, b) for a in one.panels for b in other.panels):
            continue
        for names, part in overlaps_of_acts(dressing.complex, one, other):
            found += _shedding(dressing, names, part)
            found += _covering(names, part)
    return (*_within_pieces(dressing), *found)


def overlaps_of_acts(shape: Complex, one: Sheet, other: Sheet) -> Iterator[tuple[tuple[str, str], Tiling]]:
    """Yield the overlap of two sheets by the acts that lay their panels: the names of both, the tiles."""
    whole = tiling(shape, one, other)
    groups: dict[tuple[str, str], list[int]] = defaultdict(list)
    for place, tile in enumerate(whole.tiles):
        groups[act_of(one, tile.panels[0]), act_of(other, tile.panels[1])].append(place)
    for names, places in groups.items():
        yield names, whole.part(places)


def _within_pieces(dressing: Dressing) -> Iterator[Must]:
    for sheet in dressing.sheets:
        steps = [act for _, act in _acts_of(sheet)]
        for before, after in pairwise(steps):
            yield Must(first=before.name, then=after.name, force=Force.WORK, why=_WITHIN[before.do, after.do])
        if sheet.kind is Kind.BEAD:
            for unit in dressing.sheets:
                if unit.kind is Kind.UNIT and unit.opening == sheet.opening:
                    first = Act(do=Do.DRY_FIT, sheet=unit.name, words="").name
                    yield Must(
                        first=first, then=sheet.name, force=Force.WORK, why=_WITHIN[Do.DRY_FIT, Do.BED]
                    )


_WITHIN = {
    (
        Do.DRY_FIT,
        Do.BED,
    ): "sealant is run only for a unit that was tried and fits: it cannot be taken up again.",
    (Do.DRY_FIT, Do.LAY): "a unit is tried dry before it is set.",
    (Do.BED, Do.LAY): "sealant goes on before the unit covers it.",
    (Do.LAY, Do.ROLL): "it is laid before it is rolled.",
    (Do.ROLL, Do.FOLD_DOWN): "it is rolled before what hangs on it comes down.",
    (Do.LAY, Do.FOLD_DOWN): "it hangs on what must be laid first.",
    (Do.FOLD_DOWN, Do.FOLD_DOWN): "parts come down in their order.",
}


def _on_the_face(dressing: Dressing) -> Iterator[Must]:
    """Yield that the sheathing's own face is there before all else."""
    for face in dressing.sheets:
        for sheet in dressing.sheets if face.kind is Kind.FACE else ():
            if sheet.kind is not Kind.FACE:
                why = f"the {face.words} is part of the wall."
                yield Must(first=face.name, then=sheet.name, force=Force.WORK, why=why)


def _round_mounts(dressing: Dressing) -> Iterator[Must]:
    """Yield what must be on before a mount covers it, and what lies on its faces and so comes later."""
    bodies = {sheet.name: sheet for sheet in dressing.sheets if sheet.kind is Kind.MOUNT}
    for mount in dressing.complex.mounts:
        body = bodies.get(mount.name)
        for sheet in dressing.sheets if body else ():
            if sheet is body or body is None:
                continue
            if any(panel.facet in mount.faces for panel in sheet.panels):
                why = f"the {sheet.words} is folded over the {body.words}."
                yield Must(first=body.name, then=sheet.name, force=Force.WORK, why=why)
            elif any(_is_behind(panel, mount) for panel in sheet.panels):
                why = f"the {sheet.words} lies behind the {body.words}: it cannot go in later."
                yield Must(first=sheet.name, then=body.name, force=Force.WORK, why=why)
            elif sheet.kind in (Kind.PAN, Kind.UNIT):
                why = f"fixing the {body.words} afterwards would crush the {sheet.words}."
                yield Must(first=body.name, then=sheet.name, force=Force.WORK, why=why)


def _is_behind(panel: Panel, mount: Mount) -> bool:
    return panel.facet == mount.facet and on_each_other(panel, mount)


def _before_units(dressing: Dressing) -> Iterator[Must]:
    """Yield what lies in an opening, between wood and unit: there is no room for it later."""
    for unit in dressing.sheets:
        if unit.kind is not Kind.UNIT:
            continue
        inside = [panel for panel in unit.panels if not _has_hole(dressing.complex, panel.facet)]
        for sheet in dressing.sheets:
            if sheet.kind in (Kind.UNIT, Kind.BEAD):
                continue
            if any(on_each_other(a, b) for a in inside for b in sheet.panels):
                why = f"the {sheet.words} lies between the wood and the {unit.words}: it cannot go in later."
                yield Must(first=sheet.name, then=unit.name, force=Force.WORK, why=why)


def _has_hole(shape: Complex, facet: str) -> bool:
    return bool(shape.by_name[facet].holes)


def _covering(names: tuple[str, str], part: Tiling) -> Iterator[Must]:
    """Yield that a tape comes after the edges that it bridges."""
    for which, other in permutations((0, 1)):
        sheets = part.sheets[which], part.sheets[other]
        if sheets[0].kind is not Kind.TAPE or sheets[1].kind is Kind.TAPE:
            continue
        bridged = [place for place, ends in part.ends.items() if ends == {other} and _is_plumb(part, place)]
        if bridged:
            why = f"the {sheets[0].words} bridges an edge of the {sheets[1].words}, which must be there."
            yield Must(first=names[other], then=names[which], force=Force.WORK, why=why)


def _is_plumb(part: Tiling, place: tuple[int, int]) -> bool:
    ends = part.tiles[place[0]].ends(place[1])
    rise = abs(ends[1][2] - ends[0][2])
    return bool(rise > 0.7 * np.linalg.norm(ends[1] - ends[0]))


# --- what water asks for


def _shedding(dressing: Dressing, names: tuple[str, str], part: Tiling) -> Iterator[Must]:
    """Yield which of two acts must be the later one, so that water runs from the upper sheet on the lower.

    A bonded edge counts only where rain reaches it.
    """
    falls = Falls(part)
    for over in (0, 1):
        found = falls.leaks(over)
        unbonded = [leak for leak in found if not part.tiles[leak.entry[0]].panels[over].bonded]
        found = [leak for leak in found if _is_rained_on(part.tiles[leak.entry[0]])]
        for force, some in ((Force.SHED, unbonded), (Force.BOND, found)):
            if some:
                yield _must(dressing, part, names, over, some, force)
                break


def _is_rained_on(tile: Tile) -> bool:
    rain = tile.facet.rain
    return rain is not None and all(
        own[0] < wet[1] - SAME and wet[0] < own[1] - SAME
        for own, wet in zip((tile.u, tile.v), rain, strict=True)
    )


def _must(
    dressing: Dressing, part: Tiling, names: tuple[str, str], over: int, found: list[Leak], force: Force
) -> Must:
    shelters = [frozenset(_shelters(dressing, part, leak.entry, 1 - over)) for leak in found]
    leak = found[min(range(len(found)), key=lambda place: len(shelters[place]))]
    upper, lower = part.sheets[over], part.sheets[1 - over]
    tile, behind = part.tiles[leak.entry[0]], part.tiles[leak.exit[0]]
    edge = tile.ends(leak.entry[1])
    meant = "water runs" if force is Force.SHED else "only its bond keeps water from running"
    why = (
        f"{_edge_words(tile, leak.entry[1])} of the {upper.words} faces up on the {lower.words}, on the "
        f"{tile.facet.words}: {meant} behind the {lower.words} there."
    )
    return Must(
        first=names[over],
        then=names[1 - over],
        force=force,
        why=why,
        facet=behind.facet.name,
        edge=(_point(edge[0]), _point(edge[1])),
        panel=behind.panels[1 - over].name,
        reach=_reach(part, found, behind),
        shelters=tuple(sorted(frozenset.intersection(*shelters))),
    )


def _reach(part: Tiling, found: list[Leak], behind: Tile) -> tuple[Span, Span] | None:
    tiles = [part.tiles[place[0]] for leak in found for place in (leak.entry, leak.exit)]
    tiles = [tile for tile in tiles if tile.facet == behind.facet and behind.facet.face is Face.UPRIGHT]
    entries = [part.tiles[leak.entry[0]] for leak in found]
    if not any(tile.facet == behind.facet for tile in entries) or not tiles:
        return None
    spans = [
        (min(ends[0] for ends in each), max(ends[1] for ends in each))
        for each in zip(*((t.u, t.v) for t in tiles), strict=True)
    ]
    return spans[0], spans[1]


def _edge_words(tile: Tile, side: int) -> str:
    """Return what an edge is called, by where it lies on its sheet."""
    a, b = tile.ends(side)
    middle = (a + b) / 2 - tile.middle
    if abs(middle[2]) > 0.7 * np.linalg.norm(middle):
        return "the upper edge" if middle[2] > 0 else "the lower edge"
    return "the edge"


def _point(values: np.ndarray) -> Point:
    x, y, z = values.tolist()
    return x, y, z


def _shelters(dressing: Dressing, part: Tiling, entry: Place, under: int) -> Iterator[str]:
    """Yield the acts of third pieces that lie over both sides of an edge, all along it."""
    beyond = part.laid.runs_on(part.sheets[under], part.tiles[entry[0]].cell, entry[1])
    if beyond is None:
        return
    near = part.laid.bank(part.tiles[entry[0]].cell, entry[1])
    far = part.laid.bank(beyond[0], beyond[1])
    for sheet in dressing.sheets:
        if sheet in part.sheets:
            continue
        over = [panel for panel in sheet.panels if panel.facet == near[0] and covers(panel, *near[1:])]
        past = [panel for panel in sheet.panels if panel.facet == far[0] and covers(panel, *far[1:])]
        joined = {frozenset((seam.one, seam.other)) for seam in sheet.seams}
        for one in over:
            if any(other == one or frozenset((one.name, other.name)) in joined for other in past):
                yield act_of(sheet, one)
