"""Section, ledger and framing read back: every fastener and height is drawn where the plan has it."""

from __future__ import annotations

import re

import pytest
from tests.deck_jobs import demo, full, metric, two_doors

from sillwright.drawing import (
    Hatch,
    Path,
    Role,
    Scene,
    Text,
    overlapping_texts,
    plan_drawings,
    sheet,
    to_dxf,
)
from sillwright.drawing.figures import Figures
from sillwright.drawing.ledger_elevation import ledger_elevations
from sillwright.job import Job
from sillwright.plan import Plan

JOBS = {"inches": full, "millimetres": metric, "two doors": two_doors, "demo": demo}


@pytest.fixture(params=JOBS)
def planned(request: pytest.FixtureRequest) -> tuple[Job, Plan]:
    return JOBS[request.param]()


def drawings(planned: tuple[Job, Plan]) -> dict[str, Scene]:
    found = plan_drawings(*planned)
    return {
        key: scene for key, scene in found.items() if re.match("section|whole-section|ledger|framing", key)
    }


def middle(path: Path) -> tuple[float, float]:
    xs, zs = [p[0] for p in path.points], [p[1] for p in path.points]
    return (min(xs) + max(xs)) / 2, (min(zs) + max(zs)) / 2


def above(made: Plan) -> list[str]:
    assert made.heights is not None
    return [each.opening for each in made.heights.openings]


def test_there_are_two_sections_at_each_opening_a_ledger_and_a_framing_plan(
    planned: tuple[Job, Plan],
) -> None:
    keys = set(drawings(planned))
    assert len(above(planned[1])) > 1
    for name in above(planned[1]):
        assert {f"section-{name}", f"whole-section-{name}"} <= keys
    assert "framing" in keys
    assert "ledger" in keys or "ledger-part-1" in keys


def test_no_words_overlap_and_every_sheet_fits_a_page_laid_flat(planned: tuple[Job, Plan]) -> None:
    for key, scene in drawings(planned).items():
        assert overlapping_texts(scene) == (), key
        assert sheet(scene).width <= 9.5, key


def test_every_fastener_is_drawn_where_the_plan_has_it_with_its_running_distance(
    planned: tuple[Job, Plan],
) -> None:
    _, made = planned
    assert made.ledger is not None
    assert made.ledger.fasteners
    figures = Figures(made.units)
    drawn: dict[str, tuple[float, float]] = {}
    told: dict[str, str] = {}
    for scene in ledger_elevations(made).values():
        for mark in scene.marks:
            if isinstance(mark, Path) and re.fullmatch(r"ledger\.\d+", mark.ref):
                drawn[mark.ref] = middle(mark)
            if isinstance(mark, Text) and re.fullmatch(r"ledger\.\d+", mark.ref):
                told[mark.ref] = mark.text
    for each in made.ledger.fasteners:
        assert drawn[each.id] == pytest.approx((each.from_left, each.z))
        assert told[each.id] == figures.place(each.from_left)


def test_a_close_section_has_every_height_near_its_sill_and_a_whole_one_has_all_of_its_opening(
    planned: tuple[Job, Plan],
) -> None:
    _, made = planned
    assert made.heights is not None
    scenes = drawings(planned)
    for each in made.heights.openings:
        name = each.opening
        known = {level.id for level in made.heights.along(name) if level.z is not None}
        near = {mark.ref for mark in scenes[f"section-{name}"].marks if isinstance(mark, Text)}
        far = {mark.ref for mark in scenes[f"whole-section-{name}"].marks if isinstance(mark, Text)}
        assert {"height.ledger-top", "height.walking-surface", f"height.unit-bottom.{name}"} <= near
        assert (f"height.threshold.{name}" in near) == each.door
        assert known <= far
        assert not {ref for ref in far if ref.startswith("height.")} - known


def test_new_lumber_of_the_section_is_hatched_and_the_band_joist_is_not() -> None:
    _, made = full()
    scene = drawings(full())["whole-section-A"]
    hatched = {mark.ref for mark in scene.marks if isinstance(mark, Hatch)}
    assert {"height.step.ledger", "height.step.decking", "height.step.post"} <= hatched
    assert "height.step.band-joist" not in hatched
    assert made.heights is not None


def test_the_framing_plan_has_every_joist_at_its_place(planned: tuple[Job, Plan]) -> None:
    _, made = planned
    assert made.frame is not None
    scene = drawings(planned)["framing"]
    boxes = [middle(m)[0] for m in scene.marks if isinstance(m, Path) and m.closed and m.role is Role.NEW]
    for x in made.frame.joists:
        assert any(abs(x - at) < 1e-6 for at in boxes)


def test_the_story_pole_has_the_heights_to_set_out(planned: tuple[Job, Plan]) -> None:
    scene = plan_drawings(*planned)["story-pole"]
    words = " ".join(mark.text for mark in scene.marks if isinstance(mark, Text))
    for name in ("walking surface", "ledger top", "threshold"):
        assert name in words


def test_the_story_pole_has_the_threshold_of_every_door_by_name() -> None:
    scene = plan_drawings(*two_doors())["story-pole"]
    words = [mark.text for mark in scene.marks if isinstance(mark, Text)]
    assert {"threshold A", "threshold B"} <= set(words)
    assert words.count("walking surface") == 1


def test_equal_thresholds_are_told_together_on_the_story_pole() -> None:
    words = [m.text for m in plan_drawings(*metric())["story-pole"].marks if isinstance(m, Text)]
    assert sum("threshold" in text for text in words) == 1


def test_each_section_shows_its_own_step_down() -> None:
    scenes = drawings(two_doors())
    for name, step in (("A", "2 1/2"), ("B", "3")):
        told = [m.text for m in scenes[f"section-{name}"].marks if isinstance(m, Text)]
        assert f"step {step}" in told
        assert f"at the sill of {name}" in scenes[f"section-{name}"].title


def test_ledger_and_sections_go_to_dxf() -> None:
    scenes = drawings(two_doors())
    for key in ("section-A", "section-B", "whole-section-B", "ledger-part-1"):
        text = to_dxf(scenes[key]).upper()
        assert "CRAYON" in text
    assert "THRESHOLD 2 1/8" in to_dxf(scenes["section-B"]).upper()
