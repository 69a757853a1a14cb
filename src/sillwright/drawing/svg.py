"""A scene as SVG, true to scale, with real text, and a place to tap for every mark.

One user unit is a point (1/72 in). Each mark is one group with its role as class and its `ref` as `data-ref`;
looks are in a style block by class, so that a page can restyle them. The root carries origin and scale, so
that a tap can be turned back into job inches. The same scene gives the same bytes.
"""

from __future__ import annotations

import math
import re
from xml.etree import ElementTree as ET

from sillwright.drawing.ink import (
    BAND_DASH_PT,
    HATCH_WEIGHT_PT,
    HIDDEN_DASH_PT,
    INKS,
    PAPER,
    PATTERNS,
    POINTS_PER_INCH,
    Family,
)
from sillwright.drawing.marks import Drawn, record
from sillwright.drawing.page import Box, sheet
from sillwright.drawing.scene import Fill, Hatch, Point, Scene
from sillwright.drawing.shapes import ANCHOR_SHARES, CAP_HEIGHT_EM, Area, Disc, Stroke, Word, turned
from sillwright.errors import OutputError
from sillwright.lengths import glyphs

# the pages bring the first; a viewer without it takes its own plain face
FONT = "'Source Sans Pro', sans-serif"
_FRACTION = re.compile("[⁰¹²³⁴⁵⁶⁷⁸⁹]+⁄[₀₁₂₃₄₅₆₇₈₉]+")
# raised and lowered figures are about half as high as others
_FRACTION_SIZE = 1.2
_TEXT_ANCHOR = {0.0: "start", 0.5: "middle", 1.0: "end"}
# a hundredth of an inch: the sheet's size is then a short decimal in inches and in points
_SHEET_STEP = 0.01


def to_svg(scene: Scene) -> str:
    """Return a scene as an SVG document.

    Raises: OutputError: a shape that SVG has no way to draw
    """
    box = _whole_sheet(sheet(scene))
    root = _root(scene, box)
    ET.SubElement(root, "title").text = scene.title
    ET.SubElement(root, "desc").text = scene.alt
    ET.SubElement(root, "style").text = _style()
    name = _slug(scene.title)
    _patterns(root, scene, name)
    for drawn in record(scene):
        root.append(_group(drawn, box, name))
    _break_lines(root)
    return ET.tostring(root, encoding="unicode") + "\n"


def _break_lines(root: ET.Element) -> None:
    """One element a line, but never inside a text, where a line break would be a space."""
    for parent in (root, *root.findall("defs"), *root.findall("g")):
        parent.text = (parent.text or "") + "\n"
        for child in parent:
            child.tail = "\n"


def _whole_sheet(box: Box) -> Box:
    wide = math.ceil(box.width / _SHEET_STEP - 1e-6) * _SHEET_STEP
    high = math.ceil(box.height / _SHEET_STEP - 1e-6) * _SHEET_STEP
    return Box(box.left, box.top - high, box.left + wide, box.top)


def _root(scene: Scene, box: Box) -> ET.Element:
    return ET.Element(
        "svg",
        {
            "xmlns": "http://www.w3.org/2000/svg",
            "class": "sillwright",
            "id": _slug(scene.title),
            "role": "img",
            "width": f"{_figure(box.width)}in",
            "height": f"{_figure(box.height)}in",
            "viewBox": f"0 0 {_points(box.width)} {_points(box.height)}",
            "font-family": FONT,
            # for taps, in user units: x = x0 + sx * along the wall, y = y0 - sz * up
            "data-x0": _points(-box.left),
            "data-y0": _points(box.top),
            "data-sx": _figure(scene.scale_x * POINTS_PER_INCH),
            "data-sz": _figure(scene.scale_y * POINTS_PER_INCH),
        },
    )


def _style() -> str:
    rules = [
        ".sillwright text{stroke:none}",
        f".sillwright .halo{{paint-order:stroke;stroke:{PAPER};stroke-width:2.5;stroke-linejoin:round}}",
        ".sillwright .line{fill:none;stroke-linejoin:round;stroke-linecap:butt}",
        f".sillwright .paper{{fill:{PAPER}}}",
        ".sillwright .bold{font-weight:600}",
    ]
    for role, ink in INKS.items():
        at = f".sillwright .{role.value}"
        rules += [
            f"{at} .line{{stroke:{ink.line}}}",
            f"{at} .ink{{fill:{ink.type};stroke:{ink.type}}}",
            f"{at} .tint{{fill:{ink.wash}}}",
            f"{at} .shade{{fill:{ink.shade}}}",
            f"{at} text{{fill:{ink.type}}}",
            f"{at} .reverse{{fill:{PAPER}}}",
        ]
        if ink.dash_pt:
            rules.append(f"{at} .dashed{{stroke-dasharray:{_dashes(ink.dash_pt)}}}")
    rules += [
        ".sillwright .crayon .line{stroke-linecap:round}",
        f".sillwright .hidden{{stroke-dasharray:{_dashes(HIDDEN_DASH_PT)}}}",
        f".sillwright .edge{{stroke-dasharray:{_dashes(BAND_DASH_PT)}}}",
    ]
    return "\n" + "\n".join(rules) + "\n"


def _patterns(root: ET.Element, scene: Scene, name: str) -> None:
    used = sorted({item.pattern for item in scene.marks if isinstance(item, Hatch)})
    if used:
        defs = ET.SubElement(root, "defs")
        for pattern in used:
            for number, family in enumerate(PATTERNS[pattern]):
                defs.append(_pattern(f"{name}-{pattern.value}-{number}", family))


def _pattern(name: str, family: Family) -> ET.Element:
    """One family of lines as a tile: lines run along its x, the tile is turned (SVG angles go clockwise)."""
    wide = sum(family.dash) if family.dash else family.spacing
    middle = family.spacing / 2
    element = ET.Element(
        "pattern",
        {
            "id": name,
            "patternUnits": "userSpaceOnUse",
            "width": _points(wide),
            "height": _points(family.spacing),
            "patternTransform": f"rotate({_figure(-family.angle_deg)}) translate(0 {_points(-family.shift)})",
        },
    )
    end = family.dash[0] if family.dash else wide
    line = {"x1": "0", "y1": _points(middle), "x2": _points(end), "y2": _points(middle)}
    ET.SubElement(
        element, "line", line | {"stroke": "#1c1c1e", "stroke-width": _figure(HATCH_WEIGHT_PT * 1.25)}
    )
    return element


def _group(drawn: Drawn, box: Box, name: str) -> ET.Element:
    kind = type(drawn.item).__name__.lower()
    attributes = {"class": f"{drawn.item.role.value} {kind}", "id": f"{name}-{drawn.index}"}
    if drawn.item.ref:
        attributes["data-ref"] = drawn.item.ref
    group = ET.Element("g", attributes)
    for shape in drawn.shapes:
        match shape:
            case Stroke():
                group.append(_stroke(shape, box))
            case Disc():
                group.append(_disc(shape, box))
            case Area():
                group.extend(_area(shape, box, name))
            case Word():
                group.append(_word(shape, box))
            case _:
                raise OutputError(f"drawing: SVG has no way to draw a {type(shape).__name__}")
    return group


def _stroke(shape: Stroke, box: Box) -> ET.Element:
    dashes = {"role": "dashed", "hidden": "hidden", "band": "edge", "solid": ""}[shape.dashes]
    tag = "polygon" if shape.closed else "polyline"
    line = "line" if shape.weight_pt else "area"
    return ET.Element(
        tag,
        {
            "class": _classes(line, dashes, "" if shape.fill is Fill.NONE else shape.fill.value),
            "points": _coordinates(shape.points, box),
            "stroke-width": _figure(shape.weight_pt),
        },
    )


def _disc(shape: Disc, box: Box) -> ET.Element:
    x, y = _placed(shape.centre, box)
    fill = "" if shape.fill is Fill.NONE else shape.fill.value
    attributes = {"cx": x, "cy": y, "r": _points(shape.radius), "stroke-width": _figure(shape.weight_pt)}
    return ET.Element("circle", {"class": _classes("line", fill)} | attributes)


def _area(shape: Area, box: Box, name: str) -> list[ET.Element]:
    """Paper first, so that what is new hides what was there; then one hatch over the other."""
    points = _coordinates(shape.points, box)
    layers = [f"url(#{name}-{shape.pattern.value}-{n})" for n in range(len(PATTERNS[shape.pattern]))]
    return [ET.Element("polygon", {"fill": fill, "points": points}) for fill in (PAPER, *layers)]


def _word(shape: Word, box: Box) -> ET.Element:
    across, up = ANCHOR_SHARES[shape.anchor]
    base = turned((0.0, -up * CAP_HEIGHT_EM * shape.size), shape.angle, shape.at)
    x, y = _placed(base, box)
    attributes = {
        "class": _classes("reverse" if shape.reverse else "halo", "bold" if shape.bold else ""),
        "x": x,
        "y": y,
        "font-size": _points(shape.size),
        "text-anchor": _TEXT_ANCHOR[across],
    }
    if shape.angle:
        attributes["transform"] = f"rotate({_figure(-shape.angle)} {x} {y})"
    element = ET.Element("text", attributes)
    _fill_words(element, glyphs(shape.text), _points(shape.size * _FRACTION_SIZE))
    return element


def _fill_words(element: ET.Element, text: str, fraction_size: str) -> None:
    """Write words, each fraction in a span of its own, larger so that it reads."""
    end, span = 0, None
    for found in _FRACTION.finditer(text):
        _append(element, span, text[end : found.start()])
        span = ET.SubElement(element, "tspan", {"font-size": fraction_size})
        span.text = found[0]
        end = found.end()
    _append(element, span, text[end:])


def _append(element: ET.Element, span: ET.Element | None, words: str) -> None:
    if span is None:
        element.text = words
    else:
        span.tail = words


def _classes(*names: str) -> str:
    return " ".join(name for name in names if name)


def _placed(point: Point, box: Box) -> tuple[str, str]:
    return _points(point[0] - box.left), _points(box.top - point[1])


def _coordinates(points: tuple[Point, ...], box: Box) -> str:
    return " ".join(",".join(_placed(point, box)) for point in points)


def _points(inches: float) -> str:
    return _figure(inches * POINTS_PER_INCH)


def _dashes(dash_pt: tuple[float, ...]) -> str:
    return " ".join(_figure(part) for part in dash_pt)


def _figure(value: float) -> str:
    """A number with at most four decimals, never `-0`."""
    text = f"{value:.4f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def _slug(title: str) -> str:
    return "d-" + (re.sub(r"[^a-z0-9]+", "-", title.lower()).strip("-") or "rawing")
