"""Several openings above one deck: one walking surface for all, each with its own chain; summed by hand."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from tests.heights.chains import sizes
from tests.heights.walls import SLIDER, WALL, slider

from sillwright.findings import Finding
from sillwright.heights import (
    Chain,
    ChainResult,
    DeckHeights,
    UnitHeights,
    WallHeights,
    at,
    difference,
    findings,
    section,
    solve,
    wall_chain,
)

THRESHOLD = 0.4375 + 0.0625 + 1.375
"""From the level line to the top of the slider's threshold [in]."""
PLATFORM = DeckHeights(decking_thickness=1.0, joist_depth=7.25, step_down=2.5)


def doors(*lines: float, **door: object) -> tuple[UnitHeights, ...]:
    """Return sliding doors A, B, ... on these level lines, with nothing else measured."""
    names = "ABCDE"[: len(lines)]
    return tuple(
        slider(name, door={"floor": (), **door}, line=line, rough_sill=(), head=())
        for name, line in zip(names, lines, strict=True)
    )


def lite(line: float) -> UnitHeights:
    """Return a fixed lite W on this level line."""
    return replace(SLIDER, opening="W", line=line, door=None, rough_sill=(), head=())


def _wall(*units: UnitHeights) -> WallHeights:
    return WallHeights(units=units, deck=PLATFORM)


def _solve(*units: UnitHeights) -> ChainResult:
    return solve(wall_chain(_wall(*units)))


def _found(*units: UnitHeights) -> dict[str, Finding]:
    return {each.id: each for each in findings(_wall(*units), _solve(*units))}


def _steps(result: ChainResult) -> dict[str, float | None]:
    return {step.opening: step.size for step in result.steps if step.plain == "step down"}


def test_the_lowest_threshold_gets_the_step_that_is_wished_and_the_others_step_further() -> None:
    result = _solve(*doors(0.5, 0.0, 2.0))
    assert not result.conflicts
    assert result.z("walking surface") == pytest.approx(THRESHOLD - 2.5)
    assert _steps(result) == pytest.approx({"A": 3.0, "B": 2.5, "C": 4.5})
    assert {name: result.z(at("threshold", name)) for name in "ABC"} == pytest.approx(
        {"A": 0.5 + THRESHOLD, "B": THRESHOLD, "C": 2.0 + THRESHOLD}
    )


LIMITS = {"slides": 7.75, "out": 1.5}
"""IRC 2018, R311.3.1: how far a landing may lie below the threshold of the required egress door [in]."""


@settings(max_examples=40, deadline=None)
@given(
    st.lists(st.tuples(sizes(-48, 48), st.sampled_from(sorted(LIMITS))), min_size=1, max_size=4),
    sizes(0, 128),
)
def test_the_walking_surface_is_what_the_thresholds_and_their_limits_leave(
    given_doors: list[tuple[float, str]], wish: float
) -> None:
    names = "ABCD"[: len(given_doors)]
    units = tuple(
        slider(
            name,
            door={"floor": (), "egress": True, "swing": swing, "swing_clear": 0.0},
            line=line,
            rough_sill=(),
            head=(),
        )
        for name, (line, swing) in zip(names, given_doors, strict=True)
    )
    result = solve(wall_chain(WallHeights(units=units, deck=replace(PLATFORM, step_down=wish))))
    tops = [line + THRESHOLD for line, _ in given_doors]
    lowest = max(top - LIMITS[swing] for top, (_, swing) in zip(tops, given_doors, strict=True))
    short = lowest - min(tops)
    if short > 1e-6:
        assert max(clash.short for clash in result.conflicts) == pytest.approx(short)
    else:
        assert not result.conflicts
        assert result.z("walking surface") == pytest.approx(max(min(tops) - wish, lowest), abs=1e-6)


@settings(max_examples=20, deadline=None)
@given(st.permutations([0.0, 0.25, 1.0, 3.0]))
def test_the_order_of_the_openings_changes_no_height(lines: list[float]) -> None:
    first = _solve(*doors(0.0, 0.25, 1.0, 3.0))
    other = _solve(*doors(*lines))
    for name in ("walking surface", "joist top", "joist bottom"):
        assert other.z(name) == pytest.approx(first.z(name))


def test_one_more_door_like_the_first_changes_nothing_of_the_deck() -> None:
    one, two = (solve(wall_chain(replace(WALL, units=units))) for units in (WALL.units, _twins()))
    for level in one.levels:
        if not level.opening:
            assert two.z(level.name) == pytest.approx(level.z, abs=1e-6)


def _twins() -> tuple[UnitHeights, ...]:
    return (SLIDER, replace(SLIDER, opening="B"))


def test_doors_too_far_apart_are_named_with_the_least_change_to_each_that_cures_it() -> None:
    clash = _found(*doors(0.0, 9.0))["heights.conflict.1"]
    assert clash.severity == "stop"
    assert clash.message.startswith('One deck cannot serve A and B, 1 1/4" is missing')  # 9 - 7 3/4
    for way in (
        'A: level line, 1 1/4" higher',
        'B: level line, 1 1/4" lower',
        '1 1/4" more if the building department allows it',
        "Or give one of them a landing and steps of its own.",
    ):
        assert way in clash.advice
    assert "less" not in clash.advice  # no step goes up from the threshold
    assert "R311.3.2" in clash.source


@pytest.mark.parametrize("by", [1.24, 1.26])
def test_the_least_change_is_enough_and_a_little_less_is_not(by: float) -> None:
    for lines in ((by, 9.0), (0.0, 9.0 - by)):
        assert bool(_solve(*doors(*lines)).conflicts) == (by < 1.25)


def test_three_doors_of_which_one_stands_too_high_are_told_apart() -> None:
    (clash,) = _solve(*doors(0.0, 0.5, 9.0)).conflicts
    assert clash.openings == ("A", "C")


def test_a_small_step_wished_at_two_doors_is_no_conflict_but_is_told() -> None:
    wish = _found(*doors(0.0, 0.5))["heights.wish.step down.B"]
    assert wish.severity == "watch"
    assert '2 1/2" is wished, 3" can be had' in wish.message
    assert 'A: step down of 0 to 7 3/4" from the threshold, as wished' in wish.message
    assert not [name for name in _found(*doors(0.0, 1 / 32)) if "wish" in name]  # set-out is no better


def test_what_the_doors_share_drops_out_of_what_one_steps_down_further_than_the_other() -> None:
    result = solve(wall_chain(replace(WALL, units=_twins())))
    spread = difference(result, lower="threshold at A", upper="threshold at B")
    assert not {share.name for share in spread.shares} & {"decking", "joist", "ledger"}
    assert {share.name.rpartition(" at ")[2] for share in spread.shares} == {"A", "B"}


def test_decking_runs_no_higher_than_the_underside_of_what_is_no_door() -> None:
    low = _solve(*doors(0.0), lite(-2.0))
    assert _steps(low) == pytest.approx({"A": 2.0 + 1.375})
    assert [unmet.step.name for unmet in low.unmet] == ["step down at A"]
    assert "unit over decking at W" in low.unmet[0].against.names
    assert not _solve(*doors(0.0), lite(0.0)).unmet


def test_each_opening_has_its_findings_under_its_name() -> None:
    found = _found(*doors(0.0, 2.0))
    assert "heights.step down.deep.B" in found
    assert "below the threshold of B" in found["heights.step down.deep.B"].message
    assert not [name for name in found if name.endswith(".A")]


def test_a_section_has_the_shapes_of_every_opening_under_its_name_and_the_deck_once() -> None:
    wall = replace(WALL, units=_twins())
    shapes = section(wall, solve(wall_chain(wall))).shapes
    assert [shape.opening for shape in shapes if shape.kind == "unit"] == ["A", "B"]
    assert [shape.opening for shape in shapes if shape.kind == "ledger"] == [""]


def test_every_level_says_whose_it_is() -> None:
    chain: Chain = wall_chain(replace(WALL, units=_twins()))
    own = {name: [level.plain for level in chain.levels if level.opening == name] for name in ("A", "B")}
    assert own["A"] == own["B"]
    shared = {level.plain for level in chain.levels if not level.opening}
    assert {"walking surface", "ledger top", "grade"} <= shared
    assert not shared & set(own["A"])
