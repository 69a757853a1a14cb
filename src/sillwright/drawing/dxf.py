"""A scene as DXF for other tools: job inches at true size, one layer a role.

Where heights are exaggerated, they are drawn so, and a line under the drawing says it; dimensions carry the
text they were given, never a measured one. Signs and type are sized for the scene's paper scale. The `ref` of
a mark goes with its entities as extended data. The same scene gives the same bytes.
"""

from __future__ import annotations

import io
import math
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from typing import Any

import ezdxf
from ezdxf import options, units
from ezdxf.document import Drawing
from ezdxf.enums import TextEntityAlignment
from ezdxf.layouts import Modelspace
from ezdxf.render.arrows import ARROWS

from sillwright.drawing.ink import (
    BAND_DASH_PT,
    HIDDEN_DASH_PT,
    INKS,
    PATTERNS,
    POINTS_PER_INCH,
    Ink,
)
from sillwright.drawing.marks import Drawn, dim_line, on_paper, record
from sillwright.drawing.page import box_of, extents, scale_words
from sillwright.drawing.scene import Anchor, Dim, Fill, Point, Role, Scene
from sillwright.drawing.shapes import (
    ANCHOR_SHARES,
    CAP_HEIGHT_EM,
    Area,
    Disc,
    Shape,
    Stroke,
    Word,
    word_corners,
)
from sillwright.errors import OutputError

APP = "SILLWRIGHT"
FONT_FILE = "SourceSansPro-Regular.ttf"
BOLD_FONT_FILE = "SourceSansPro-Semibold.ttf"
# the line weights that DXF knows, in hundredths of a millimetre (Autodesk DXF reference, group code 370,
# from memory)
# colours that read on the dark and on the light ground of other tools; the rest is black or white by ground
_SCREEN: dict[Role, tuple[int, int, int]] = {
    Role.CHALK: (74, 134, 224),
    Role.CRAYON: (226, 78, 20),
    Role.WATER: (40, 150, 190),
    Role.STAMP: (196, 50, 96),
}
_BLACK_OR_WHITE = 7
_BY_LAYER = 256
_WHITE = (255, 255, 255)
_TRANSPARENCY = {Fill.TINT: 0.85, Fill.SHADE: 0.65}
_WEIGHTS = (13, 15, 18, 20, 25, 30, 35, 40, 50, 53, 60, 70, 80, 90, 100)
_EDGE_ON = 1e-9
"""An area no wider than this is a line [units of the file]."""


def to_dxf(scene: Scene) -> str:
    """Return a scene as a DXF document in inches.

    Raises: OutputError: a shape that this writer has no way to draw
    """
    with _same_bytes():
        document = _document(scene)
        pen = _Pen(document.modelspace(), scene)
        for drawn in record(scene):
            pen.draw(drawn)
        pen.scale_note()
        stream = io.StringIO()
        document.write(stream)
    return stream.getvalue()


@contextmanager
def _same_bytes() -> Iterator[None]:
    """Write without times and random ids, and leave the library's option as it was."""
    before = options.write_fixed_meta_data_for_testing
    options.write_fixed_meta_data_for_testing = True
    try:
        yield
    finally:
        options.write_fixed_meta_data_for_testing = before


def _document(scene: Scene) -> Drawing:
    document = ezdxf.new("R2010", setup=False)
    document.units = units.IN
    document.header["$MEASUREMENT"] = 0
    document.header["$LUNITS"] = 4
    document.header["$LUPREC"] = 6  # sixty-fourths
    document.set_wipeout_variables(frame=0)  # type: ignore[no-untyped-call]  # untyped there
    document.appids.add(APP)
    document.styles.add(APP, font=FONT_FILE)
    document.styles.add(f"{APP}-BOLD", font=BOLD_FONT_FILE)
    _line_types(document, scene)
    for role, ink in INKS.items():
        layer = document.layers.add(role.value.upper(), linetype=_line_type(role, ink))
        if role in _SCREEN:
            layer.rgb = _SCREEN[role]
        else:
            layer.color = _BLACK_OR_WHITE
        layer.dxf.lineweight = _line_weight(ink.weight_pt)
    _dimension_style(document, scene)
    return document


def _line_types(document: Drawing, scene: Scene) -> None:
    dashes = {role.value.upper(): ink.dash_pt for role, ink in INKS.items() if ink.dash_pt}
    for name, dash_pt in (dashes | {"HIDDEN": HIDDEN_DASH_PT, "BAND": BAND_DASH_PT}).items():
        parts = [part / POINTS_PER_INCH / scene.scale_x for part in dash_pt]
        signed = [part if place % 2 == 0 else -part for place, part in enumerate(parts)]
        document.linetypes.add(f"{APP}-{name}", [sum(parts), *signed])


def _line_type(role: Role, ink: Ink) -> str:
    return f"{APP}-{role.value.upper()}" if ink.dash_pt else "Continuous"


def _dimension_style(document: Drawing, scene: Scene) -> None:
    """Architectural ticks, text as given, sizes in paper inches brought to the scene's scale."""
    ARROWS.create_block(document.blocks, ARROWS.architectural_tick)
    style = document.dimstyles.add(APP)
    style.set_arrows(blk=ARROWS.architectural_tick)
    style.dxf.update(
        {
            "dimtxsty": APP,
            "dimtxt": 0.14 * CAP_HEIGHT_EM,
            "dimasz": 0.1,
            "dimgap": 0.06,
            "dimexe": 0.06,
            "dimexo": 0.04,
            "dimdle": 0.06,
            "dimtad": 1,
            "dimlfac": 1.0,
            "dimscale": 1 / scene.scale_x,
            "dimlunit": 4,
            "dimtoh": 0,
            "dimtih": 0,
            "dimclrt": _BY_LAYER,
            "dimlwd": _line_weight(0.5),
            "dimlwe": _line_weight(0.5),
        }
    )


def _is_flat(points: list[Point]) -> bool:
    """Tell whether an area is seen edge on: it has nothing to fill or to cover."""
    return any(max(each) - min(each) < _EDGE_ON for each in zip(*points, strict=True))


def _line_weight(weight_pt: float) -> int:
    wanted = weight_pt / POINTS_PER_INCH * 2540
    return min(_WEIGHTS, key=lambda weight: abs(weight - wanted))


@dataclass(frozen=True, slots=True)
class _Pen:
    """Draws recorded shapes into a model space, from paper inches to drawing units."""

    space: Modelspace
    scene: Scene

    def draw(self, drawn: Drawn) -> None:
        if isinstance(drawn.item, Dim):
            self._dimension(drawn.item)
            return
        for shape in drawn.shapes:
            for entity in self._entities(shape, drawn.item.role):
                if drawn.item.ref:
                    entity.set_xdata(APP, [(1000, drawn.item.ref)])

    def scale_note(self) -> None:
        """Say at what scale type is sized, and how often heights are drawn, under the drawing."""
        box = extents(self.scene)
        words = f"Drawn in inches. Type is sized for {scale_words(self.scene)}."
        self._word(Word((box.left, box.bottom - 0.15), words, 0.125, Anchor.NW), Role.NOTE)

    def _length(self, paper: float) -> float:
        return paper / self.scene.scale_x

    def _point(self, paper: Point) -> Point:
        return (self._length(paper[0]), self._length(paper[1]))

    def _entities(self, shape: Shape, role: Role) -> list[Any]:
        match shape:
            case Stroke():
                return self._stroke(shape, role)
            case Disc():
                return self._disc(shape, role)
            case Area():
                return self._area(shape, role)
            case Word():
                return [self._word(shape, role)]
        raise OutputError(f"drawing {self.scene.title!r}: DXF has no way to draw a {type(shape).__name__}")

    def _stroke(self, shape: Stroke, role: Role) -> list[Any]:
        points = [self._point(point) for point in shape.points]
        look = {
            "solid": "Continuous",
            "role": "ByLayer",
            "hidden": f"{APP}-HIDDEN",
            "band": f"{APP}-BAND",
        }
        attributes = _attributes(role) | {
            "lineweight": _line_weight(shape.weight_pt),
            "linetype": look[shape.dashes],
        }
        if not shape.weight_pt:
            # an area that only covers hides what was drawn before it, wash or paper
            fills = (Fill.PAPER,) if shape.fill is Fill.PAPER else (Fill.PAPER, shape.fill)
            return [entity for fill in fills for entity in self._filling(points, fill, role)]
        filling = self._filling(points, shape.fill, role)
        return [*filling, self.space.add_lwpolyline(points, close=shape.closed, dxfattribs=attributes)]

    def _filling(self, points: list[Point], fill: Fill, role: Role) -> list[Any]:
        if fill is Fill.NONE or _is_flat(points):
            return []
        if fill is Fill.PAPER:
            wipeout = self.space.add_wipeout(points)
            wipeout.dxf.layer = role.value.upper()  # the library drops attributes given above
            return [wipeout]
        hatch = self.space.add_hatch(color=_BY_LAYER, dxfattribs=_attributes(role))
        if fill in _TRANSPARENCY:
            hatch.transparency = _TRANSPARENCY[fill]
        hatch.paths.add_polyline_path(points, is_closed=True)
        return [hatch]

    def _disc(self, shape: Disc, role: Role) -> list[Any]:
        centre, radius = self._point(shape.centre), self._length(shape.radius)
        turns = [math.tau * step / 48 for step in range(48)]
        rim = [(centre[0] + radius * math.cos(turn), centre[1] + radius * math.sin(turn)) for turn in turns]
        attributes = _attributes(role) | {"lineweight": _line_weight(shape.weight_pt)}
        filling = self._filling(rim, shape.fill, role)
        return [*filling, self.space.add_circle(centre, radius, dxfattribs=attributes)]

    def _area(self, shape: Area, role: Role) -> list[Any]:
        points = [self._point(point) for point in shape.points]
        attributes = _attributes(role) | {"lineweight": _line_weight(shape.weight_pt)}
        paper = self._filling(points, Fill.PAPER, role)
        hatch = self.space.add_hatch(color=_BY_LAYER, dxfattribs=attributes)
        hatch.paths.add_polyline_path(points, is_closed=True)
        name = f"{APP}-{shape.pattern.value.upper()}"
        hatch.set_pattern_fill(name, color=_BY_LAYER, definition=self._definition(shape))
        return [*paper, hatch]

    def _definition(self, shape: Area) -> list[list[Any]]:
        """Own hatch lines in drawing units: angle, a point, step from line to line, dashes."""
        lines: list[list[Any]] = []
        for family in PATTERNS[shape.pattern]:
            turn = math.radians(family.angle_deg)
            across = (-math.sin(turn), math.cos(turn))
            start = tuple(self._length(family.shift * part) for part in across)
            step = tuple(self._length(family.spacing * part) for part in across)
            dash = [self._length(family.dash[0]), -self._length(family.dash[1])] if family.dash else []
            lines.append([family.angle_deg, start, step, dash])
        return lines

    def _word(self, shape: Word, role: Role) -> Any:
        attributes = _attributes(role) | {
            "style": f"{APP}-BOLD" if shape.bold else APP,
            "height": self._length(shape.size * CAP_HEIGHT_EM),
            "rotation": shape.angle,
        }
        text = self.space.add_text(shape.text, dxfattribs=attributes)
        if shape.reverse:
            text.rgb = _WHITE
        across, up = ANCHOR_SHARES[shape.anchor]
        rows = {0.0: "", 0.5: "MIDDLE_", 1.0: "TOP_"}
        columns = {0.0: "LEFT", 0.5: "CENTER", 1.0: "RIGHT"}
        text.set_placement(self._point(shape.at), align=TextEntityAlignment[rows[up] + columns[across]])
        return text

    def _dimension(self, item: Dim) -> None:
        def place(point: Point) -> Point:
            x, y = on_paper(self.scene, point)
            return (x + item.nudge[0], y + item.nudge[1])

        line = dim_line(item, place)
        dimension = self.space.add_linear_dim(
            base=self._point(line.start),
            p1=self._point(place(item.start)),
            p2=self._point(place(item.end)),
            angle=line.angle,
            text=item.text,
            dimstyle=APP,
            override={"dimtxt": item.size * CAP_HEIGHT_EM},
            dxfattribs=_attributes(item.role),
        )
        if line.text_anchor is not Anchor.S:
            middle = box_of(
                word_corners(Word(line.text_at, item.text, item.size, line.text_anchor, line.angle))
            )
            centre = ((middle.left + middle.right) / 2, (middle.bottom + middle.top) / 2)
            dimension.set_location(self._point(centre))
        dimension.render()
        if item.ref:
            dimension.dimension.set_xdata(APP, [(1000, item.ref)])


def _attributes(role: Role) -> dict[str, Any]:
    return {"layer": role.value.upper()}
