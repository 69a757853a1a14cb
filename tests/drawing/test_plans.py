"""The drawings of a plan: no words overlap, every number is there, every sheet fits."""

from __future__ import annotations

from dataclasses import replace
from functools import cache

import pytest
from tests.planned_jobs import conflicting, example, long_job, planned, trimmed

from sillwright.drawing import (
    Mark,
    MarkKind,
    Scene,
    Text,
    overlapping_texts,
    plan_drawings,
    sheet,
    to_dxf,
    to_svg,
)
from sillwright.job import Job
from sillwright.plan import Plan

JOBS = ("farmhouse", "bungalow", "block", "villa", "stucco", "one", "twelve", "twelve-mm", "trimmed")


@cache
def drawn(name: str) -> tuple[Job, Plan, dict[str, Scene]]:
    own = {
        "one": lambda: long_job(1),
        "twelve": lambda: long_job(12),
        "twelve-mm": lambda: long_job(12, metric=True),
        "trimmed": trimmed,
    }
    job = own[name]() if name in own else example(name)
    plan = planned(job)
    return job, plan, plan_drawings(job, plan)


def words(scene: Scene) -> list[str]:
    return [mark.text for mark in scene.marks if isinstance(mark, Text | Mark) and mark.text]


def balloons(scene: Scene) -> list[str]:
    return [m.text for m in scene.marks if isinstance(m, Mark) and m.kind is MarkKind.BALLOON]


@pytest.mark.parametrize("name", JOBS)
def test_no_words_or_signs_overlap_on_any_drawing(name: str) -> None:
    _, _, drawings = drawn(name)
    feet = ("station", "station")  # readings of one place lie where they lie
    for key, scene in drawings.items():
        assert [pair for pair in overlapping_texts(scene) if pair != feet] == [], key


@pytest.mark.parametrize("name", JOBS)
def test_every_drawing_but_the_pole_fits_a_letter_page_laid_flat(name: str) -> None:
    _, _, drawings = drawn(name)
    for key, scene in drawings.items():
        if key != "story-pole":
            box = sheet(scene)
            upright = key.startswith("whole-section")
            wide, tall = (7.0, 8.5) if upright else (9.5, 5.5)
            assert (box.width <= wide, box.height <= tall) == (True, True), key


@pytest.mark.parametrize("name", JOBS)
def test_every_act_has_one_balloon_on_the_elevations(name: str) -> None:
    _, plan, drawings = drawn(name)
    parts = [scene for key, scene in drawings.items() if key.startswith("elevation-part")]
    found = sorted(int(n) for scene in parts or [drawings["elevation"]] for n in balloons(scene))
    assert found == sorted(act.number for act in plan.setting.acts)


@pytest.mark.parametrize("name", JOBS)
def test_every_pad_and_planed_run_is_numbered_on_the_sill_lines(name: str) -> None:
    _, plan, drawings = drawn(name)
    found = [int(n) for key, s in drawings.items() if key.startswith("sill-line") for n in balloons(s)]
    numbered = [*(pad.number for pad in plan.setting.pads), *(run.number for run in plan.setting.planed)]
    assert sorted(found) == sorted(numbered)


def test_a_long_row_is_drawn_in_parts_that_hold_every_opening_once() -> None:
    _, plan, drawings = drawn("twelve")
    titles = [
        s.title for k, s in drawings.items() if k.startswith("sill-line-1-part") and not k.endswith("true")
    ]
    named = [name for title in titles for name in title.removeprefix("Sill line of ").split(", ")]
    assert named == [shape.name for shape in plan.survey.openings]


def test_heights_on_the_sill_line_are_stretched_and_beside_it_they_are_not() -> None:
    _, _, drawings = drawn("farmhouse")
    stretched, true = drawings["sill-line-1"], drawings["sill-line-1-true"]
    assert stretched.scale_y > 10 * stretched.scale_x
    assert true.scale_x == true.scale_y == stretched.scale_x


def test_a_row_that_cannot_be_set_has_no_sill_line_but_stands_on_the_elevation() -> None:
    job = conflicting()
    drawings = plan_drawings(job, planned(job))
    assert not any(key.startswith("sill-line") for key in drawings)
    assert {"A", "B"} <= set(words(drawings["elevation"]))


def test_clearances_stand_inside_their_frame() -> None:
    _, plan, drawings = drawn("block")
    scene = drawings["elevation"]
    for unit in plan.setting.units:
        own = [m for m in scene.marks if isinstance(m, Text) and m.ref == f"{unit.id}.fit"]
        assert len(own) == 3
        assert all(unit.left <= m.at[0] <= unit.right and unit.bottom <= m.at[1] <= unit.top for m in own)


def test_an_opening_without_head_readings_gets_no_head_clearance() -> None:
    job = long_job(1)
    bare = job.opening[0].model_copy(update={"height": type(job.opening[0].height)()})
    job = job.model_copy(update={"opening": (bare,)})
    scene = plan_drawings(job, planned(job))["elevation"]
    fits = [m for m in scene.marks if isinstance(m, Text) and m.ref == f"unit.{bare.name}.fit"]
    assert len(fits) == 2


def test_a_wall_without_openings_still_has_a_story_pole() -> None:
    job = long_job(1).model_copy(update={"opening": (), "unit": (), "row": (), "setup": ()})
    plan = planned(long_job(1))
    empty = replace(
        plan,
        survey=replace(plan.survey, openings=(), readings=()),
        setting=replace(plan.setting, rows=(), pads=(), units=(), acts=()),
    )
    assert list(plan_drawings(job, empty)) == ["story-pole"]


def test_the_drawings_of_a_plan_are_the_same_bytes_every_time() -> None:
    job, plan, drawings = drawn("villa")
    again = plan_drawings(job, plan)
    assert {k: to_svg(s) for k, s in again.items()} == {k: to_svg(s) for k, s in drawings.items()}


def test_every_drawing_can_be_written_for_other_tools() -> None:
    _, _, drawings = drawn("block")
    assert all(to_dxf(scene).rstrip().endswith("EOF") for scene in drawings.values())
