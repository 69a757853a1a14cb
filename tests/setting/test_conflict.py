"""Conflicts: the smallest clashing set, and the least change that cures it exactly."""

from __future__ import annotations

from itertools import combinations
from typing import Any

import numpy as np
import pytest
from scipy.optimize import linprog
from tests.setting.walls import Hole, job_of, set_job

from sillwright.setting.conflict import least_change, smallest_clash
from sillwright.setting.demands import Asked
from sillwright.setting.model import Setting


def setting_of(*holes: Hole, **parts: Any) -> Setting:
    return set_job(job_of(*holes, **parts))


def some_demands(seed: int) -> list[Asked]:
    rng = np.random.default_rng(seed)
    keys = ("line 0", "line 1", "line 2")
    found = []
    for k in range(7):
        plus, minus = rng.permutation(keys)[:2]
        low, high = sorted(rng.uniform(-1.0, 1.0, 2))
        one_sided = rng.integers(3)
        found.append(
            Asked(
                name=f"{'ABCDEFG'[k]}: demand",
                text="",
                give="{}",
                plus=str(plus),
                minus=str(minus) if rng.random() < 0.5 else "",
                low=-np.inf if one_sided == 0 else float(low),
                high=np.inf if one_sided == 1 else float(high),
            )
        )
    return found


def can_hold(asked: list[Asked]) -> bool:
    """Tell whether demands can be met together. Reference: scipy.optimize.linprog."""
    keys = sorted({key for demand in asked for key in (demand.plus, demand.minus) if key})
    rows, limits = [], []
    for demand in asked:
        row = np.zeros(len(keys))
        row[keys.index(demand.plus)] += 1.0
        if demand.minus:
            row[keys.index(demand.minus)] -= 1.0
        for sign, limit in ((1.0, demand.high), (-1.0, -demand.low)):
            if np.isfinite(limit):
                rows.append(sign * row)
                limits.append(limit)
    if not rows:
        return True
    answer = linprog(np.zeros(len(keys)), A_ub=np.array(rows), b_ub=np.array(limits), bounds=(None, None))
    return bool(answer.status == 0)


@pytest.mark.parametrize("seed", range(30))
def test_the_clash_is_the_smallest_of_all_sets(seed: int) -> None:
    asked = some_demands(seed)
    clash = smallest_clash(asked)
    if can_hold(asked):
        assert not clash
        return
    assert not can_hold(clash)
    for one in clash:
        assert can_hold([demand for demand in clash if demand is not one])
    for fewer in combinations(asked, len(clash) - 1):
        assert can_hold(list(fewer))


@pytest.mark.parametrize("seed", range(30))
def test_the_least_change_is_enough_and_no_less_is(seed: int) -> None:
    asked = some_demands(seed)
    for demand in smallest_clash(asked):
        give = least_change(asked, [demand])
        if give is None:
            continue

        def eased(by: float, demand: Asked = demand) -> list[Asked]:
            wide = Asked(
                name=demand.name, text="", give="", plus=demand.plus, minus=demand.minus,
                low=demand.low - by, high=demand.high + by,
            )  # fmt: skip
            return [wide if each is demand else each for each in asked]

        assert can_hold(eased(give[0] + 1e-6))
        assert not can_hold(eased(give[0] - 1e-4))


def test_a_hump_above_the_head_limit_names_planing_and_head_and_what_cures_it() -> None:
    """By hand: line at most 48 - 47.5 - 1/4 - 1/8 = 1/8, at least 1/2 - 1/32 (stands within tolerance)."""
    tall = {"frame_height": 47.5}
    hole = Hole(name="A", left=10.0, sill=(0.4, 0.5, 0.45), head=48.0, unit=tall)
    setting = setting_of(hole)
    (conflict,) = setting.conflicts
    assert {d.name for d in conflict.demands} == {"A: planing", "A: head"}
    assert conflict.by == pytest.approx(0.5 - 1 / 32 - 0.125, abs=2e-3)
    assert "no planing" in conflict.demands[0].text
    assert not setting.units
    assert setting.order_sizes[0].largest is not None

    def planed(most: float) -> Setting:
        return setting_of(hole, kit={"planing_max": most})

    assert not planed(0.375 + 0.005).conflicts  # from none to the whole hump above the line
    assert planed(0.375 - 0.005).conflicts
    lower = {"frame_height": 47.5 - conflict.by - 0.002}
    assert not setting_of(Hole(name="A", left=10.0, sill=(0.4, 0.5, 0.45), head=48.0, unit=lower)).conflicts
    still = {"frame_height": 47.5 - conflict.by + 0.002}
    assert setting_of(Hole(name="A", left=10.0, sill=(0.4, 0.5, 0.45), head=48.0, unit=still)).conflicts


def test_two_openings_on_one_line_can_clash_though_each_alone_can_be_set() -> None:
    high = Hole(name="A", left=10.0, sill=(1.5, 1.5, 1.5), head=50.0)
    low = Hole(name="B", left=60.0, head=48.0)
    together = setting_of(high, low)
    (conflict,) = together.conflicts
    assert conflict.openings == ("A", "B")
    assert {d.name for d in conflict.demands} == {"A: planing", "B: head"}
    assert {size.opening for size in together.order_sizes} == {"A", "B"}
    apart = setting_of(high, low, step="allowed")
    assert not apart.conflicts
    assert apart.rows[0].stepped


def test_a_conflict_in_one_row_leaves_the_others_set() -> None:
    bad = Hole(name="B", left=60.0, sill=(0.4, 0.5, 0.45), head=47.5)
    rows = [{"openings": ["A"]}, {"openings": ["B"]}]
    setting = setting_of(Hole(name="A", left=10.0), bad, row=rows)
    assert [unit.opening for unit in setting.units] == ["A"]
    assert [conflict.in_rows for conflict in setting.conflicts] == [(("B",),)]
    tied = setting_of(
        Hole(name="A", left=10.0), bad, row=rows, head_line=[{"openings": ["A", "B"], "within": 0.5}]
    )
    assert [unit.opening for unit in tied.units] == ["A"]


def test_a_head_line_that_cannot_be_met_is_named_and_the_rows_are_set_without_it() -> None:
    rows = [{"openings": ["A"]}, {"openings": ["B"]}]
    short = Hole(name="B", left=60.0, unit={"frame_height": 45.0})

    def with_within(within: float) -> Setting:
        tie = [{"openings": ["A", "B"], "within": within}]
        return setting_of(Hole(name="A", left=10.0), short, row=rows, head_line=tie)

    setting = with_within(0.0625)
    (conflict,) = setting.conflicts
    assert "A + B: head line" in [d.name for d in conflict.demands]
    assert {unit.opening for unit in setting.units} == {"A", "B"}
    assert not with_within(0.0625 + conflict.by + 0.001).conflicts
    assert with_within(0.0625 + conflict.by - 0.02).conflicts


def test_a_head_line_within_one_row_says_that_both_stand_on_one_line() -> None:
    short = Hole(name="B", left=60.0, unit={"frame_height": 45.0})
    tie = [{"openings": ["A", "B"], "within": 0.0625}]
    (conflict,) = setting_of(Hole(name="A", left=10.0), short, head_line=tie).conflicts
    assert [d.name for d in conflict.demands] == ["A + B: head line"]
    assert "one line" in conflict.demands[0].text
    assert conflict.by == pytest.approx(2.0 - 0.0625)


def test_tops_held_by_a_head_line_are_as_near_as_asked() -> None:
    rows = [{"openings": ["A"]}, {"openings": ["B"]}]
    holes = (Hole(name="A", left=10.0), Hole(name="B", left=60.0, unit={"frame_height": 46.8}))
    tie = [{"openings": ["A", "B"], "within": 0.0}]
    setting = setting_of(*holes, row=rows, head_line=tie)
    tops = [unit.top for unit in setting.units]
    assert tops[0] == pytest.approx(tops[1], abs=1e-6)
    assert not setting.conflicts


def test_a_unit_too_wide_is_cured_by_exactly_what_is_said() -> None:
    wide = setting_of(Hole(name="A", left=10.0, unit={"frame_width": 36.4}))
    (conflict,) = wide.conflicts
    assert {d.name for d in conflict.demands} == {"A: left", "A: right"}
    assert conflict.by == pytest.approx(0.15, abs=1e-3)
    assert '5/32"' in conflict.cure  # rounded up, so that so much is enough
    assert wide.units[0].left_clearance is not None
    for off, clash in ((0.002, False), (-0.002, True)):
        width = 36.4 - conflict.by - off
        assert bool(setting_of(Hole(name="A", left=10.0, unit={"frame_width": width})).conflicts) is clash


def test_a_unit_too_narrow_for_its_largest_clearance_is_set_and_said() -> None:
    unit = {"frame_width": 35.0, "most_side_clearance": 0.5}
    setting = setting_of(Hole(name="A", left=10.0, unit=unit))
    (conflict,) = setting.conflicts
    assert {d.name for d in conflict.demands} == {"A: most left", "A: most right"}
    assert conflict.by == pytest.approx(0.5, abs=1e-3)
    assert len(setting.units) == 1


def test_a_unit_too_low_for_its_largest_head_clearance_is_set_and_said() -> None:
    unit = {"frame_height": 40.0, "most_head_clearance": 0.5}
    setting = setting_of(Hole(name="A", left=10.0, unit=unit))
    (conflict,) = setting.conflicts
    assert {d.name for d in conflict.demands} == {"A: pads", "A: most head"}
    assert len(setting.units) == 1
    raised = {"frame_height": 47.0, "most_head_clearance": 1.0}
    lifted = setting_of(Hole(name="A", left=10.0, unit=raised))
    assert not lifted.conflicts
    assert lifted.units[0].head_clearance is not None
    assert lifted.units[0].head_clearance.least <= 1.0 + 1e-3


def test_stock_that_cannot_make_the_pads_is_named_with_the_shim_that_can() -> None:
    hole = Hole(name="A", left=10.0, sill=(0.0, 0.1, 0.25))
    taper = {"thickness": "1/4", "thin": "1/16"}
    (conflict,) = setting_of(hole, kit={"shims": [taper]}).conflicts
    assert [d.name for d in conflict.demands] == ["stock"]
    assert conflict.cure == "Get shims of 1/4."
    assert not setting_of(hole, kit={"shims": [taper, "1/4"]}).conflicts


def test_stock_that_no_shim_cures_says_how_far_pads_must_miss() -> None:
    hole = Hole(name="A", left=10.0, sill=(0.0, -0.7, 0.0))
    (conflict,) = setting_of(
        hole,
        kit={"shims": [{"thickness": "1/4", "count": 0}], "largest_pad": 0.75},
        tolerances={"pad": 0.001},
    ).conflicts
    assert "Get shims" in conflict.cure or "miss" in conflict.cure


def test_every_unit_of_a_row_in_conflict_still_has_its_order_size() -> None:
    rows = (Hole(name="A", left=10.0), Hole(name="B", left=60.0, sill=(0.4, 0.5, 0.45), head=47.5))
    setting = setting_of(*rows)
    assert not setting.units
    sizes = {size.opening: size for size in setting.order_sizes}
    assert set(sizes) == {"A", "B"}
    assert sizes["B"].asked is not None
    assert sizes["B"].asked.probability < 0.01
    assert sizes["B"].largest is not None
    assert sizes["B"].largest.height < 47.0
