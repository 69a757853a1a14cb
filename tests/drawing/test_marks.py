"""The recording says what is drawn where: the list backend of all drawing tests."""

from __future__ import annotations

import math
from dataclasses import dataclass
from pathlib import Path as FilePath

import font_source_sans_pro
import pytest
from fontTools.ttLib import TTFont  # type: ignore[import-untyped]
from tests.drawing.sample import sample_scene

from sillwright.drawing import (
    Along,
    Anchor,
    Dim,
    Hatch,
    Mark,
    MarkKind,
    Path,
    Pattern,
    Role,
    Scene,
    Text,
    inch_ruler,
    record,
)
from sillwright.drawing.ink import INKS, PAPER
from sillwright.drawing.page import box_of
from sillwright.drawing.scene import AnyItem, Item
from sillwright.drawing.shapes import (
    CAP_HEIGHT_EM,
    Area,
    Disc,
    Shape,
    Stroke,
    Word,
    corners,
    text_width,
    word_corners,
)
from sillwright.drawing.signs import SIGNS
from sillwright.errors import OutputError
from sillwright.lengths import glyphs

FONTS = FilePath(font_source_sans_pro.__file__).parent / "files"


def scene_of(*marks: AnyItem, scale_x: float = 0.5, scale_y: float = 0.5) -> Scene:
    return Scene(marks, title="Test", alt="A test.", scale_x=scale_x, scale_y=scale_y)


def shapes_of(mark: AnyItem, *, scale_x: float = 0.5, scale_y: float = 0.5) -> tuple[Shape, ...]:
    return record(scene_of(mark, scale_x=scale_x, scale_y=scale_y))[0].shapes


def word_of(mark: AnyItem) -> Word:
    return next(shape for shape in shapes_of(mark) if isinstance(shape, Word))


def strokes_of(mark: AnyItem) -> list[Stroke]:
    return [shape for shape in shapes_of(mark) if isinstance(shape, Stroke)]


def test_a_path_lies_at_its_points_times_the_scale() -> None:
    (stroke,) = shapes_of(Path(((0, 1), (10, -4))), scale_x=0.25, scale_y=2)
    assert isinstance(stroke, Stroke)
    assert stroke.points == ((0, 2), (2.5, -8))


def test_a_nudge_is_on_paper_whatever_the_scale() -> None:
    (stroke,) = shapes_of(Path(((0, 0), (10, 0)), nudge=(0.1, -0.2)), scale_x=0.25, scale_y=8)
    assert isinstance(stroke, Stroke)
    assert stroke.points == ((0.1, -0.2), (2.6, -0.2))


def test_a_hatch_fills_the_outline_it_draws() -> None:
    area, outline = shapes_of(Hatch(((0, 0), (4, 0), (4, 2)), Pattern.METAL))
    assert isinstance(area, Area)
    assert isinstance(outline, Stroke)
    assert area.pattern is Pattern.METAL
    assert outline.closed
    assert area.points == outline.points == ((0, 0), (2, 0), (2, 1))


def test_every_mark_of_the_sample_is_recorded_in_its_order() -> None:
    scene = sample_scene()
    assert tuple(drawn.item for drawn in record(scene)) == scene.marks
    assert all(drawn.shapes for drawn in record(scene))


def test_the_sample_shows_every_kind_of_mark() -> None:
    marks = sample_scene().marks
    assert {type(mark) for mark in marks} == set(AnyItem.__args__)
    assert {mark.kind for mark in marks if isinstance(mark, Mark)} == set(MarkKind)
    assert {mark.pattern for mark in marks if isinstance(mark, Hatch)} == set(Pattern)
    assert {mark.role for mark in marks} == set(Role)


def test_a_mark_nobody_can_draw_is_refused() -> None:
    @dataclass(frozen=True, slots=True)
    class Sketch(Item):
        pass

    scene = Scene((Sketch(),), title="Odd", alt="Odd.")  # type: ignore[arg-type]
    with pytest.raises(OutputError, match="'Odd': nobody knows how to draw a Sketch"):
        record(scene)


# --- signs --------------------------------------------------------------------------------------------------


def test_every_kind_of_sign_can_be_drawn() -> None:
    assert set(SIGNS) == set(MarkKind)


@pytest.mark.parametrize("kind", list(MarkKind))
def test_a_sign_grows_with_its_size_and_not_with_the_scale(kind: MarkKind) -> None:
    def reach(size: float, scale: float) -> tuple[float, float]:
        shapes = shapes_of(Mark((0, 0), kind, text="7", size=size), scale_x=scale, scale_y=scale)
        outline = [point for shape in shapes if isinstance(shape, Stroke) for point in shape.points]
        outline += [(shape.radius, shape.radius) for shape in shapes if isinstance(shape, Disc)]
        box = box_of([(0.0, 0.0), *outline])
        return box.width, box.height

    assert reach(0.4, 1.0) == pytest.approx([2 * side for side in reach(0.2, 3.0)])


@pytest.mark.parametrize("kind", [MarkKind.STATION, MarkKind.LEVEL, MarkKind.ARROW])
def test_the_tip_of_a_pointing_sign_is_the_place_it_marks(kind: MarkKind) -> None:
    for angle in (0.0, 37.0):
        strokes = strokes_of(Mark((3, 5), kind, angle=angle))
        assert any(math.dist(point, (1.5, 2.5)) < 1e-12 for stroke in strokes for point in stroke.points)


def test_an_arrow_points_along_its_angle() -> None:
    (head,) = strokes_of(Mark((0, 0), MarkKind.ARROW, angle=90, size=0.2))
    tail = [point for point in head.points if point != (0, 0)]
    assert all(y < 0 for _, y in tail)


def test_a_crow_foot_stands_on_its_place() -> None:
    (foot,) = strokes_of(Mark((0, 0), MarkKind.STATION))
    assert not foot.closed
    assert min(y for _, y in foot.points) == 0


def test_stamps_differ_in_shape_and_not_only_in_word() -> None:
    kinds = (MarkKind.STOP, MarkKind.FIX, MarkKind.WATCH)
    frames = {kind: strokes_of(Mark((0, 0), kind, role=Role.STAMP))[0] for kind in kinds}
    assert {kind: len(frame.points) for kind, frame in frames.items()} == {
        MarkKind.STOP: 8,
        MarkKind.FIX: 4,
        MarkKind.WATCH: 5,
    }
    assert [word_of(Mark((0, 0), kind)).text for kind in kinds] == ["STOP", "FIX", "WATCH"]


@pytest.mark.parametrize("kind", [MarkKind.STOP, MarkKind.FIX, MarkKind.WATCH])
@pytest.mark.parametrize("text", ["", "1", "12"])
def test_a_stamp_frames_its_word(kind: MarkKind, text: str) -> None:
    mark = Mark((0, 0), kind, text=text)
    frame = box_of(strokes_of(mark)[0].points)
    assert frame.holds(box_of(word_corners(word_of(mark))))


@pytest.mark.parametrize("text", ["1", "12", "128"])
def test_a_balloon_holds_its_number(text: str) -> None:
    disc, word = shapes_of(Mark((0, 0), MarkKind.BALLOON, text=text, role=Role.CRAYON))
    assert isinstance(disc, Disc)
    assert isinstance(word, Word)
    high = CAP_HEIGHT_EM * word.size / 2
    assert math.hypot(text_width(text, word.size) / 2, high) < disc.radius


# --- dimensions ---------------------------------------------------------------------------------------------


def dim_feet(dim: Dim) -> list[tuple[float, float]]:
    """The middles of a dimension's two ticks, where it says it measures, rounded to kill last digits."""
    ticks = [stroke for stroke in strokes_of(dim) if stroke.weight_pt > 1]
    ends = [tick.points for tick in ticks]
    return [(round((a[0] + b[0]) / 2, 9), round((a[1] + b[1]) / 2, 9)) for a, b in ends]


def test_a_dimension_stands_its_offset_to_the_left_of_its_walk() -> None:
    assert dim_feet(Dim((0, 0), (8, 0), 0.3, "8")) == [(0, 0.3), (4, 0.3)]
    assert dim_feet(Dim((8, 0), (0, 0), 0.3, "8")) == [(4, -0.3), (0, -0.3)]
    assert dim_feet(Dim((0, 0), (0, 8), 0.3, "8")) == [(-0.3, 0), (-0.3, 4)]
    assert dim_feet(Dim((0, 0), (0, 8), -0.3, "8")) == [(0.3, 0), (0.3, 4)]


def test_a_dimension_along_the_wall_clears_the_farther_of_its_points() -> None:
    assert dim_feet(Dim((0, 0), (8, 2), 0.3, "8", along=Along.X)) == [(0, 1.3), (4, 1.3)]
    assert dim_feet(Dim((0, 0), (8, 2), -0.3, "8", along=Along.X)) == [(0, -0.3), (4, -0.3)]
    assert dim_feet(Dim((0, 0), (8, 2), 0.3, "2", along=Along.Z)) == [(-0.3, 0), (-0.3, 1)]


def test_a_slanted_dimension_is_as_long_as_its_line() -> None:
    one, two = dim_feet(Dim((0, 0), (6, 8), 0.3, "10"))
    assert math.dist(one, two) == pytest.approx(5)
    assert math.dist(one, (0, 0)) == pytest.approx(0.3)


@pytest.mark.parametrize("end", [(8, 0), (-8, 0), (0, 8), (0, -8), (5, 5), (-5, 5), (-5, -5), (5, -5)])
def test_a_dimension_reads_from_the_bottom_or_the_right_of_the_sheet(end: tuple[float, float]) -> None:
    word = word_of(Dim((0, 0), end, 0.3, "8"))
    assert -90 < word.angle <= 90


def test_text_that_does_not_fit_between_the_ticks_stands_beyond_the_end() -> None:
    wide = word_of(Dim((0, 0), (8, 0), 0.3, "8"))
    assert (wide.at[0], wide.anchor) == (2, Anchor.S)
    assert wide.at[1] > 0.3
    narrow = word_of(Dim((0, 0), (0.5, 0), 0.3, "1/2"))
    assert narrow.anchor is Anchor.W
    assert narrow.at[0] > 0.25
    assert word_of(Dim((0.5, 0), (0, 0), 0.3, "1/2")).anchor is Anchor.E


def test_the_ruler_measures_its_length_on_paper_at_any_scale() -> None:
    line = shapes_of(inch_ruler((100, 3)), scale_x=1 / 48, scale_y=1 / 4)[0]
    assert isinstance(line, Stroke)
    assert math.dist(line.points[0], line.points[1]) == pytest.approx(4, abs=1e-12)


def test_a_ruler_has_a_tick_for_every_eighth() -> None:
    ticks = strokes_of(inch_ruler((0, 0)))[1:]
    assert [tick.points[0][0] for tick in ticks] == [step / 8 for step in range(33)]


# --- looks --------------------------------------------------------------------------------------------------


def test_roles_differ_in_weight_or_dashes_for_a_black_and_white_print() -> None:
    looks = [(ink.weight_pt, ink.dash_pt) for ink in INKS.values()]
    assert set(INKS) == set(Role)
    assert len(set(looks)) == len(Role)


def luminance(colour: str) -> float:
    """Relative luminance.

    Source: WCAG 2.1, definition of relative luminance (from memory; formula with threshold 0.03928).
    """
    parts = [int(colour[at : at + 2], 16) / 255 for at in (1, 3, 5)]
    red, green, blue = (p / 12.92 if p <= 0.03928 else ((p + 0.055) / 1.055) ** 2.4 for p in parts)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


@pytest.mark.parametrize("role", list(Role))
def test_type_keeps_seven_to_one_on_paper(role: Role) -> None:
    """Source: WCAG 2.1, success criterion 1.4.6, contrast (enhanced) 7:1 (from memory)."""
    contrast = (luminance(PAPER) + 0.05) / (luminance(INKS[role].type) + 0.05)
    assert contrast >= 7


def font_width(text: str, *, bold: bool) -> float:
    font = TTFont(FONTS / f"SourceSansPro-{'Semibold' if bold else 'Regular'}.ttf")
    advances, glyph_names = font["hmtx"], font.getBestCmap()
    return float(sum(advances[glyph_names[ord(sign)]][0] for sign in text) / font["head"].unitsPerEm)


@pytest.mark.parametrize("bold", [False, True])
@pytest.mark.parametrize(
    "text",
    [
        "36 5/16",
        "level line",
        "STOP 1",
        "WATCH",
        "Pad 3/16 at 41 1/2",
        "±1/32",
        "line is 100 mm",
        "MW mw",
    ],
)
def test_estimated_widths_are_never_less_than_the_font_says(text: str, bold: bool) -> None:
    """Source: advance widths of the Source Sans Pro files that the pages use, read by fontTools."""
    fractions_enlarged = 1.2 if glyphs(text) != text else 1.0
    actual = font_width(glyphs(text), bold=bold) * fractions_enlarged
    assert actual <= text_width(text, 1.0) <= 1.9 * actual


def test_capital_height_is_that_of_the_font() -> None:
    """Source: OS/2 table of the Source Sans Pro file."""
    font = TTFont(FONTS / "SourceSansPro-Regular.ttf")
    assert font["OS/2"].sCapHeight / font["head"].unitsPerEm == CAP_HEIGHT_EM


@pytest.mark.parametrize("anchor", list(Anchor))
def test_an_anchor_names_the_part_of_the_box_on_the_point(anchor: Anchor) -> None:
    box = box_of(word_corners(word_of(Text((0, 0), "sill", anchor=anchor, size=0.2))))
    assert ("w" in anchor) == (box.left == pytest.approx(0))
    assert ("e" in anchor) == (box.right == pytest.approx(0))
    assert ("n" in anchor) == (box.top == pytest.approx(0))


def test_extents_take_in_the_weight_of_a_line() -> None:
    (stroke,) = shapes_of(Path(((0, 0), (10, 0)), role=Role.CRAYON))
    assert box_of(corners(stroke)).top >= INKS[Role.CRAYON].weight_pt / 2 / 72
