"""Flat patterns: every sheet of a dressed wall as it is cut from its roll."""

from __future__ import annotations

from collections.abc import Iterator
from functools import lru_cache

import numpy as np

from sillwright.errors import BadInput, Fault
from sillwright.water.blanks import blank_piece, round_corner
from sillwright.water.flat_parts import flat_piece
from sillwright.water.held import meetings, patches, stretches
from sillwright.water.model import Complex, Corner, Dressing, Join, Kind, Sheet
from sillwright.water.pattern_model import FlatPattern, FlatPiece, Make
from sillwright.water.slits import overlapping
from sillwright.water.tiles import Tiling, corner_at, outward, tiling
from sillwright.water.unfold import Flat, Growth, flat_of, frames, joins_of

FLAT = frozenset({Join.FOLD})
BENT = frozenset({Join.FOLD, Join.FORMED})
NOT_CUT = (Kind.FACE, Kind.UNIT, Kind.BEAD, Kind.MOUNT)
"""Kinds that are no sheet cut from a roll."""


def flat_patterns(dressing: Dressing, *, joint_lap: float) -> tuple[FlatPattern, ...]:
    """Return the flat pattern of every sheet of a dressed wall that is cut from flat stock.

    Args:    joint_lap: of joints along the roll, in sheets wider than it [in]
    Raises:  BadInput: sheets that cannot be laid flat, all of them
    """
    found: list[FlatPattern] = []
    faults: list[Fault] = []
    for sheet in dressing.sheets:
        if sheet.kind in NOT_CUT:
            continue
        try:
            found.append(flat_pattern(sheet, dressing.complex, joint_lap=joint_lap))
        except BadInput as refused:
            faults += refused.faults
    if faults:
        raise BadInput(*faults)
    return tuple(found)


@lru_cache(maxsize=256)
@lru_cache(maxsize=256)
def flat_pattern(sheet: Sheet, shape: Complex, *, joint_lap: float) -> FlatPattern:
    """Return the flat pattern of one sheet: every face of it moved into the plane as it is, none of it bent.

    Patterns are kept: plan, packet and drawings ask for the same ones in turn.

    It is kept: plan, packet and drawings ask one after the other.

    Args:    joint_lap: of joints along the roll, if it is wider than the roll [in]
    Raises:  BadInput: it lies over itself in the plane, its folds go round a corner whose angles do not add
             up to 360 degrees, or it has to stretch and its stock does not
    """
    whole = tiling(shape, sheet)
    growth = Growth(whole, joins_of(whole), frames(outward(shape), whole))
    make = _make(sheet, growth)
    if make is Make.STRETCHED:
        flats = [next(_flats(growth, FLAT))]
        pieces = [_stretched(shape, sheet, growth, flats[0], joint_lap)]
    else:
        flats = list(_flats(growth, FLAT) if make is Make.FOLDED else _bent(growth))
        for flat in flats if make is Make.FOLDED else ():
            _refuse_turns(sheet, shape, flat)
            _refuse_overlaps(sheet, flat)
        pieces = [flat_piece(shape, sheet, flat, joint_lap) for flat in flats]
    there = {panel.name for piece in pieces for panel in piece.panels}
    return FlatPattern(
        sheet=sheet.name,
        words=sheet.words,
        make=make,
        pieces=tuple(pieces),
        patches=tuple(patches(shape, growth)),
        meetings=tuple(meetings(growth, flats, formed=make is Make.FORMED)),
        added=tuple(panel.name for panel in sheet.panels if panel.name not in there),
    )


def _stretched(shape: Complex, sheet: Sheet, growth: Growth, flat: Flat, lap: float) -> FlatPiece:
    corner = round_corner(shape, flat)
    if corner is not None:
        return blank_piece(shape, sheet, flat, corner, lap)
    _refuse_overlaps(sheet, flat)
    return flat_piece(shape, sheet, flat, lap, stretches(shape, growth))


def _make(sheet: Sheet, growth: Growth) -> Make:
    if not any(join is Join.FORMED for _, join in growth.joins.values()):
        return Make.FOLDED
    if sheet.kind is Kind.METAL:
        return Make.FORMED
    if sheet.stock.stretches:
        return Make.STRETCHED
    what = f"the {sheet.words} must stretch round a corner, and {sheet.stock.name} does not stretch."
    advice = "Cut it and patch the corner, form it of metal, or take a roll that stretches."
    raise BadInput(Fault(f"water.sheet {sheet.name}", what, advice))


# --- laying flat


def _flats(growth: Growth, allowed: frozenset[Join]) -> Iterator[Flat]:
    """Yield the parts of a sheet that hang together over allowed joins, the part of the root first."""
    left = set(range(len(growth.tiling.tiles)))
    while left:
        placed = growth.grow(root_of(growth.tiling, left), allowed)
        left -= set(placed)
        yield flat_of(growth, placed, allowed)


def root_of(tiling: Tiling, among: set[int]) -> list[int]:
    """Return the tiles of the largest panel, on the wall or on a sill if there is one."""
    sizes: dict[tuple[str, bool], float] = {}
    for place in among:
        tile = tiling.tiles[place]
        a, b, c, d = tile.points
        size = float(np.linalg.norm(np.cross(c - a, d - b))) / 2
        first = tile.facet.name == tiling.laid.shape.facets[0].name or tile.facet.face == "lying"
        key = tile.panels[0].name, first
        sizes[key] = sizes.get(key, 0.0) + size
    name, _ = max(sizes, key=lambda key: (key[1], sizes[key], key[0]))
    return [place for place in sorted(among) if tiling.tiles[place].panels[0].name == name]


def _bent(growth: Growth) -> Iterator[Flat]:
    """Yield the flat pieces of a formed sheet: panel by panel bent up, as long as none lies on another.

    What is left over is a piece of its own, to be soldered on.
    """
    left = set(range(len(growth.tiling.tiles)))
    while left:
        placed: dict[int, tuple[complex, ...]] = {}
        keep: set[int] = set()
        for panel in _outward_from(growth, root_of(growth.tiling, left), left):
            tried = growth.grow(root_of(growth.tiling, left), BENT, keep | panel)
            if not list(overlapping(flat_of(growth, tried, BENT))):
                keep |= panel
                placed = tried
        left -= set(placed)
        yield flat_of(growth, placed, BENT)


def _outward_from(growth: Growth, root: list[int], among: set[int]) -> Iterator[set[int]]:
    """Yield the panels of a sheet from a root outward, each as its tiles; over folds before formed seams."""
    names = {place: growth.tiling.tiles[place].panels[0].name for place in among}
    seen: list[str] = []
    todo = [(0, names[root[0]])]
    while todo:
        rank, name = min(todo, key=lambda each: each[0])
        todo.remove((rank, name))
        if name in seen:
            continue
        seen.append(name)
        yield {place for place, own in names.items() if own == name}
        for (tile, _), ((other, _), join) in growth.joins.items():
            if names.get(tile) == name and other in names and names[other] not in seen and join in BENT:
                todo.append((rank + (0 if join is Join.FOLD else 1), names[other]))


# --- refusing


def _refuse_turns(sheet: Sheet, shape: Complex, flat: Flat) -> None:
    """Refuse folds that go round a point where the angles do not add up to a full turn."""
    faults = []
    seen: set[str] = set()
    for place, ((other, side), join) in flat.joins.items():
        if join is not Join.FOLD or place in flat.used:
            continue
        tile = flat.tiling.tiles[place[0]]
        corners = [corner_at(shape, point) for point in tile.ends(place[1])]
        named = [corner for corner in corners if corner is not None]
        key = named[0].name if named else str(sorted((place, (other, side))))
        if key not in seen:
            seen.add(key)
            faults.append(_turn_fault(sheet, named[0] if named else None))
    if faults:
        raise BadInput(*faults)


def _turn_fault(sheet: Sheet, corner: Corner | None) -> Fault:
    where = f"the {corner.words}" if corner else "a point"
    angle = f" to {corner.angle_deg:.0f} degrees" if corner else ""
    what = f"the {sheet.words} is folded all round {where}, where the angles add up{angle} and not to 360."
    advice = "No flat sheet goes there: slit it to the point and patch that, or pleat it."
    return Fault(f"water.sheet {sheet.name}", what, advice)


def _refuse_overlaps(sheet: Sheet, flat: Flat) -> None:
    faults = [
        Fault(
            f"water.sheet {sheet.name}",
            f"laid flat, {one} and {other} of the {sheet.words} lie on each other.",
            "Cut one of them shorter, or off, and patch it.",
        )
        for one, other in sorted(set(overlapping(flat)))
    ]
    if faults:
        raise BadInput(*faults)
