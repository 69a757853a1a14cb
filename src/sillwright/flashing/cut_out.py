"""What to cut for every piece, and how much of each stock that takes."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace

from sillwright.errors import BadInput
from sillwright.findings import Finding
from sillwright.flashing.plan_model import WaterCut, WaterMaterial
from sillwright.job import Roll, Water
from sillwright.lengths import Unit, show
from sillwright.water import Complex, Dressing, Kind, Sheet
from sillwright.water.pattern_model import FlatPattern, FlatPiece
from sillwright.water.patterns import flat_pattern

NOT_CUT = (Kind.FACE, Kind.UNIT, Kind.BEAD, Kind.MOUNT)
BY_AREA = (Kind.WRAP,)
"""Sheets of the whole wall: cut where they hang, and counted by their area."""
SOURCE = "the faces moved into one plane; docs/water.md"
SQIN_PER_SQFT = 144.0


@dataclass(frozen=True, slots=True, kw_only=True)
class CutOut:
    """What is cut from what."""

    cuts: tuple[WaterCut, ...]
    materials: tuple[WaterMaterial, ...]
    findings: tuple[Finding, ...]


def cut_out(dressing: Dressing, water: Water, units: Unit) -> CutOut:
    """Return the cut size of every piece, the stock that all of them take, and what does not come out."""
    sheets = sorted(
        (_off_the_roll(sheet) for sheet in dressing.sheets if _is_cut(sheet)), key=lambda sheet: sheet.laid
    )
    lap = water.sizes.course_lap
    cuts = {s.name: _cut(s, dressing.complex, lap) for s in sheets if s.kind not in BY_AREA}
    rolls = {roll.name: roll for roll in water.roll}
    materials = tuple(_materials(sheets, cuts, rolls))
    words = {sheet.name: sheet.words for sheet in sheets}
    found = (*_refused(cuts.values(), words, units), *_short(materials, units))
    return CutOut(cuts=tuple(cuts.values()), materials=materials, findings=found)


def _is_cut(sheet: Sheet) -> bool:
    return sheet.kind not in NOT_CUT or _double_faced(sheet)


def _double_faced(sheet: Sheet) -> bool:
    """Tell whether a piece is a tape that holds what comes over it, and not a bead out of a tube."""
    return sheet.kind is Kind.BEAD and any(panel.bonds_above for panel in sheet.panels)


def _off_the_roll(sheet: Sheet) -> Sheet:
    """Return a piece as it is cut: double-faced tape is a roll of its own."""
    if not _double_faced(sheet):
        return sheet
    stock = replace(sheet.stock, name=f"{sheet.stock.name}, double-faced")
    return replace(sheet, kind=Kind.TAPE, stock=stock)


def _cut(sheet: Sheet, shape: Complex, lap: float) -> WaterCut:
    ident = f"cutting.{sheet.name}"
    try:
        pattern = flat_pattern(sheet, shape, joint_lap=lap)
    except BadInput as refused:
        along, across = _spread(sheet)
        return WaterCut(
            id=ident,
            piece=sheet.name,
            roll=sheet.stock.name,
            make="not flat",
            along=along,
            across=across,
            strips=1,
            folds=0,
            slits=0,
            stretch_pct=None,
            fits=False,
            said=f"{refused.faults[0].what} {refused.faults[0].advice}".strip(),
        )
    return _of_pattern(ident, sheet, pattern)


def _of_pattern(ident: str, sheet: Sheet, pattern: FlatPattern) -> WaterCut:
    largest = max(pattern.pieces, key=lambda piece: piece.size.along * piece.size.across)
    along, across = _sides(largest)
    patched = ", ".join(each.words for each in pattern.patches)
    stretches = [each.percent for piece in pattern.pieces for each in piece.stretches]
    return WaterCut(
        id=ident,
        piece=sheet.name,
        roll=sheet.stock.name,
        make=pattern.make.value,
        along=along,
        across=across,
        strips=len(largest.size.strips),
        folds=sum(len(piece.folds) for piece in pattern.pieces),
        slits=sum(len(piece.slits) for piece in pattern.pieces),
        stretch_pct=max(stretches, default=None),
        fits=all(piece.size.fits for piece in pattern.pieces),
        said=f"does not hold: {patched}; another piece must" if patched else "",
    )


def _sides(piece: FlatPiece) -> tuple[float, float]:
    """Return the sides of the least rectangle round a piece: along the roll first, else the longer first."""
    size = piece.size
    if size.roll is not None:
        return size.along, size.across
    return max(size.along, size.across), min(size.along, size.across)


def _spread(sheet: Sheet) -> tuple[float, float]:
    """Return the greatest lengths of the parts of a sheet that is not flat [in]."""
    spans = [(abs(u[1] - u[0]), abs(v[1] - v[0])) for u, v in ((p.u, p.v) for p in sheet.panels)]
    return max(max(each) for each in spans), max(min(each) for each in spans)


def _materials(
    sheets: list[Sheet], cuts: dict[str, WaterCut], rolls: dict[str, Roll]
) -> Iterator[WaterMaterial]:
    by_stock: dict[str, list[Sheet]] = {}
    for sheet in sheets:
        by_stock.setdefault(sheet.stock.name, []).append(sheet)
    for name, own in by_stock.items():
        stock = own[0].stock
        of = [cuts[sheet.name] for sheet in own if sheet.name in cuts]
        length = sum(cut.along * cut.strips for cut in of) if len(of) == len(own) else None
        width = stock.width if stock.width is not None else max((cut.across for cut in of), default=None)
        area = sum(cut.along * cut.across for cut in of) + sum(
            _area(sheet) for sheet in own if sheet.name not in cuts
        )
        on_hand = _on_hand(rolls.get(name))
        yield WaterMaterial(
            roll=name,
            family=stock.family,
            pieces=len(own),
            length=length,
            width=width,
            area_sqft=area / SQIN_PER_SQFT,
            on_hand=on_hand,
            result="not counted"
            if on_hand is None or length is None
            else "enough"
            if length <= on_hand
            else "not enough",
        )


def _area(sheet: Sheet) -> float:
    return math.fsum((p.u[1] - p.u[0]) * (p.v[1] - p.v[0]) for p in sheet.panels)


def _on_hand(roll: Roll | None) -> float | None:
    if roll is None or roll.length is None or roll.count is None:
        return None
    return roll.length * roll.count


def _refused(cuts: Iterable[WaterCut], words: dict[str, str], units: Unit) -> Iterator[Finding]:
    for cut in cuts:
        if cut.make == "not flat":
            yield _finding(
                cut, f"The {words[cut.piece]} is no flat sheet: {cut.said}", "Cut it of two pieces."
            )
        elif not cut.fits:
            wide = show(cut.across, unit=units, graduation=1 / 8 if units == "in" else 1.0, mark=True)
            what = f"{cut.roll} is too narrow for the {words[cut.piece]}, which is {wide} wide."
            yield _finding(cut, what, "Take a wider roll, or make the piece smaller: [water.sizes].")


def _finding(cut: WaterCut, message: str, advice: str) -> Finding:
    return Finding(
        id=f"finding.{cut.id}",
        severity="fix",
        message=message,
        advice=advice,
        source=SOURCE,
        place=cut.id,
    )


def _short(materials: Iterable[WaterMaterial], units: Unit) -> Iterator[Finding]:
    for each in materials:
        if each.result == "not enough" and each.length is not None and each.on_hand is not None:
            needed, there = (show(length, unit=units, mark=True) for length in (each.length, each.on_hand))
            yield Finding(
                id=f"finding.material.{each.roll}",
                severity="fix",
                message=f"{each.roll} does not do: {needed} of it is cut, before waste; {there} is on hand.",
                advice="Get more before you start.",
                source="sum of the cut sizes",
                value=needed,
                limit=there,
            )
