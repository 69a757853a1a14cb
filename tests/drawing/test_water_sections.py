"""Sections read back: layers in their order, lengths true along the faces, laps, the way of water."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise

import numpy as np
import pytest
from tests.drawing.dressed_walls import SCHEMES, dressed_wall

from sillwright.drawing import (
    Hatch,
    Mark,
    MarkKind,
    Path,
    Pattern,
    Role,
    Scene,
    Text,
    overlapping_texts,
    sheet,
)
from sillwright.drawing.water import Paper, SectionPicture, acts, section_pictures
from sillwright.drawing.water.section_scene import GAP
from sillwright.flashing import WrapWhen
from sillwright.water import WALL, Dressing, Kind


@pytest.fixture(scope="module")
def usual() -> dict[str, Scene]:
    return {each.key: each.scene for each in section_pictures(dressed_wall())}


@pytest.fixture(scope="module", params=SCHEMES)
def sections(request: pytest.FixtureRequest) -> list[SectionPicture]:
    return list(section_pictures(SCHEMES[request.param]))


def layers(scene: Scene) -> dict[str, list[np.ndarray]]:
    """The lines of each piece, in job inches."""
    found: dict[str, list[np.ndarray]] = {}
    for mark in scene.marks:
        if isinstance(mark, Path) and mark.role is Role.NEW and not mark.closed and mark.ref:
            found.setdefault(mark.ref.removeprefix("piece."), []).append(np.array(mark.points))
    return found


def crossing(lines: list[np.ndarray], z: float) -> float | None:
    """How far out a layer is drawn at a height: the x of an upright run there."""
    for line in lines:
        for a, b in pairwise(line):
            upright = abs(a[0] - b[0]) < 1e-6 and abs(a[1] - b[1]) > 0.3
            if upright and min(a[1], b[1]) < z < max(a[1], b[1]):
                return float(a[0])
    return None


def stacked(dressing: Dressing, x: float, z: float) -> list[str]:
    """The pieces on the wall at a place from the wood outward, by their panels alone."""
    found = [
        (panel.laid or each.laid, each.name)
        for each in dressing.sheets
        for panel in each.panels
        if panel.facet == WALL
        and panel.u[0] < x < panel.u[1]
        and panel.v[0] < z < panel.v[1]
        and each.kind is not Kind.MOUNT
    ]
    return [name for _, name in sorted(found)]


# --- all sections


def test_every_opening_has_a_sill_a_head_and_a_jamb_and_a_ledger_its_own() -> None:
    keys = [(each.opening, each.key) for each in section_pictures(dressed_wall(openings=2))]
    each = ["sill", "head", "left-jamb"]
    assert keys == [*(("A", key) for key in each), *(("B", key) for key in each), (None, "ledger")]
    assert "ledger" not in {each.key for each in section_pictures(SCHEMES["lined"])}


def test_sections_fit_their_paper_and_no_words_overlap(sections: list[SectionPicture]) -> None:
    for each in sections:
        assert overlapping_texts(each.scene) == (), each.title
        assert sheet(each.scene).width <= 3.5
        assert sheet(each.scene).height <= 4.2


def test_a_section_is_at_a_trade_scale_and_says_so(sections: list[SectionPicture]) -> None:
    for each in sections:
        words = [mark.text for mark in each.scene.marks if isinstance(mark, Text)]
        assert any(
            text.endswith("in = 1 ft, outside at the left") or "outside below" in text for text in words
        )
        assert each.scene.scale_x == each.scene.scale_y


def test_a_right_jamb_is_drawn_only_where_it_is_not_the_left_one_mirrored() -> None:
    whole = dressed_wall()
    other = replace(whole, sheets=tuple(each for each in whole.sheets if each.name != "A.strip.right"))
    assert "right-jamb" in {each.key for each in section_pictures(other)}
    assert "right-jamb" not in {each.key for each in section_pictures(whole)}


# --- layers


@pytest.mark.parametrize(
    ("key", "z"), [("sill", 29.5), ("sill", 27.5), ("head", 81.0), ("head", 83.0), ("head", 85.0)]
)
def test_layers_lie_from_the_wood_outward_in_the_order_of_work(
    usual: dict[str, Scene], key: str, z: float
) -> None:
    order = stacked(dressed_wall(), 58.0, z)
    drawn = layers(usual[key])
    out = [crossing(drawn[name], z) for name in dict.fromkeys(order)]
    assert None not in out
    assert out == sorted(out, reverse=True), (order, out)  # type: ignore[type-var]
    assert all(x is not None and x < 0 for x in out)


def test_layers_are_drawn_one_gap_apart(usual: dict[str, Scene]) -> None:
    scene = usual["sill"]
    drawn = layers(scene)
    wrap, pan = (crossing(drawn[name], 29.5) for name in ("wrap.upper", "A.pan"))
    assert wrap is not None
    assert pan is not None
    assert (wrap - pan) * scene.scale_x == pytest.approx(GAP)


def test_lengths_along_the_wall_are_true(usual: dict[str, Scene]) -> None:
    strip = layers(usual["head"])["A.strip.head"][0]
    assert strip[:, 1].max() - strip[:, 1].min() == pytest.approx(6.0)
    jamb = layers(usual["left-jamb"])["A.strip.left"][0]
    assert (jamb[:, 0].min(), jamb[:, 0].max()) == pytest.approx((34.0, 40.0))


def test_a_pan_is_one_line_up_the_dam_over_the_sill_and_down_the_wall(usual: dict[str, Scene]) -> None:
    (pan,) = layers(usual["sill"])["A.pan"]
    assert len(pan) == 4
    foot, nose, back, top = pan
    assert foot[0] == pytest.approx(nose[0])
    assert back[0] == pytest.approx(top[0])
    assert nose[0] < 0 < back[0] < 5.0
    assert foot[1] < nose[1] < back[1] < top[1]


def test_the_sheet_of_a_ledger_goes_over_its_top_and_the_backing_behind_it(usual: dict[str, Scene]) -> None:
    drawn = layers(usual["ledger"])
    (sheet_,) = drawn["ledger.sheet"]
    board = next(m for m in usual["ledger"].marks if isinstance(m, Hatch) and m.pattern is Pattern.WOOD)
    front, back = min(p[0] for p in board.points), max(p[0] for p in board.points)
    assert sheet_[:, 0].min() < front
    assert back - front == pytest.approx(1.5)
    (backing,) = drawn["ledger.backing"]
    assert backing[:, 0].min() > back


def test_a_flap_hangs_outside_the_head_strip_from_the_wrap_behind_it(usual: dict[str, Scene]) -> None:
    drawn = layers(usual["head"])["wrap.upper"]
    xs = sorted({round(float(x), 6) for line in drawn for x in line[:, 0]})
    strip = float(layers(usual["head"])["A.strip.head"][0][0][0])
    assert xs[0] < strip < xs[-1]


def test_what_is_stuck_down_has_strokes_under_it_and_wrap_has_none(usual: dict[str, Scene]) -> None:
    strokes = {m.ref for m in usual["head"].marks if isinstance(m, Path) and m.role is Role.NOTE and m.ref}
    stuck = {ref for ref in strokes if ref.startswith("piece.A.strip")}
    assert stuck == {"piece.A.strip.head"}


# --- laps


def laps(scene: Scene) -> list[str]:
    return [mark.text for mark in scene.marks if isinstance(mark, Text) and mark.text.startswith("lap")]


def test_laps_are_those_of_the_panels(usual: dict[str, Scene]) -> None:
    """Sill: pan over the ledger sheet 2 under 26 1/4 less 24 1/4; wrap over wrap, 26 1/4 less 24 1/2."""
    assert laps(usual["sill"])[:2] == ["lap 1 3/4", "lap 2"]
    assert laps(usual["head"]) == ["lap 2"]
    assert laps(usual["left-jamb"]) == ["lap 6"]


def test_a_metric_section_has_millimetres() -> None:
    scene = next(
        each.scene for each in section_pictures(dressed_wall(), Paper(units="mm")) if each.key == "head"
    )
    assert laps(scene) == ["lap 51"]
    assert any(isinstance(mark, Text) and mark.text.startswith("1:") for mark in scene.marks)


# --- water


def way(scene: Scene) -> np.ndarray:
    (line,) = [np.array(m.points) for m in scene.marks if isinstance(m, Path) and m.role is Role.WATER]
    return line


def test_a_leak_at_the_unit_runs_out_over_the_pan_and_down_past_its_foot(usual: dict[str, Scene]) -> None:
    line, (pan,) = way(usual["sill"]), layers(usual["sill"])["A.pan"]
    assert line[0][0] > 0
    assert line[0][1] > pan[1][1]
    assert line[-1][1] < pan[0][1]
    assert line[-1][0] < pan[0][0]
    drop, arrow = (
        next(m for m in usual["sill"].marks if isinstance(m, Mark) and m.kind is kind)
        for kind in (MarkKind.DROP, MarkKind.ARROW)
    )
    assert drop.at == pytest.approx(tuple(line[0]))
    assert arrow.at == pytest.approx(tuple(line[-1]))


@pytest.mark.parametrize("key", ["head", "ledger"])
def test_rain_runs_down_outside_of_everything(usual: dict[str, Scene], key: str) -> None:
    line = way(usual[key])
    assert line[0][1] > line[-1][1]
    for name, lines in layers(usual[key]).items():
        for z in (line[:, 1].min() + 0.4, line[:, 1].max() - 0.4):
            here, water = crossing(lines, z), crossing([line], z)
            if here is not None and water is not None:
                assert water < here, name


def test_without_a_sheet_on_the_sill_no_way_out_is_drawn() -> None:
    whole = dressed_wall(ledger=False, wrap=WrapWhen.AFTER)
    bare = replace(
        whole, sheets=tuple(s for s in whole.sheets if s.name != "A.pan" and s.kind is not Kind.PATCH)
    )
    scene = next(each.scene for each in section_pictures(bare) if each.key == "sill")
    assert not [m for m in scene.marks if isinstance(m, Path) and m.role is Role.WATER]


# --- names


def test_every_layer_is_named_with_its_number(usual: dict[str, Scene]) -> None:
    numbers = {act.number: act for act in acts(dressed_wall())}
    for scene in usual.values():
        named = [m for m in scene.marks if isinstance(m, Text) and m.ref and not m.text.startswith("lap")]
        assert {m.ref.removeprefix("piece.") for m in named} == set(layers(scene))
        for mark in named:
            act = numbers[int(mark.text.split()[0])]
            assert mark.ref == act.ref
