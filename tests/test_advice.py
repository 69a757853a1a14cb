"""What page one says: the right severity, in a carpenter's words, each with its source."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
from tests.setting.walls import Hole, job_of

from sillwright.advice import cautions
from sillwright.findings import Finding, Severity, worst_first
from sillwright.job import load_job
from sillwright.plan import Plan, plan

EXAMPLES = sorted((Path(__file__).parents[1] / "examples").glob("*.toml"))


def planned(*holes: Hole, **parts: Any) -> Plan:
    return plan(job_of(*holes, **parts))


def by_id(found: Plan) -> dict[str, Finding]:
    return {finding.id: finding for finding in found.findings}


def test_a_sound_wall_has_nothing_to_fix() -> None:
    found = planned(Hole(name="A", left=10.0))
    assert not [finding for finding in found.findings if finding.severity != "watch"]


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_every_finding_of_the_examples_has_words_advice_and_a_source(path: Path) -> None:
    found = plan(load_job(path).job).findings
    assert len({finding.id for finding in found}) == len(found)
    for finding in found:
        assert finding.message.endswith(".")
        assert finding.advice.endswith(".")
        assert finding.source
        assert "!" not in finding.message + finding.advice
    ranks = [["stop", "fix", "watch"].index(finding.severity) for finding in found]
    assert ranks == sorted(ranks)


def test_suspect_readings_come_before_anything_else_to_fix() -> None:
    """Farmhouse readings with one width an inch short: the suspect leads the fixes."""
    opening = {
        "name": "A", "left_jack_x": 10.0, "right_jack_x": 46.5,
        "width": {"bottom": 36.5, "middle": 36.5, "top": 35.5},
        "plumb": {side: {"over_height": 44.5, "top_leans_right": 0.0} for side in ("left", "right")},
    }  # fmt: skip
    hole = Hole(name="A", left=10.0, sill=(0.0, 0.0, 0.0), inner=(-0.2, -0.2, -0.2))
    found = planned(hole, opening=[opening], sd=0.03)
    fixes = [finding for finding in found.findings if finding.severity == "fix"]
    assert "width" in fixes[0].message
    assert "opening[0].width.top" in fixes[0].advice
    assert "finding.fall.A" in {finding.id for finding in fixes[1:]}


def test_a_conflict_stops_and_names_a_size_that_fits() -> None:
    found = planned(Hole(name="A", left=10.0, unit={"frame_width": 36.4}))
    finding = by_id(found)["finding.conflict.1"]
    assert finding.severity == "stop"
    assert finding.message.startswith("A cannot be set as asked. These demands clash:")
    assert "Largest that fits A as surely as asked: 36 1/8 x" in finding.advice
    assert "finding.fit.A" not in by_id(found)  # the clash says it better


def test_a_unit_that_may_not_fit_is_to_fix_and_one_that_will_not_stops() -> None:
    doubtful = planned(Hole(name="A", left=10.0, unit={"frame_width": 36.2}), sd=0.03)
    finding = by_id(doubtful)["finding.fit.A"]
    assert finding.severity == "fix"
    assert "width" in finding.message
    unlikely = planned(Hole(name="A", left=10.0, unit={"frame_width": 36.25}), sd=0.03)
    assert by_id(unlikely)["finding.fit.A"].severity == "stop"


def test_a_sagging_head_stops_beyond_its_limit_only() -> None:
    """Limit 1/4 in for a 36 in span, span/360 = 0.1."""
    assert (
        by_id(planned(Hole(name="A", left=10.0, head=(48.5, 48.2, 48.5))))["finding.sag.A"].severity == "stop"
    )
    assert "finding.sag.A" not in by_id(planned(Hole(name="A", left=10.0, head=(48.5, 48.3, 48.5))))


def test_a_long_head_may_sag_by_its_span_over_360() -> None:
    unit = {"frame_width": 119.0}
    wide = Hole(name="A", left=10.0, width=120.0, head=(48.5, 48.2, 48.5), unit=unit)
    assert "finding.sag.A" not in by_id(planned(wide))


def test_a_sill_that_falls_into_the_house_is_said() -> None:
    found = by_id(planned(Hole(name="A", left=10.0, inner=(-0.1, -0.1, -0.1))))["finding.fall.A"]
    assert '3/32"' in found.message
    assert "finding.fall.A" not in by_id(planned(Hole(name="A", left=10.0, inner=(0.1, 0.1, 0.1))))


def test_cross_legged_jacks_are_held_against_what_the_unit_takes() -> None:
    found = by_id(planned(Hole(name="A", left=10.0, leans_in=(0.25, -0.25))))
    assert "cross-legged" in found["finding.cross.A"].message
    assert "finding.cross.A" not in by_id(planned(Hole(name="A", left=10.0, leans_in=(0.05, -0.05))))


def test_cutting_a_jack_back_stops_for_someone_qualified() -> None:
    found = planned(Hole(name="A", left=10.0, width=36.2), kit={"trim_max": 0.25})
    assert found.setting.trims
    finding = by_id(found)[f"finding.{found.setting.trims[0].id}"]
    assert finding.severity == "stop"
    assert "qualified" in finding.advice


def test_a_unit_whose_sill_was_not_shot_is_said_to_be_left_out() -> None:
    found = planned(Hole(name="A", left=10.0), Hole(name="B", left=60.0, sill=()))
    assert by_id(found)["finding.unset.B"].severity == "fix"
    assert [unit.opening for unit in found.setting.units] == ["A"]


def test_an_opening_in_a_row_without_a_unit_is_said() -> None:
    found = planned(Hole(name="A", left=10.0), Hole(name="B", left=60.0, unit={"none": True}))
    assert "B" in by_id(found)["finding.empty"].message


def test_room_that_was_not_read_is_said() -> None:
    found = by_id(planned(Hole(name="A", left=10.0, head=None)))
    assert "head room" in found["finding.unread.A"].message


def test_what_openings_share_is_said_once() -> None:
    found = planned(Hole(name="A", left=10.0), Hole(name="B", left=60.0), assume={"jack_bow": 0.125}, sd=0.03)
    message = by_id(found)["finding.open"].message
    assert message.count("which jack bows") == 1
    assert "A, B: which jack bows" in message


def test_ends_that_may_differ_too_much_ask_for_another_shot() -> None:
    rough = by_id(planned(Hole(name="A", left=10.0, sill=(0.0, -0.1, 0.1)), sd=0.05))
    assert "enter the shots as a re-shoot" in rough["finding.level"].advice
    assert "finding.level" not in by_id(planned(Hole(name="A", left=10.0)))


def test_worst_findings_come_first_and_keep_their_order_otherwise() -> None:
    given: tuple[Severity, ...] = ("watch", "fix", "stop", "fix")
    made = [
        Finding(id=str(k), severity=severity, message="", advice="", source="")
        for k, severity in enumerate(given)
    ]
    assert [finding.id for finding in worst_first(made)] == ["2", "1", "3", "0"]


def test_a_heavy_unit_asks_for_a_plan_to_lift_it() -> None:
    light = job_of(Hole(name="A", left=10.0, unit={"weight_lb": 60}))
    heavy = job_of(Hole(name="A", left=10.0, unit={"weight_lb": 120}))
    assert not any("Plan the lift" in caution for caution in cautions(light))
    assert any("by hand: A. Plan the lift" in caution for caution in cautions(heavy))


def test_jacks_that_spread_are_told_though_the_diagonals_are_equal() -> None:
    found = _findings_of("block-ranch-outswing-pair")
    (square,) = [finding for finding in found if finding.id == "finding.square.D"]
    # 72 5/16 at the bottom, 73 at the top; leans of 7/16 left and 3/8 right: about 3/4
    assert square.message.startswith('D is 3/4" wider at the top')
    assert square.severity == "watch"


def test_jacks_that_lean_together_are_told_though_the_widths_are_equal() -> None:
    found = _findings_of("farmhouse-three-casements")
    assert [f.message.split(":")[0] for f in found if f.id.startswith("finding.square")] == [
        'B leans 9/32" to the right'
    ]


def _findings_of(example: str) -> tuple[Finding, ...]:
    return plan(load_job(next(path for path in EXAMPLES if path.stem == example)).job).findings
