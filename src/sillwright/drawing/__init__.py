"""Drawings: one scene of carpenter's marks in job inches, written as SVG or DXF.

A scene is a list of marks with roles (pencil, chalk, crayon, new, water, stamp, note) and a scale.
`fit` chooses a trade scale for a box of paper, `to_svg` and `to_dxf` write it; `record` tells what is drawn
where. Nothing here computes what a person acts on, and nothing knows of pages: those are the planning and the
packet.
"""

from sillwright.drawing.figures import Figures, chance
from sillwright.drawing.marks import Drawn, record
from sillwright.drawing.page import (
    Box,
    TextBox,
    extents,
    fit,
    overlapping_texts,
    scale_words,
    sheet,
    spread,
    text_boxes,
)
from sillwright.drawing.plane import section_stretch
from sillwright.drawing.plans import plan_drawings
from sillwright.drawing.reading_form import PLACES as READING_PLACES
from sillwright.drawing.reading_form import reading_form
from sillwright.drawing.scene import (
    Along,
    Anchor,
    AnyItem,
    Band,
    Dim,
    Fill,
    Hatch,
    Mark,
    MarkKind,
    Path,
    Pattern,
    Point,
    Role,
    Ruler,
    Scene,
    Text,
    inch_ruler,
    millimetre_ruler,
)
from sillwright.drawing.story_pole import pole_tiles
from sillwright.drawing.svg import to_svg

__all__ = [
    "READING_PLACES",
    "Along",
    "Anchor",
    "AnyItem",
    "Band",
    "Box",
    "Dim",
    "Drawn",
    "Figures",
    "Fill",
    "Hatch",
    "Mark",
    "MarkKind",
    "Path",
    "Pattern",
    "Point",
    "Role",
    "Ruler",
    "Scene",
    "Text",
    "TextBox",
    "chance",
    "extents",
    "fit",
    "inch_ruler",
    "millimetre_ruler",
    "overlapping_texts",
    "plan_drawings",
    "pole_tiles",
    "reading_form",
    "record",
    "scale_words",
    "section_stretch",
    "sheet",
    "spread",
    "text_boxes",
    "to_dxf",
    "to_svg",
]


def to_dxf(scene: Scene) -> str:
    """Return a scene as a DXF document in inches."""
    from sillwright.drawing import dxf  # noqa: PLC0415  its library takes longer to load than all others

    return dxf.to_dxf(scene)
