"""The DXF is the scene at true size: read back by the library that other tools trust."""

from __future__ import annotations

import io
import math
from typing import Any

import ezdxf
import pytest
from ezdxf import options
from ezdxf.document import Drawing
from tests.drawing.sample import sample_scene

from sillwright.drawing import (
    Dim,
    Fill,
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
    to_dxf,
)
from sillwright.drawing import dxf as dxf_module
from sillwright.drawing.ink import PATTERNS
from sillwright.drawing.scene import AnyItem
from sillwright.errors import OutputError

SCALE = 1 / 8
STRETCH = 12


def scene_of(*marks: AnyItem, stretch: float = 1) -> Scene:
    return Scene(marks, title="Test", alt="A test.", scale_x=SCALE, scale_y=SCALE * stretch)


def read(scene: Scene) -> Drawing:
    return ezdxf.read(io.StringIO(to_dxf(scene)))


def found(document: Drawing, query: str) -> list[Any]:
    return list(document.modelspace().query(query))


def test_the_audit_finds_nothing_to_complain_of() -> None:
    audit = read(sample_scene()).audit()
    assert audit.errors == []
    assert audit.fixes == []


def test_the_same_scene_gives_the_same_bytes_and_leaves_the_option_alone() -> None:
    before = options.write_fixed_meta_data_for_testing
    assert to_dxf(sample_scene()) == to_dxf(sample_scene())
    assert options.write_fixed_meta_data_for_testing == before


def test_units_are_inches_shown_as_a_tape_shows_them() -> None:
    document = read(sample_scene())
    assert document.units == ezdxf.units.IN
    assert document.header["$MEASUREMENT"] == 0
    assert document.header["$LUNITS"] == 4


def test_a_path_is_read_back_in_job_inches() -> None:
    points = ((0.0, 0.0), (36.3125, 0.1875), (60.0, 80.5))
    (line,) = found(read(scene_of(Path(points))), "LWPOLYLINE")
    assert [tuple(p) for p in line.get_points("xy")] == pytest.approx([pytest.approx(p) for p in points])
    assert not line.closed


def test_stretched_heights_are_drawn_stretched_and_say_so() -> None:
    document = read(scene_of(Path(((0, 0), (48, 0.25))), stretch=STRETCH))
    (line,) = found(document, "LWPOLYLINE")
    ends = [tuple(point) for point in line.get_points("xy")]
    assert ends == [pytest.approx((0, 0)), pytest.approx((48, 0.25 * STRETCH))]
    (note,) = found(document, "TEXT")
    assert note.dxf.text == (
        "Drawn in inches. Type is sized for 1 1/2 in = 1 ft, heights stretched 12 times."
    )


def test_every_path_and_outline_of_the_sample_is_read_back() -> None:
    scene = sample_scene()
    lines = [[tuple(point) for point in line.get_points("xy")] for line in found(read(scene), "LWPOLYLINE")]
    for mark in scene.marks:
        if isinstance(mark, (Path, Hatch)) and not any(mark.nudge):
            wanted = [(x, z * STRETCH) for x, z in mark.points]
            assert any(
                len(line) == len(wanted) and max(map(math.dist, line, wanted)) < 1e-9 for line in lines
            )


def test_roles_are_layers_with_their_own_weight_or_line_type() -> None:
    document = read(sample_scene())
    layers = {role: document.layers.get(role.value.upper()) for role in Role}
    looks = {(layer.dxf.lineweight, layer.dxf.linetype) for layer in layers.values()}
    assert len(looks) == len(Role)
    used = {entity.dxf.layer for entity in document.modelspace()}
    assert used == {role.value.upper() for role in Role}


def test_a_dimension_carries_its_text_and_measures_the_true_length() -> None:
    dim = Dim((0, 0), (36.3125, 0), 0.3, '36 5/16"')
    document = read(scene_of(dim))
    (dimension,) = found(document, "DIMENSION")
    assert dimension.dxf.text == '36 5/16"'
    assert dimension.get_measurement() == pytest.approx(36.3125)
    assert dimension.dxf.defpoint.y == pytest.approx(0.3 / SCALE)
    shown = [entity.plain_text() for entity in dimension.get_geometry_block().query("MTEXT")]
    assert shown == ['36 5/16"']


def test_the_dimension_style_has_architectural_ticks_and_no_factor() -> None:
    style = read(scene_of(Dim((0, 0), (8, 0), 0.3, "8"))).dimstyles.get("SILLWRIGHT")
    assert style.dxf.dimlfac == 1
    assert style.dxf.dimblk.upper() == "_ARCHTICK"


def test_text_that_does_not_fit_its_dimension_stands_beyond_it() -> None:
    (dimension,) = found(read(scene_of(Dim((0, 0), (0.75, 0), 0.3, "3/4"))), "DIMENSION")
    (text,) = dimension.get_geometry_block().query("MTEXT")
    assert text.dxf.insert.x > 0.75


@pytest.mark.parametrize("pattern", list(Pattern))
def test_hatches_have_our_own_lines_at_paper_spacing(pattern: Pattern) -> None:
    (hatch,) = found(read(scene_of(Hatch(((0, 0), (9, 0), (9, 9)), pattern))), "HATCH")
    corners = [tuple(vertex)[:2] for vertex in hatch.paths.paths[0].vertices]
    assert corners == [(0, 0), (9, 0), (9, 9)]
    lines = hatch.pattern.lines
    assert [line.angle for line in lines] == [family.angle_deg for family in PATTERNS[pattern]]
    assert [math.hypot(line.offset.x, line.offset.y) * SCALE for line in lines] == pytest.approx(
        [family.spacing for family in PATTERNS[pattern]]
    )


def test_an_area_without_a_line_hides_what_was_drawn_before_it() -> None:
    area = Path(((0, 0), (9, 0), (9, 9)), closed=True, fill=Fill.SHADE, weight=0)
    document = read(scene_of(Path(((0, 1), (9, 1))), area))
    kinds = [entity.dxftype() for entity in document.modelspace()]
    assert kinds[:3] == ["LWPOLYLINE", "WIPEOUT", "HATCH"]
    assert kinds.count("LWPOLYLINE") == 1


def test_an_area_seen_edge_on_is_a_line_and_covers_nothing() -> None:
    edge = Path(((1, 0), (1, 2), (1, 5)), closed=True, fill=Fill.PAPER, role=Role.NEW)
    space = read(Scene((edge,), title="edge", alt="an edge", scale_x=1.0, scale_y=1.0)).modelspace()
    assert not space.query("WIPEOUT")
    assert len(space.query("LWPOLYLINE")) == 1


def test_what_a_tap_opens_goes_with_the_entities() -> None:
    scene = scene_of(Path(((0, 0), (9, 0)), ref="reading-3"), Dim((0, 0), (9, 0), 0.3, "9", ref="d-1"))
    document = read(scene)
    (line,), (dimension,) = found(document, "LWPOLYLINE"), found(document, "DIMENSION")
    assert line.get_xdata("SILLWRIGHT")[0].value == "reading-3"
    assert dimension.get_xdata("SILLWRIGHT")[0].value == "d-1"


def test_the_ruler_is_four_inches_on_paper_at_the_scene_scale() -> None:
    line = found(read(scene_of(inch_ruler((5, 1)))), "LWPOLYLINE")[0]
    (x1, _), (x2, _) = line.get_points("xy")
    assert (x2 - x1) * SCALE == pytest.approx(4)


def test_words_keep_the_plain_fractions_that_other_tools_can_show() -> None:
    text, _note = found(read(scene_of(Text((2, 3), "Pad 3/16 at 41 1/2"))), "TEXT")
    assert text.dxf.text == "Pad 3/16 at 41 1/2"
    assert tuple(text.dxf.insert)[:2] == (2, 3)


@pytest.mark.parametrize("kind", list(MarkKind))
@pytest.mark.parametrize("role", list(Role))
def test_every_sign_is_drawn_in_every_role(kind: MarkKind, role: Role) -> None:
    scene = scene_of(Mark((0, 0), kind, text="1", role=role))
    entities = [e for e in found(read(scene), "LWPOLYLINE CIRCLE TEXT") if e.dxf.layer == role.value.upper()]
    note = 1 if role is Role.NOTE else 0
    assert len(entities) == len(record(scene)[0].shapes) + note


def test_a_shape_dxf_cannot_draw_is_refused() -> None:
    document = ezdxf.new()
    pen = dxf_module._Pen(document.modelspace(), scene_of(Path(((0, 0), (1, 0)))))
    with pytest.raises(OutputError, match="'Test': DXF has no way to draw a str"):
        pen._entities("a smudge", Role.NOTE)  # type: ignore[arg-type]
