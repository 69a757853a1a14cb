"""How each role looks: line colour, type colour, wash, weight, dashes; and the hatch of each material.

No two roles share weight and dashes, so a black-and-white print still tells them apart.
Weights and dashes in points (1/72 in), hatch spacing in paper inches.
"""

from __future__ import annotations

from dataclasses import dataclass

from sillwright.drawing.scene import Pattern, Role

PAPER = "#ffffff"
POINTS_PER_INCH = 72


@dataclass(frozen=True, slots=True)
class Ink:
    """Colours of line, type and wash; weight and dashes in points; `shade` is the darker wash."""

    line: str
    type: str
    wash: str
    weight_pt: float
    dash_pt: tuple[float, ...] = ()
    shade: str = "#d8d8db"


INKS: dict[Role, Ink] = {
    Role.PENCIL: Ink("#3a3a3c", "#2b2b2d", "#ececec", 0.9),
    Role.CHALK: Ink("#2a63b8", "#1b4a92", "#dbe7f6", 0.8, (12, 4)),
    Role.CRAYON: Ink("#d9430d", "#992d06", "#fbe3d8", 2.4),
    Role.NEW: Ink("#1c1c1e", "#1c1c1e", "#f3efe6", 1.2),
    Role.WATER: Ink("#12366b", "#12366b", "#d6e0ee", 1.5, (7, 2.5, 1.5, 2.5)),
    Role.STAMP: Ink("#7a1230", "#7a1230", "#f4e1e6", 1.8),
    Role.NOTE: Ink("#4a4a4d", "#2b2b2d", "#f2f2f2", 0.5, shade="#a4a4aa"),
}
HIDDEN_DASH_PT = (4.0, 2.5)
BAND_DASH_PT = (1.2, 1.8)
BAND_WEIGHT_PT = 0.4
HATCH_WEIGHT_PT = 0.4


@dataclass(frozen=True, slots=True)
class Family:
    """Parallel hatch lines: angle [degrees], spacing, shift across, and dashes (line, gap) [paper inches]."""

    angle_deg: float
    spacing: float
    shift: float = 0.0
    dash: tuple[float, float] | None = None


PATTERNS: dict[Pattern, tuple[Family, ...]] = {
    Pattern.WOOD: (Family(45, 0.085),),
    Pattern.PAD: (Family(135, 0.05),),
    Pattern.MEMBRANE: (Family(45, 0.065), Family(135, 0.065)),
    Pattern.METAL: (Family(45, 0.1), Family(45, 0.1, 0.025)),
    Pattern.SEALANT: (Family(45, 0.06, 0.0, (0.06, 0.04)),),
    Pattern.WRAP: (Family(0, 0.11, 0.0, (0.14, 0.07)),),
    Pattern.HELD: (Family(135, 0.09, 0.0, (0.05, 0.07)),),
    Pattern.OPEN: (Family(0, 0.055), Family(90, 0.055)),
    Pattern.STRETCH: (Family(45, 0.045), Family(135, 0.09, 0.0, (0.05, 0.05))),
}
