"""Pads shot again: accepted, corrected by what they are off, or to be shot again."""

from __future__ import annotations

from typing import Any

import pytest
from tests.setting.walls import Hole, job_of, set_job

from sillwright.errors import BadInput
from sillwright.job import Job
from sillwright.plan import plan
from sillwright.setting.model import Reshoot, Setting

WALL = (
    Hole(name="A", left=10.0, sill=(0.0, -0.2, -0.1), inner=(0.05, -0.1, -0.1)),
    Hole(name="B", left=60.0),
)
BEAM = 41.0


def before() -> Setting:
    return set_job(job_of(*WALL))


def shot_again(
    offs: dict[tuple[int, str], float | list[float]],
    *,
    marks: tuple[float, ...] = (0.0, 0.0),
    sd: float = 0.01,
    **parts: Any,
) -> Job:
    """Return the job with pads shot again: tops off their line by so much, marks misread by so much."""
    line = before().rows[0].lines[0].z
    series: list[dict[str, Any]] = [{"mark": "M1", "down": BEAM + marks[0]}]
    for (number, edge), off in offs.items():
        many = off if isinstance(off, list) else [off]
        series += [{"pad": number, "edge": edge, "down": BEAM - line - each} for each in many]
    series += [{"mark": "M1", "down": BEAM + each} for each in marks[1:]]
    return job_of(
        *WALL, reading_sd={"laser": sd}, reshoot=[{"name": "after", "x": 20.0, "series": series}], **parts
    )


def verdict(job: Job) -> Reshoot:
    found = set_job(job).reshoot
    assert found is not None
    return found


def every(off: float = 0.0) -> dict[tuple[int, str], float | list[float]]:
    return {
        (pad.number, edge): off for pad in before().pads for edge in ("outer", "inner") if edge == "outer"
    }


def test_a_plan_without_shots_again_has_no_verdict() -> None:
    assert before().reshoot is None


def test_pads_on_the_line_are_accepted() -> None:
    found = verdict(shot_again(every(0.01)))
    assert found.verdict == "accept"
    assert all(pad.off == pytest.approx(0.01, abs=1e-3) and not pad.correction for pad in found.pads)
    assert "not shot again" not in found.sentence


def test_pads_that_were_not_shot_again_are_counted() -> None:
    offs = every()
    offs.popitem()
    assert "1 pad was not shot again" in verdict(shot_again(offs)).sentence


def test_a_pad_too_low_is_named_with_what_to_add() -> None:
    offs = every()
    (number, edge) = next(iter(offs))
    offs[number, edge] = -0.125
    found = verdict(shot_again(offs))
    assert found.verdict == "correct"
    assert [pad.number for pad in found.pads if pad.correction] == [number]
    assert f'pad {number} front: add 1/8"' in found.sentence


def test_a_pad_too_high_at_the_back_is_named_with_what_to_take_away() -> None:
    offs = every()
    number = before().pads[1].number
    offs[number, "inner"] = 0.1
    assert f'pad {number} back: take away 3/32"' in verdict(shot_again(offs)).sentence


def test_pads_of_one_unit_that_differ_by_more_than_the_tolerance_are_not_accepted() -> None:
    """Tolerance 1/16 over the unit: 3/64 high and 3/64 low are each near the line, but 3/32 apart."""
    offs = every()
    first, second = [pad.number for pad in before().pads if pad.opening == "A"][:2]
    offs[first, "outer"], offs[second, "outer"] = 0.05, -0.045
    found = verdict(shot_again(offs))
    assert found.verdict == "correct"
    assert [pad.number for pad in found.pads if pad.correction] == [first]


def test_marks_that_disagree_ask_for_new_shots() -> None:
    found = verdict(shot_again(every(), marks=(0.0, 0.25)))
    assert found.verdict == "shoot again"
    assert "marks of after" in found.sentence


def test_several_shots_of_marks_and_pads_are_weighed_together() -> None:
    number = next(iter(every()))[0]
    single = verdict(shot_again({(number, "outer"): 0.03}, marks=(0.0,), sd=0.02)).pads[0]
    many = verdict(shot_again({(number, "outer"): [0.02, 0.04]}, marks=(0.0, 0.0, 0.0), sd=0.02)).pads
    assert len(many) == 1
    assert many[0].off == pytest.approx(0.03, abs=1e-3)
    assert many[0].sd < single.sd


def test_a_finer_shot_weighs_more() -> None:
    number = next(iter(every()))[0]
    line = before().rows[0].lines[0].z
    series = [
        {"mark": "M1", "down": BEAM},
        {"pad": number, "down": [BEAM - line, {"value": BEAM - line - 0.05, "sd": 0.05}]},
    ]
    found = verdict(
        job_of(*WALL, reading_sd={"laser": 0.01}, reshoot=[{"name": "R", "x": 20, "series": series}])
    )
    assert found.pads[0].off == pytest.approx(0.05 / 26.0, abs=1e-3)  # weights 25 to 1


def test_two_shots_of_one_pad_far_apart_ask_for_a_third() -> None:
    number = next(iter(every()))[0]
    found = verdict(shot_again({(number, "outer"): [0.0, 0.2]}))
    assert found.verdict == "shoot again"
    assert f"pad {number} front disagree" in found.sentence


def test_shots_too_rough_for_the_tolerance_are_not_accepted() -> None:
    assert verdict(shot_again(every(), sd=0.06)).verdict == "shoot again"


def test_a_pad_that_does_not_exist_is_refused_with_the_pads_there_are() -> None:
    with pytest.raises(BadInput, match=r"the plan has no pad 99. Its pads are \d+ to \d+"):
        plan(shot_again({(99, "outer"): 0.0}))


def test_a_set_up_without_a_mark_of_the_survey_is_refused() -> None:
    number = next(iter(every()))[0]
    shots = [{"name": "R", "x": 0, "series": [{"pad": number, "down": 10.0}]}]
    with pytest.raises(BadInput, match="no mark of the survey was shot"):
        plan(job_of(*WALL, reshoot=shots))


def test_a_verdict_other_than_accept_is_a_finding() -> None:
    offs = every()
    offs[next(iter(offs))] = -0.125
    ids = {finding.id: finding for finding in plan(shot_again(offs)).findings}
    assert ids["reshoot"].severity == "fix"
    assert "reshoot" not in {finding.id for finding in plan(shot_again(every())).findings}
