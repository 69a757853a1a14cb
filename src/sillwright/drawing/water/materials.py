"""The hatch of a piece by what it is made of."""

from __future__ import annotations

from sillwright.drawing.scene import Fill, Pattern
from sillwright.water import Kind, Sheet

_BY_KIND = {
    Kind.WRAP: Pattern.WRAP,
    Kind.FACE: Pattern.WRAP,
    Kind.METAL: Pattern.METAL,
    Kind.BEAD: Pattern.SEALANT,
    Kind.MOUNT: Pattern.WOOD,
    Kind.UNIT: Pattern.PAD,
}


def pattern_of(sheet: Sheet) -> Pattern:
    """Return the hatch of a piece: of its kind, and of membranes by whether they stretch."""
    known = _BY_KIND.get(sheet.kind)
    if known is not None:
        return known
    return Pattern.STRETCH if sheet.stock.stretches else Pattern.MEMBRANE


def tone_of(sheet: Sheet) -> Fill:
    """Return how a piece that is on already is washed: wrap stays white, membranes are darker than wood."""
    if sheet.kind in (Kind.WRAP, Kind.UNIT):
        return Fill.PAPER
    return Fill.TINT if sheet.kind in (Kind.FACE, Kind.MOUNT) else Fill.SHADE
