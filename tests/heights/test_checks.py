"""What the heights of a wall are said to mean, and that each finding comes and goes at its limit."""

from __future__ import annotations

import re
from dataclasses import replace

import pytest
from tests.heights.walls import WALL, wall

from sillwright.findings import Finding
from sillwright.heights import Place, WallHeights, findings, solve, wall_chain
from sillwright.lengths import Unit
from sillwright.rules import amended, rule_book


def _found(of: WallHeights, units: Unit = "in") -> dict[str, Finding]:
    return {f.id: f for f in findings(of, solve(wall_chain(of, units=units)), units=units)}


def test_a_sound_wall_has_nothing_to_stop_for_or_fix() -> None:
    assert {f.severity for f in _found(WALL).values()} <= {"watch"}


@pytest.mark.parametrize(
    ("step", "id_"),
    [
        (1.9375, "heights.step down.shallow.A"),
        (2.0, None),
        (3.0, None),
        (3.0625, "heights.step down.deep.A"),
    ],
)
def test_two_to_three_inches_below_the_threshold_are_left_alone(step: float, id_: str | None) -> None:
    found = _found(wall(deck={"step_down": step, "ledger_depth": None}, backing=None, ground=None))
    assert {name for name in found if name.startswith("heights.step down")} == ({id_} if id_ else set())
    if id_:
        assert found[id_].source == "common practice, no source"


@pytest.mark.parametrize(("rise", "needed"), [(30.0, False), (30.0625, True)])
def test_a_guard_is_asked_for_above_thirty_inches(rise: float, needed: bool) -> None:
    assert WALL.ground is not None
    ground = replace(WALL.ground, grade=Place(x=0.0, z=-0.3125 - rise))
    found = _found(wall(ground=ground))
    assert ("heights.guard" in found) == needed
    assert "4 risers of 7 1/2" in found["heights.stair"].message


def test_the_rule_book_given_is_the_one_that_counts_and_is_named() -> None:
    assert WALL.ground is not None
    of = wall(ground=replace(WALL.ground, grade=Place(x=0.0, z=-0.3125 - 27.0)))
    result = solve(wall_chain(of))
    text = 'title = "Invented town"\n[[limit]]\nid = "guard.drop"\nvalue = 24\nsection = "local 2"\n'
    town = amended(rule_book("2018"), text, name="town.toml", check_ids=())
    by_book = [{f.id: f for f in findings(of, result, book=book)} for book in (None, rule_book("2021"), town)]
    assert ["heights.guard" in found for found in by_book] == [False, False, True]
    assert 'more than 24"' in by_book[2]["heights.guard"].message
    assert "town.toml" in by_book[2]["heights.guard"].source
    assert by_book[1]["heights.stair"].source.startswith("IRC 2021")
    assert by_book[0]["heights.stair"].source.startswith("IRC 2018")


def test_a_door_that_swings_out_over_a_drop_is_a_question_for_the_inspector() -> None:
    assert "heights.swing over drop.A" in _found(wall(door={"swing": "out"}))
    assert "heights.swing over drop.A" not in _found(wall(door={"swing": "slides"}))
    assert "heights.swing over drop.A" not in _found(wall(door={"swing": "out"}, deck={"step_down": 1.5}))


def test_a_clash_stops_with_the_demands_the_ways_out_and_the_sources() -> None:
    found = _found(wall(unit={"line": None, "frame_height": 80.5}))["heights.conflict.1"]
    assert found.severity == "stop"
    assert '9/16" is missing' in found.message
    assert 'A: unit, 9/16" smaller' in found.advice
    assert "lowest rough head, at" not in found.advice
    assert "membrane" not in found.advice
    assert "maker's least clearance" in found.source
    tight = _found(wall(unit={"line": None, "frame_height": 80.0}))["heights.conflict.1"].advice
    assert tight.rstrip(".").endswith('1/16" less if the maker allows it')


def test_a_change_is_rounded_up_so_that_it_is_enough() -> None:
    found = _found(wall(unit={"line": None, "frame_height": 80.51}))["heights.conflict.1"]
    assert 'A: unit, 5/8" smaller' in found.advice


def test_what_was_found_stands_beside_what_it_is_held_against() -> None:
    of = wall(deck={"step_down": 1.5, "joist_notch": 2.0, "ledger_depth": 8.0})
    found = _found(of)
    told = {name: (each.value, each.limit) for name, each in found.items()}
    assert told["heights.step down.shallow.A"] == ('1 1/2"', '2" to 3"')
    assert told["heights.joist notch"] == ('2"', 'at most 1 13/16"')  # a quarter of 7 1/4
    assert told["heights.ledger.depth"] == ('8"', '7 1/4" or 9 1/4" or 11 1/4"')
    assert told["heights.stair"][1] == 'at most 7 3/4" each'


def test_a_wish_that_cannot_be_had_is_told_with_what_can() -> None:
    found = _found(wall(unit={"nosing_thickness": 0.75}, deck={"step_down": 1.5}))["heights.wish.step down.A"]
    assert found.severity == "fix"
    assert '1 1/2" is wished, 2 1/8" can be had' in found.message
    assert 'A: nosing, 5/8" smaller' in found.advice


def test_a_ledger_on_an_unknown_backing_stops() -> None:
    assert _found(wall(backing=None))["heights.ledger.backing"].severity == "stop"
    assert "heights.ledger.backing" not in _found(wall(backing=None, deck={"ledger_depth": None}))


@pytest.mark.parametrize(("depth", "text"), [(5.5, "5 1/2"), (8.0, "8"), (13.25, "13 1/4")])
def test_a_ledger_outside_the_table_needs_an_engineer_and_its_rows_are_named(depth: float, text: str) -> None:
    found = _found(wall(deck={"ledger_depth": depth, "joist_depth": 5.5}))["heights.ledger.depth"]
    assert found.severity == "stop"
    assert found.message == (
        f'A ledger {text}" deep is outside this table (7 1/4" or 9 1/4" or 11 1/4"): needs an engineer.'
    )


@pytest.mark.parametrize(("notch", "stops"), [(1.8125, False), (1.875, True)])
def test_a_notch_of_more_than_a_quarter_of_the_joist_stops(notch: float, stops: bool) -> None:
    found = _found(wall(deck={"joist_notch": notch}))
    assert ("heights.joist notch" in found) == stops


def test_joists_hung_low_are_a_detail_to_look_at() -> None:
    assert "heights.joists hung" in _found(wall(deck={"joist_below_ledger_top": 1.0}))
    assert "heights.joists hung" not in _found(WALL)


def test_what_holds_only_as_drawn_is_told_with_who_is_to_blame() -> None:
    found = _found(wall(unit={"frame_height": 79.8}))["heights.doubt.head clearance.A"]
    assert "to spare" in found.message
    assert '(± 1/16")' in found.message
    assert "heights.doubt.head clearance.A" not in _found(WALL)


def test_lengths_are_written_in_the_units_of_the_job() -> None:
    tight = wall(
        unit={"frame_height": 79.8, "nosing_thickness": 0.75}, deck={"step_down": 1.5}, door={"swing": "out"}
    )
    texts = [f.message + f.advice for f in _found(tight, units="mm").values()]
    assert any("mm" in text for text in texts)
    assert not any('"' in text or re.search(r"\d in\b", text) for text in texts)


def test_stops_come_first() -> None:
    of = wall(backing=None, unit={"line": None, "frame_height": 80.5}, deck={"joist_notch": 2.0})
    order = [f.severity for f in findings(of, solve(wall_chain(of)))]
    assert order == sorted(order, key=["stop", "fix", "watch"].index)


def test_every_finding_is_a_sentence_with_advice_and_a_source() -> None:
    of = wall(backing=None, deck={"step_down": 5.0, "joist_notch": 2.0})
    for finding in findings(of, solve(wall_chain(of))):
        assert finding.source
        for text in (finding.message, finding.advice):
            assert re.fullmatch(r"[^!]+\.", text), text
