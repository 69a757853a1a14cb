"""Solving a chain against a general linear program, every subset, and the laws it must keep."""

from __future__ import annotations

from dataclasses import replace
from math import inf

import pytest
from hypothesis import HealthCheck, assume, given, settings
from hypothesis import strategies as st
from tests.heights import oracle
from tests.heights.chains import chains, in_other_units, stack, upside_down

from sillwright.errors import BadInput
from sillwright.heights import DATUM, Chain, Demand, Level, Step, difference, solve
from sillwright.heights.model import Link
from sillwright.heights.solve import _loosened
from sillwright.heights.spread import links, tree

# many chains at random clash, and each law holds of one kind only
_FILTERED = [HealthCheck.filter_too_much, HealthCheck.too_slow]
QUICK = settings(max_examples=20, deadline=None, suppress_health_check=_FILTERED)


def _relations(chain: Chain) -> tuple[list[str], list[Link]]:
    names = [DATUM, *(level.name for level in chain.levels)]
    held = tree(names, links(chain))
    return names, [_loosened(link, held) for link in links(chain)]


@QUICK
@given(chains(most_levels=4))
def test_the_room_of_every_level_is_what_a_linear_program_finds(chain: Chain) -> None:
    names, relations = _relations(chain)
    assume(oracle.holds(names, relations))
    result = solve(chain)
    assert not result.conflicts
    for level in result.levels:
        if level.how != "known":
            high = oracle.most(names, relations, lower=DATUM, upper=level.name)
            low = -oracle.most(names, relations, lower=level.name, upper=DATUM)
            assert level.high == pytest.approx(high, abs=1e-6)
            assert level.low == pytest.approx(low, abs=1e-6)


@QUICK
@given(chains())
def test_the_heights_keep_every_demand_and_step_where_nothing_clashes(chain: Chain) -> None:
    result = solve(chain)
    assume(not result.conflicts)
    assert result.missed == 0.0
    assert all(demand.margin > -1e-6 for demand in result.demands)
    assert all(step.margin > -1e-6 for step in result.steps)
    z = {level.name: level.z for level in result.levels} | {DATUM: 0.0}
    for level in result.levels:
        if level.z is not None:
            assert level.low - 1e-6 <= level.z <= level.high + 1e-6
    for link in links(chain):
        upper, lower = z[link.upper], z[link.lower]
        if link.rank == 0 and link.name in result.held.held_by and upper is not None and lower is not None:
            assert upper - lower == pytest.approx(link.low, abs=1e-6)


@QUICK
@given(chains(most_levels=4))
def test_wishes_are_met_as_nearly_as_a_linear_program_meets_them(chain: Chain) -> None:
    names, relations = _relations(chain)
    assume(oracle.holds(names, relations))
    wishes = [(step.lower, step.upper, step.wish) for step in chain.steps if step.wish is not None]
    assume(wishes)
    result = solve(chain)
    off = sum(
        abs(step.size - asked.wish)
        for step, asked in zip(result.steps, chain.steps, strict=True)
        if asked.wish is not None and step.size is not None
    )
    least = oracle.least_cost(names, relations, wishes)
    assert off == pytest.approx(least, abs=1e-5)


@settings(max_examples=25, deadline=None, suppress_health_check=_FILTERED)
@given(chains(most_levels=4))
def test_a_conflict_has_no_more_members_than_the_smallest_set_found_by_trying_all(chain: Chain) -> None:
    names, relations = _relations(chain)
    count = oracle.smallest_clash(names, relations)
    result = solve(chain)
    assert bool(result.conflicts) == bool(count)
    if count:
        first = result.conflicts[0]
        assert len(first.names) == count
        assert not oracle.holds(names, [link for link in relations if link.name in first.names])


@QUICK
@given(chains(most_levels=4))
def test_each_cure_ends_the_conflict_and_a_little_less_does_not(chain: Chain) -> None:
    names, relations = _relations(chain)
    result = solve(chain)
    assume(len(result.conflicts) == 1)
    for cure in result.conflicts[0].cures:
        sign = 1.0 if cure.larger else -1.0
        for share, works in ((1.0, True), (0.99, False)):
            by = sign * (cure.by * share + (1e-6 if works else 0.0))
            assert (
                oracle.holds(names, [_moved(r, by) if r.name == cure.name else r for r in relations]) == works
            )


def _moved(link: Link, by: float) -> Link:
    return replace(link, low=min(link.low, link.low + by), high=max(link.high, link.high + by))


@QUICK
@given(chains())
def test_counting_down_gives_the_same_rooms_spreads_and_conflicts_upside_down(chain: Chain) -> None:
    one, other = solve(chain), solve(upside_down(chain))
    for up, down in zip(one.levels, other.levels, strict=True):
        assert down.low == pytest.approx(-up.high, abs=1e-9)
        assert down.high == pytest.approx(-up.low, abs=1e-9)
        assert (down.worst, down.how) == (up.worst, up.how)
        assert down.rss == pytest.approx(up.rss)
    assert len(one.conflicts) == len(other.conflicts)
    assert [c.short for c in other.conflicts] == pytest.approx([c.short for c in one.conflicts])


@QUICK
@given(chains(), st.sampled_from([25.4, 1 / 12]))
def test_other_units_change_numbers_and_nothing_else(chain: Chain, factor: float) -> None:
    one, other = solve(chain), solve(in_other_units(chain, factor))
    for here, there in zip(one.levels, other.levels, strict=True):
        assert there.how == here.how
        assert [there.low, there.high] == pytest.approx([here.low * factor, here.high * factor], abs=1e-7)
        assert [there.worst, there.rss] == pytest.approx([here.worst * factor, here.rss * factor])
    assert [c.short for c in other.conflicts] == pytest.approx([c.short * factor for c in one.conflicts])
    assert [len(c.names) for c in other.conflicts] == [len(c.names) for c in one.conflicts]


@QUICK
@given(chains(), st.data())
def test_a_looser_step_never_narrows_a_spread(chain: Chain, data: st.DataObject) -> None:
    number = data.draw(st.integers(0, len(chain.steps) - 1))
    step = chain.steps[number]
    looser = replace(step, tolerance=step.tolerance + 0.25)
    steps = (*chain.steps[:number], looser, *chain.steps[number + 1 :])
    before, after = solve(chain), solve(replace(chain, steps=steps))
    for one, other in zip(before.levels, after.levels, strict=True):
        assert other.worst >= one.worst
        assert other.rss >= one.rss


@QUICK
@given(chains())
def test_the_worst_case_is_never_less_than_the_root_of_squares_nor_the_sum_of_shares_more_than_one(
    chain: Chain,
) -> None:
    result = solve(chain)
    for level in result.levels:
        assert level.worst >= level.rss - 1e-12
        spread = difference(result, lower=DATUM, upper=level.name)
        if spread.shares:
            assert sum(share.of_worst for share in spread.shares) == pytest.approx(1.0)
            assert sum(share.of_variance for share in spread.shares) == pytest.approx(1.0)
            assert spread.worst == pytest.approx(sum(share.tolerance for share in spread.shares))


def test_what_two_levels_share_drops_out_of_their_difference() -> None:
    chain = Chain(
        levels=(Level(name="sill", z=10.0, sd=0.1), Level(name="left"), Level(name="right")),
        steps=(
            Step(name="left pad", lower="sill", upper="left", size=1.0, tolerance=0.03),
            Step(name="right pad", lower="sill", upper="right", size=1.0, tolerance=0.04),
        ),
    )
    spread = difference(solve(chain), lower="left", upper="right")
    assert spread.worst == pytest.approx(0.07)
    assert spread.rss == pytest.approx(0.05)
    assert [share.name for share in spread.shares] == ["right pad", "left pad"]
    assert [share.of_variance for share in spread.shares] == pytest.approx([0.64, 0.36])


def test_a_level_that_nothing_bounds_is_open_and_says_so() -> None:
    chain = Chain(
        levels=(Level(name="floor", z=0.0), Level(name="beam")),
        steps=(Step(name="post", lower="floor", upper="beam", low=0.0),),
    )
    level = solve(chain).levels[1]
    assert (level.z, level.low, level.high, level.how) == (None, 0.0, inf, "open")


def test_two_readings_that_agree_within_their_doubt_do_not_clash() -> None:
    def chain(top: float) -> Chain:
        return Chain(
            levels=(Level(name="sill", z=0.0, sd=0.02), Level(name="head", z=top, sd=0.02)),
            steps=(Step(name="opening", lower="sill", upper="head", size=80.0, tolerance=0.03),),
        )

    assert not solve(chain(80.14)).conflicts  # 3 x 0.02 + 3 x 0.02 + 0.03 = 0.15
    clash = solve(chain(80.16)).conflicts[0]
    assert set(clash.names) == {"sill", "head", "opening"}
    assert clash.short == pytest.approx(0.01)


def test_a_wish_out_of_reach_is_told_with_what_stands_against_it_and_what_would_let_it_come_true() -> None:
    chain = Chain(
        levels=(Level(name="threshold", z=0.0), Level(name="deck"), Level(name="band", z=-4.0)),
        steps=(
            Step(name="step down", lower="deck", upper="threshold", low=0.0, high=7.75, wish=7.0),
            Step(name="decking", lower="joist", upper="deck", size=1.0),
        ),
        demands=(Demand(name="behind", lower="band", upper="joist", low=-1.0),),
    )
    chain = replace(chain, levels=(*chain.levels, Level(name="joist")))
    result = solve(chain)
    (unmet,) = result.unmet
    assert [unmet.wish, unmet.step.size] == pytest.approx([7.0, 4.0])
    assert "behind" in unmet.against.names
    assert {cure.name: cure.larger for cure in unmet.against.cures} == {
        "behind": False,
        "band": False,
        "decking": False,
        "threshold": True,
        "step down, wish": False,
    }
    assert [cure.by for cure in unmet.against.cures] == pytest.approx([3.0] * 5)


def test_free_levels_keep_clear_of_their_limits_by_the_worst_case() -> None:
    chain = Chain(
        levels=(Level(name="top", z=0.0, sd=0.1), Level(name="row"), Level(name="bottom", z=-10.0)),
        steps=(Step(name="edge", lower="row", upper="top", low=2.0, tolerance=0.2),),
        demands=(Demand(name="far edge", lower="bottom", upper="row", low=7.0),),
    )
    (demand,) = solve(chain).demands
    assert demand.holds == "at worst"
    assert demand.worst == pytest.approx(0.5)


@pytest.mark.parametrize(
    ("margin", "holds"), [(0.11, "at worst"), (0.08, "statistically"), (0.02, "as drawn"), (-0.01, "not")]
)
def test_a_demand_says_against_what_it_holds(margin: float, holds: str) -> None:
    chain = stack((1.0, 0.03), (1.0, 0.04), (1.0, 0.03))  # 0.10 at worst, 0.0583 by root of squares
    demand = Demand(name="low enough", lower="level 0", upper="level 3", high=3.0 + margin)
    (found,) = solve(replace(chain, demands=(demand,))).demands
    assert found.holds == holds
    assert found.margin == pytest.approx(margin)


@pytest.mark.parametrize(
    ("chain", "message"),
    [
        (Chain(levels=(Level(name="a", z=0.0), Level(name="a"))), "'a': stands in the chain 2 times"),
        (Chain(levels=(Level(name="datum"),)), "is the name of the height 0"),
        (Chain(levels=(Level(name="a", z=float("nan")),)), "level 'a': its height is not a number"),
        (Chain(levels=(Level(name="a", z=0.0, sd=-0.1),)), "a standard deviation of -0.1"),
        (Chain(levels=(Level(name="a", sd=0.1),)), "a standard deviation without a height"),
        (
            Chain(levels=(Level(name="a"),), steps=(Step(name="s", lower="a", upper="b"),)),
            "step 's': the chain has no level 'b'",
        ),
        (Chain(levels=(Level(name="a"),), steps=(Step(name="s", lower="a", upper="a"),)), "to itself"),
        (
            Chain(levels=(Level(name="a"),), steps=(Step(name="s", lower=DATUM, upper="a", low=2, high=1),)),
            "at least 2 and at most 1",
        ),
        (
            Chain(levels=(Level(name="a"),), steps=(Step(name="s", lower=DATUM, upper="a", size=1, low=0),)),
            "a size, and bounds or a wish too",
        ),
        (
            Chain(
                levels=(Level(name="a"),),
                steps=(Step(name="s", lower=DATUM, upper="a", size=1, tolerance=-1),),
            ),
            "a tolerance of -1",
        ),
        (
            Chain(levels=(Level(name="a"),), steps=(Step(name="s", lower=DATUM, upper="a", size=inf),)),
            "its size or wish is not a number",
        ),
        (
            Chain(levels=(Level(name="a"),), steps=(Step(name="s", lower=DATUM, upper="a", weight=0),)),
            "a weight of 0",
        ),
    ],
)
def test_a_chain_that_makes_no_sense_is_refused_with_the_place(chain: Chain, message: str) -> None:
    with pytest.raises(BadInput) as refused:
        solve(chain)
    assert message in str(refused.value)


def test_every_fault_of_a_chain_is_told_at_once() -> None:
    chain = Chain(
        levels=(Level(name="a", sd=0.1), Level(name="a")),
        steps=(Step(name="s", lower="a", upper="b", tolerance=-1),),
    )
    with pytest.raises(BadInput) as refused:
        solve(chain)
    assert len(refused.value.faults) == 4
