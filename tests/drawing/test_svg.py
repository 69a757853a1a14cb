"""The SVG is the scene: geometry read back, true to scale, the same every time."""

from __future__ import annotations

import json
import math
import re
from pathlib import Path as FilePath
from xml.etree import ElementTree as ET

import font_source_sans_pro
import pytest
import typst
from pypdf import PdfReader
from tests.drawing.sample import sample_scene

from sillwright.drawing import (
    Band,
    Dim,
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
    record,
    to_svg,
)
from sillwright.drawing import svg as svg_module
from sillwright.drawing.marks import Drawn
from sillwright.drawing.page import Box
from sillwright.drawing.scene import AnyItem
from sillwright.drawing.shapes import Disc, Stroke, Word
from sillwright.errors import OutputError

SVG = "{http://www.w3.org/2000/svg}"
FONTS = FilePath(font_source_sans_pro.__file__).parent / "files"


def read(scene: Scene) -> ET.Element:
    return ET.fromstring(to_svg(scene))  # noqa: S314  our own document


def scene_of(*marks: AnyItem) -> Scene:
    return Scene(marks, title="Test", alt="A test.", scale_x=1 / 8, scale_y=1 / 2)


def job_points(root: ET.Element, element: ET.Element) -> list[Point]:
    """Points of an element in job inches, by the origin and scale that the root carries."""
    x0, y0, sx, sz = (float(root.attrib[f"data-{name}"]) for name in ("x0", "y0", "sx", "sz"))
    pairs = [pair.split(",") for pair in element.attrib["points"].split()]
    return [((float(x) - x0) / sx, (y0 - float(y)) / sz) for x, y in pairs]


def groups(root: ET.Element) -> list[ET.Element]:
    return root.findall(f"{SVG}g")


def test_geometry_read_back_is_the_scene() -> None:
    scene = sample_scene()
    root = read(scene)
    compared = 0
    for group, mark in zip(groups(root), scene.marks, strict=True):
        if isinstance(mark, (Path, Band, Hatch)) and not any(mark.nudge):
            line = group.findall(f"{SVG}*")[-1]
            # four decimals of a point at 1:8
            assert job_points(root, line) == pytest.approx([pytest.approx(p, abs=2e-4) for p in mark.points])
            compared += 1
    assert compared == 23


def test_a_nudged_path_is_read_back_shifted_on_paper() -> None:
    root = read(scene_of(Path(((0, 0), (8, 2)), nudge=(0.25, 0.5))))
    line = root.find(f".//{SVG}polyline")
    assert line is not None
    shifted = [point for pair in job_points(root, line) for point in pair]
    assert shifted == pytest.approx([2, 1, 10, 3], abs=1e-4)


def test_every_shape_of_the_recording_is_in_the_file() -> None:
    scene = sample_scene()
    tags = {Stroke: ("polyline", "polygon"), Disc: ("circle",), Word: ("text",)}
    for group, drawn in zip(groups(read(scene)), record(scene), strict=True):
        found = [element.tag.removeprefix(SVG) for element in group]
        for kind, names in tags.items():
            wanted = sum(isinstance(shape, kind) for shape in drawn.shapes)
            hatched = len(group.findall(f"{SVG}polygon[@fill]"))
            assert sum(tag in names for tag in found) - (hatched if kind is Stroke else 0) == wanted


def test_each_mark_has_its_role_its_id_and_what_a_tap_opens() -> None:
    scene = sample_scene()
    found = groups(read(scene))
    assert [group.attrib["class"].split()[0] for group in found] == [mark.role.value for mark in scene.marks]
    assert [group.attrib.get("data-ref", "") for group in found] == [mark.ref for mark in scene.marks]
    ids = [element.attrib["id"] for element in read(scene).iter() if "id" in element.attrib]
    assert len(set(ids)) == len(ids)


def test_hatches_are_patterns_that_exist() -> None:
    marks = [Hatch(((0, 0), (9, 0), (9, 9)), pattern) for pattern in Pattern]
    root = read(scene_of(*marks))
    defined = {element.attrib["id"] for element in root.iter(f"{SVG}pattern")}
    used = {e.attrib["fill"][5:-1] for e in root.iter(f"{SVG}polygon") if "url" in e.attrib.get("fill", "")}
    assert used == defined
    angles = {e.attrib["patternTransform"].split(")")[0] for e in root.iter(f"{SVG}pattern")}
    assert angles == {"rotate(-45", "rotate(-135", "rotate(0", "rotate(-90"}


def test_two_drawings_on_one_page_share_no_id() -> None:
    def ids(title: str) -> set[str]:
        marks = (Hatch(((0, 0), (9, 0), (9, 9)), Pattern.WOOD),)
        root = read(Scene(marks, title=title, alt="A pad."))
        return {element.attrib["id"] for element in root.iter() if "id" in element.attrib}

    assert not ids("Sill D1") & ids("Sill D2")


def test_title_and_words_for_those_who_cannot_see_it_come_first() -> None:
    root = read(sample_scene())
    assert [child.tag for child in root][:2] == [f"{SVG}title", f"{SVG}desc"]
    assert root[0].text == "Sample sill"
    assert root[1].text == "A sill that rises to the right, with pads under a level line."


@pytest.mark.parametrize(
    ("text", "shown"),
    [
        ("36 5/16", "36 ⁵⁄₁₆"),
        ("Pad 3/16 at 41 1/2, planed", "Pad ³⁄₁₆ at 41 ¹⁄₂, planed"),
        ("2026-05-04", "2026-05-04"),
        ("12/4/2026", "12/4/2026"),
        ("1:20", "1:20"),
        ("a < b & c", "a < b & c"),
    ],
)
def test_words_are_real_text_with_small_fractions(text: str, shown: str) -> None:
    element = read(scene_of(Text((0, 0), text))).find(f".//{SVG}text")
    assert element is not None
    assert "".join(element.itertext()) == shown


def test_all_drawn_lies_inside_the_view_with_its_line_weight() -> None:
    root = read(sample_scene())
    _, _, wide, high = (float(part) for part in root.attrib["viewBox"].split())
    for line in root.iter():
        if line.tag in {f"{SVG}polyline", f"{SVG}polygon"}:
            half = float(line.attrib.get("stroke-width", 0)) / 2
            for pair in line.attrib["points"].split():
                x, y = map(float, pair.split(","))
                assert half <= x <= wide - half
                assert half <= y <= high - half


def test_user_units_are_points() -> None:
    root = read(sample_scene())
    _, _, wide, high = (float(part) for part in root.attrib["viewBox"].split())
    assert wide == pytest.approx(float(root.attrib["width"].removesuffix("in")) * 72, abs=1e-4)
    assert high == pytest.approx(float(root.attrib["height"].removesuffix("in")) * 72, abs=1e-4)


def test_the_ruler_measures_four_inches_in_user_units() -> None:
    root = read(scene_of(inch_ruler((3, 1))))
    line = next(root.iter(f"{SVG}polyline"))
    (x1, y1), (x2, y2) = (map(float, pair.split(",")) for pair in line.attrib["points"].split())
    assert math.hypot(x2 - x1, y2 - y1) == pytest.approx(4 * 72, abs=1e-3)


def test_the_same_scene_gives_the_same_bytes() -> None:
    assert to_svg(sample_scene()) == to_svg(sample_scene())


def test_no_number_is_written_as_minus_zero_or_with_an_exponent() -> None:
    words = [
        re.split("[ ,()]", value)
        for element in read(sample_scene()).iter()
        for name, value in element.attrib.items()
        if name not in {"id", "class", "fill", "data-ref"}
    ]
    figures = [word for parts in words for word in parts]
    assert "0" in figures
    assert not [word for word in figures if re.fullmatch(r"-0(\.0*)?|[-\d.]+e[-+]?\d+", word)]


@pytest.mark.parametrize("kind", list(MarkKind))
@pytest.mark.parametrize("role", list(Role))
def test_every_sign_is_drawn_in_every_role(kind: MarkKind, role: Role) -> None:
    (group,) = groups(read(scene_of(Mark((0, 0), kind, text="1", role=role))))
    assert len(group) >= 1
    style = next(read(scene_of(Path(((0, 0), (1, 0)), role=role))).iter(f"{SVG}style")).text or ""
    assert f".sillwright .{role.value} .line" in style


def test_a_shape_svg_cannot_draw_is_refused() -> None:
    odd = Drawn(0, Dim((0, 0), (1, 0), 0.2, "1"), ("a smudge",))  # type: ignore[arg-type]
    with pytest.raises(OutputError, match="SVG has no way to draw a str"):
        svg_module._group(odd, Box(0, 0, 1, 1), "d")


# --- in a page ----------------------------------------------------------------------------------------------


def typeset(svg: str) -> bytes:
    source = "#set page(width: auto, height: auto, margin: 0in)\n#image(bytes(json(bytes(sys.inputs.d)).svg))"
    compiler = typst.Compiler(  # type: ignore[misc]  # its stub leaves the type of bytes open
        source.encode(),
        font_paths=[FONTS],
        ignore_system_fonts=True,
        sys_inputs={"d": json.dumps({"svg": svg})},
    )
    pdf = compiler.compile(timestamp=0)
    assert isinstance(pdf, bytes)
    return pdf


def test_a_typeset_page_is_as_wide_as_the_drawing_and_its_ruler_four_inches(tmp_path: FilePath) -> None:
    scene = scene_of(Path(((0, 0), (40, 0))), inch_ruler((0, -2)))
    (tmp_path / "page.pdf").write_bytes(typeset(to_svg(scene)))
    page = PdfReader(tmp_path / "page.pdf").pages[0]
    assert float(page.mediabox.width) == pytest.approx(
        float(read(scene).attrib["width"].removesuffix("in")) * 72, abs=0.01
    )
    assert any(abs(length - 4 * 72) < 0.01 for length in pdf_line_lengths(page))


def pdf_line_lengths(page: object) -> list[float]:
    """Lengths of the straight lines that a PDF page draws, in points of the paper."""
    lengths: list[float] = []
    last = [0.0, 0.0]

    def see(operator: bytes, operands: list[object], matrix: list[float], _text: list[float]) -> None:
        if operator not in {b"m", b"l"}:
            return
        x, y = (float(str(operand)) for operand in operands)
        a, b, c, d, e, f = matrix
        point = [a * x + c * y + e, b * x + d * y + f]
        if operator == b"l":
            lengths.append(math.dist(last, point))
        last[:] = point

    page.extract_text(visitor_operand_before=see)  # type: ignore[attr-defined]
    return lengths


def test_rulers_are_numbered() -> None:
    ruler = inch_ruler((0, 0))
    assert isinstance(ruler, Ruler)
    texts = ["".join(element.itertext()) for element in read(scene_of(ruler)).iter(f"{SVG}text")]
    assert texts == ["0", "1", "2", "3", "4", "this line is 4 in; if not, your printer scaled it"]
