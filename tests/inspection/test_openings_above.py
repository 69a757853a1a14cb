"""Jobs with several openings above one deck, invented: which they are, what each gets and is told."""

from __future__ import annotations

from itertools import pairwise

import pytest
from tests.deck_jobs import LITE, ON_THE_SILL, above_a_deck, door_at, two_doors
from tests.setting.walls import Hole

from sillwright.errors import BadInput
from sillwright.explain import explain, idents
from sillwright.inspection import SectionShape
from sillwright.plan import Plan, plan

THRESHOLD = ON_THE_SILL + 1.375
"""From a door's level sill to the top of its threshold [in]."""


def above(made: Plan) -> dict[str, bool]:
    assert made.heights is not None
    return {each.opening: each.door for each in made.heights.openings}


def z(made: Plan, opening: str = "") -> dict[str, float | None]:
    assert made.heights is not None
    return {level.name: level.z for level in made.heights.levels if level.opening == opening}


def lite(name: str, left: float, sill: float, *, head: float = 81.0, **unit: object) -> Hole:
    return Hole(name=name, left=left, sill=(sill,) * 3, head=head, unit=LITE | unit)


# --- heights ------------------------------------------------------------------------------------------------


def test_each_door_has_its_own_heights_above_one_walking_surface() -> None:
    _, made = two_doors()
    assert z(made)["walking surface"] == pytest.approx(THRESHOLD - 2.5, abs=1e-3)
    for name, sill in (("A", 0.0), ("B", 0.5)):
        own = z(made, name)
        assert own["level line"] == pytest.approx(sill, abs=1e-3)
        assert own["threshold"] == pytest.approx(sill + THRESHOLD, abs=1e-3)
        assert own["unit top"] == pytest.approx(sill + ON_THE_SILL + 80.0, abs=1e-3)
    assert made.heights is not None
    assert [each.step_down for each in made.heights.openings] == pytest.approx([2.5, 3.0], abs=1e-3)


def test_the_deck_below_them_is_told_once() -> None:
    _, made = two_doors()
    assert made.heights is not None
    names = [level.id for level in made.heights.levels]
    assert len(names) == len(set(names))
    assert names.count("height.ledger-top") == 1
    assert {"height.threshold.A", "height.threshold.B"} <= set(names)


def test_each_floor_reading_counts_at_the_door_it_is_nearest_to() -> None:
    _, made = two_doors()
    assert z(made, "A")["lowest finished floor"] == pytest.approx(0.75, abs=1e-3)
    assert z(made, "B")["lowest finished floor"] == pytest.approx(1.25, abs=1e-3)


def test_a_unit_may_have_a_threshold_of_its_own() -> None:
    made = plan(above_a_deck(door_at("A", 10.0, 0.0, threshold_above_unit_bottom=0.75)))
    assert z(made, "A")["threshold"] == pytest.approx(ON_THE_SILL + 0.75, abs=1e-3)
    bare = door_at("A", 10.0, 0.0)
    del bare.unit["threshold_above_unit_bottom"]
    made = plan(above_a_deck(bare, deck={"threshold_above_unit_bottom": 1.0}))
    assert z(made, "A")["threshold"] == pytest.approx(ON_THE_SILL + 1.0, abs=1e-3)


def test_a_sloped_strip_is_told_by_itself_and_drawn_as_it_falls() -> None:
    kit = {"stack_above_line": 0.5, "sloped_strip": {"thick": 0.375, "thin": 0.0625}}
    made = plan(above_a_deck(door_at("A", 10.0, 0.0), kit=kit))
    assert z(made, "A")["top of sloped strip"] == pytest.approx(0.375, abs=1e-3)
    assert z(made, "A")["unit bottom"] == pytest.approx(0.5, abs=1e-3)
    assert made.heights is not None
    (strip,) = [shape for shape in made.heights.section("A") if shape.kind == "sloped strip"]
    (over,) = [shape for shape in made.heights.section("A") if shape.kind == "membranes and bedding"]
    assert _at_face(strip) == pytest.approx([0.0, 0.0625], abs=1e-3)
    assert _at_face(over) == pytest.approx([0.0625, 0.1875], abs=1e-3)  # 5/16 lower than at the room side


def test_each_layer_under_a_unit_is_a_step_of_its_own_from_the_pads_up() -> None:
    layers = [{"what": "pan", "thickness": 0.0625}, {"what": "sealant bed", "thickness": 0.1875}]
    kit = {"stack_above_line": 0.75, "sloped_strip": {"thick": 0.4375, "thin": 0.125}, "layer": layers}
    made = plan(above_a_deck(door_at("A", 10.0, 0.0), kit=kit))
    assert made.heights is not None
    own = {step.name: step for step in made.heights.steps if step.opening == "A"}
    stack = ("sloped strip", "pan", "sealant bed", "rest on the pads")
    assert [own[name].size for name in stack] == pytest.approx([0.4375, 0.0625, 0.1875, 0.0625])
    assert own[stack[0]].lower == "height.level-line.A"
    assert own[stack[-1]].upper == "height.unit-bottom.A"
    for below, over in pairwise(stack):
        assert own[below].upper == own[over].lower
    assert {shape.kind for shape in made.heights.section("A")} >= set(stack)
    assert z(made, "A")["unit bottom"] == pytest.approx(0.75, abs=1e-3)


def test_layers_thicker_than_all_that_lies_on_the_pads_are_refused() -> None:
    layers = [{"what": "pan", "thickness": 0.25}]
    kit = {"stack_above_line": 0.5, "sloped_strip": {"thick": 0.375, "thin": 0.0}, "layer": layers}
    with pytest.raises(BadInput, match="strip and layers together are thicker than stack_above_line"):
        above_a_deck(door_at("A", 10.0, 0.0), kit=kit)
    twice = {"stack_above_line": 0.5, "layer": [*layers, *layers]}
    with pytest.raises(BadInput, match="pan is stated twice"):
        above_a_deck(door_at("A", 10.0, 0.0), kit=twice)


def test_the_decking_stays_below_a_nosing() -> None:
    """A nosing hangs 1 in; a step of 1 in from a threshold 1 3/8 up would lift the decking past it."""
    job = above_a_deck(door_at("A", 10.0, 0.0, nosing=1.0), deck={"step_down": 1.0})
    made = plan(job)
    own = {name: height for name, height in (z(made) | z(made, "A")).items() if height is not None}
    assert own["nosing bottom"] == pytest.approx(own["unit bottom"] - 1.0)
    assert own["walking surface"] <= own["nosing bottom"] + 1e-6
    (wish,) = (each for each in made.findings if each.id == "finding.heights.wish.step-down.A")
    assert "decking no higher than the underside of the nosing" in wish.message


def _at_face(shape: SectionShape) -> list[float]:
    return sorted(z for y, z in shape.points if y == 0.0)


def test_a_strip_thicker_than_all_there_is_room_for_is_not_told_apart() -> None:
    kit = {"stack_above_line": 0.25, "sloped_strip": {"thick": 0.375, "thin": 0.0}}
    made = plan(above_a_deck(door_at("A", 10.0, 0.0), kit=kit))
    assert "top of sloped strip" not in z(made, "A")


def test_the_required_egress_door_swinging_out_holds_the_deck_up_for_both() -> None:
    facts = {"required_egress_door": True}
    made = plan(
        above_a_deck(door_at("A", 10.0, 0.0), door_at("B", 60.0, 0.5, swing="out", facts=facts), band=-1.0)
    )
    # IRC 2018, R311.3.1: 1 1/2 in at most where it swings over the landing
    assert z(made)["walking surface"] == pytest.approx(0.5 + THRESHOLD - 1.5, abs=1e-3)
    wish = next(each for each in made.findings if each.id == "finding.heights.wish.step-down.A")
    assert "B: step down of 0 to 1 1/2" in wish.message


def test_doors_that_one_deck_cannot_serve_are_a_stop_with_the_least_cure() -> None:
    made = plan(above_a_deck(door_at("A", 10.0, 0.0), door_at("B", 60.0, 9.0)))
    stop = next(each for each in made.findings if each.id == "finding.heights.conflict.1")
    assert stop.severity == "stop"
    assert stop.message.startswith('One deck cannot serve A and B, 1 1/4" is missing')
    assert 'B: level line, 1 1/4" lower' in stop.advice
    assert made.heights is not None
    assert made.heights.conflicts[0].openings == ("A", "B")
    assert stop.id in [row.id for row in made.inspection]


def test_a_ledger_above_the_lower_sill_is_refused_with_its_opening() -> None:
    with pytest.raises(BadInput, match="above the sill of A"):
        plan(above_a_deck(door_at("A", 10.0, 0.0), door_at("B", 60.0, 3.0), deck={"ledger_top": 1.0}))


def test_the_checks_of_each_door_look_at_its_own_drop() -> None:
    facts = {"required_egress_door": False}
    made = plan(above_a_deck(door_at("A", 10.0, 0.0, facts=facts), door_at("B", 60.0, 0.5, facts=facts)))
    rows = {row.id: row.value for row in made.inspection}
    assert rows["check.threshold.outside.A"] == '2 1/2"'
    assert rows["check.threshold.outside.B"] == '3"'


# --- which openings -----------------------------------------------------------------------------------------


def test_a_lite_down_to_the_deck_is_above_it_and_a_window_over_it_or_below_it_is_not() -> None:
    made = plan(
        above_a_deck(
            door_at("A", 10.0, 0.0),
            lite("low", 60.0, 0.0),
            lite("high", 110.0, 30.0, frame_height=48.0),
            lite("cellar", 160.0, -60.0, head=-20.0, frame_height=36.0),
        )
    )
    assert above(made) == {"A": True, "low": False}
    assert "threshold" not in z(made, "low")
    assert z(made, "low")["unit bottom"] == pytest.approx(ON_THE_SILL, abs=1e-3)


def test_a_door_beside_the_deck_is_not_above_it() -> None:
    holes = door_at("A", 10.0, 0.0), door_at("B", 60.0, 9.0)
    made = plan(above_a_deck(*holes, deck={"ledger_left": 0.0, "ledger_right": 55.0}))
    assert above(made) == {"A": True}
    assert not [each for each in made.findings if "conflict" in each.id]


def test_a_door_whose_place_is_not_known_is_taken_as_above_the_deck() -> None:
    holes = door_at("A", 10.0, 0.0), door_at("B", 60.0, 0.0)
    job = above_a_deck(*holes, deck={"ledger_left": 0.0, "ledger_right": 55.0})
    first, second = job.opening
    nowhere = second.model_copy(update={"left_jack_x": None, "right_jack_x": None})
    assert above(plan(job.model_copy(update={"opening": (first, nowhere)}))) == {"A": True, "B": True}


def test_the_job_may_name_the_openings_above_its_deck() -> None:
    holes = door_at("A", 10.0, 0.0), door_at("B", 60.0, 0.5), lite("W", 110.0, 0.0)
    assert above(plan(above_a_deck(*holes, deck={"openings": ["B", "W"]}))) == {"B": True, "W": False}


def test_a_deck_without_a_door_says_what_it_lacks() -> None:
    made = plan(above_a_deck(lite("W", 10.0, 0.0)))
    assert made.heights is None
    lack = next(each for each in made.findings if each.id == "finding.heights.unsaid")
    assert "a door: name its opening in deck.openings" in lack.message


def test_a_door_that_cannot_be_set_is_told_and_the_others_are_worked_out() -> None:
    low = Hole(name="B", left=60.0, sill=(0.5,) * 3, head=60.0, unit=door_at("B", 60.0, 0.5).unit)
    bare = door_at("C", 110.0, 0.5)
    del bare.unit["threshold_above_unit_bottom"]
    made = plan(above_a_deck(door_at("A", 10.0, 0.0), low, bare))
    assert above(made).keys() >= {"A"}
    told = {each.id: each.message for each in made.findings if each.id.endswith(".unsaid")}
    assert "deck.threshold_above_unit_bottom" in told["finding.heights.C.unsaid"]
    assert "C" not in above(made)
    rows = {row.id: row.result for row in made.inspection}
    assert rows["finding.heights.C.unsaid"] == "not checked"


# --- what people see ----------------------------------------------------------------------------------------


def test_every_height_of_every_door_can_be_asked_about() -> None:
    job, made = two_doors()
    known = idents(job, made)
    for name in ("A", "B"):
        assert {f"height.threshold.{name}", f"height.step.step-down.{name}"} <= set(known)
        assert explain(job, made, f"height.threshold.{name}").title.startswith(
            f"{name}: top of the threshold"
        )
    seen = explain(job, made, "height.walking-surface").see
    assert {"height.step.step-down.A", "height.step.step-down.B"} <= set(seen)
