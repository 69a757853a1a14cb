"""How surely a unit fits: hand-worked limits, plain Monte Carlo and a library's multivariate normal."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest
from scipy.stats import multivariate_normal, norm
from tests.setting.walls import SHARP, Hole, job_of, set_job

from sillwright.job import Job
from sillwright.setting.bearing import bearings
from sillwright.setting.fit import Needs, needs, odds
from sillwright.setting.model import Setting
from sillwright.setting.room import meeting
from sillwright.survey import Wall, cleanse


def asked(job: Job, *, line: float) -> Needs:
    wall, unit = Wall(cleanse(job)), job.unit[0]
    borne = bearings(wall, job.kit, unit, grid=0.5)
    return needs(meeting(wall, borne), job.kit, unit, line=line, trimmed=0.0)


def rough(width: float, height: float = 47.0, sd: float = 0.03) -> Job:
    unit = {"frame_width": width, "frame_height": height}
    hole = Hole(name="A", left=10.0, width=36.5, leans=(0.06, -0.05), head=(48.5, 48.44, 48.55), unit=unit)
    return job_of(hole, sd=sd, assume={"jack_bow": 0.125})


@pytest.mark.parametrize("width", [36.0, 36.1, 36.2, 36.3])
@pytest.mark.parametrize("line", [0.3, 0.95])
def test_the_chance_to_fit_is_what_a_million_made_walls_give(width: float, line: float) -> None:
    need = asked(rough(width), line=line)
    rng = np.random.default_rng(20)
    value, vector = np.linalg.eigh(need.meeting.covariance)
    spread = need.rows @ (vector * np.sqrt(np.maximum(value, 0.0)))
    expected = (need.rows @ need.meeting.mean + need.constant)[:, None]
    many = (spread @ rng.standard_normal((len(value), 100_000)) + expected for _ in range(10))
    share = np.mean([(rooms >= 0.0).all(axis=0).mean() for rooms in many])
    # three standard errors of the count, and the integration's own 4e-3 (tests/survey/test_orthant.py)
    assert odds(need) == pytest.approx(share, abs=3.0 * (share * (1 - share) / 1e6) ** 0.5 + 4e-3)


@pytest.mark.parametrize("width", [36.05, 36.2])
def test_the_chance_to_fit_agrees_with_a_library(width: float) -> None:
    """Reference: scipy.stats.multivariate_normal.cdf on the weakest needs, which decide here."""
    need = asked(rough(width), line=0.3)
    mean, covariance = need.mean, need.covariance
    weakest = np.argsort(mean / np.sqrt(np.diag(covariance)))[:6]
    part = Needs(
        meeting=need.meeting,
        rows=need.rows[weakest],
        constant=need.constant[weakest],
        what=tuple(need.what[k] for k in weakest),
    )
    block = covariance[np.ix_(weakest, weakest)]
    normal = multivariate_normal(np.zeros(6), block, allow_singular=True, seed=1)
    assert odds(part) == pytest.approx(normal.cdf(mean[weakest]), abs=2e-3)


def test_one_doubtful_room_has_the_normal_chance_of_its_own() -> None:
    job = rough(30.0, height=47.9)
    need = asked(job, line=0.2)
    k = need.weakest()
    alone = norm.cdf(need.mean[k] / need.covariance[k, k] ** 0.5)
    assert "head room" in need.what[k]
    assert odds(need) <= alone + 1e-9


def setting_of(hole: Hole, **parts: Any) -> Setting:
    return set_job(job_of(hole, **parts))


def fits(setting: Setting) -> float:
    fit = setting.units[0].fit
    assert fit is not None
    return fit.probability


def test_a_leaning_opening_holds_less_than_its_smallest_tape() -> None:
    """Both jacks lean 3/8 over 44 1/2 in: a parallelogram, 36 1/2 wide wherever it is taped.

    By hand: a plumb box between readings 2 in from the ends loses the lean, and more beyond them: up to the
    unit's top, 48 in, the jack leans 3/8 x 48 / 44.5 = 0.40; room 36.5 - 0.40 = 36.10 less 2 x 1/8.
    """
    for width, sure in ((35.80, True), (35.87, False)):
        hole = Hole(name="A", left=10.0, leans=(0.375, 0.375), unit={"frame_width": width})
        setting = setting_of(hole)
        tape = setting.order_sizes[0].smallest_tape
        assert tape is not None
        assert tape[0] == pytest.approx(36.25)
        assert (fits(setting) > 0.99) is sure
        assert (fits(setting) < 0.01) is not sure


def test_crossed_legs_count_against_each_other() -> None:
    """The left jack leans in 1/4, the right one leans out 1/4: the top is shifted, not narrowed.

    Taped widths are 36.5 all the way; the left jack's top and the right jack's bottom decide: 36.5 - 0.27 at
    48 in up, less 1/4.
    """
    wide = setting_of(Hole(name="A", left=10.0, leans=(0.25, 0.25), unit={"frame_width": 36.05}))
    assert fits(wide) < 0.01
    assert [c.name for c in wide.conflicts[0].demands] == ["A: left", "A: right"]
    assert fits(setting_of(Hole(name="A", left=10.0, leans=(0.25, 0.25), unit={"frame_width": 35.95}))) > 0.99


def test_a_bow_between_the_heights_taped_counts() -> None:
    """A hanging line beside the left jack shows 3/16 bow at 36 in up; bottom, middle and top tapes do not."""
    opening = {
        "name": "A",
        "left_jack_x": 10.0,
        "width": {"bottom": 36.5, "middle": 36.5, "top": 36.5},
        "plumb": {"right": {"over_height": 44.0, "top_leans_right": 0.0}},
        "plumb_line": {"left": {"at": [2.0, 24.25, 36.0, 46.5], "gap": [1.0, 1.0, 0.8125, 1.0]}},
    }
    for width, sure in ((36.0, True), (36.12, False)):
        hole = Hole(name="A", left=10.0, unit={"frame_width": width})
        setting = setting_of(hole, opening=[opening], sd=0.003, assume={"jack_bow": 0.125})
        assert (fits(setting) > 0.99) is sure
        assert (fits(setting) < 0.01) is not sure
        tape = setting.order_sizes[0].smallest_tape
        assert tape is None or tape[0] == pytest.approx(36.25)


def test_a_crowned_sill_under_a_sagging_head_leaves_less_than_any_height_taped() -> None:
    """Heights taped: 48.5 left, 48.5 centre, 48.5 right; the crown is at the left end, the sag at the right.

    By hand: the sill falls 0.5 from left to right and so does the head. Level on the high end without planing
    the line is at 0.5 (highest sill), the lowest head 48.5: room 48.0, less stack 0.25 and clearance 0.125.
    """
    for height, sure in ((47.55, True), (47.70, False)):
        hole = Hole(
            name="A",
            left=10.0,
            sill=(0.5, 0.25, 0.0),
            head=(49.0, 48.75, 48.5),
            unit={"frame_height": height},
        )
        setting = setting_of(hole)
        if sure:
            assert fits(setting) > 0.99
        else:
            assert {d.name for d in setting.conflicts[0].demands} == {"A: planing", "A: head"}
            assert setting.order_sizes[0].asked is not None


def test_a_unit_fits_where_the_smallest_tape_says_no() -> None:
    """One tape of the middle is 1/4 short, three better ones say so: the smallest is not the answer."""
    opening = {
        "name": "A",
        "left_jack_x": 10.0,
        "width": {"bottom": 36.5, "middle": [36.25, 36.5, 36.5, 36.5], "top": 36.5},
        "plumb_line": {
            side: {"at": [2.0, 24.25, 46.5], "gap": [1.0, 1.0, 1.0]} for side in ("left", "right")
        },
    }
    hole = Hole(name="A", left=10.0, unit={"frame_width": 36.06})
    setting = setting_of(hole, opening=[opening], sd=0.02)
    tape = setting.order_sizes[0].smallest_tape
    assert tape is None or tape[0] < 36.06
    assert fits(setting) > 0.95


def test_inner_faces_count_too_and_many_points_do_not_break_the_odds() -> None:
    base: dict[str, object] = {
        "name": "A",
        "left_jack_x": 10.0,
        "width": {"bottom": 36.5, "middle": 36.5, "top": 36.5},
        "plumb": {side: {"over_height": 44.0, "top_leans_right": 0.0} for side in ("left", "right")},
    }
    narrow = base | {"width_inner": {"bottom": 36.5, "middle": 36.3, "top": 36.3}}
    hole = Hole(name="A", left=10.0, inner=(0.0, 0.0, 0.0), unit={"frame_width": 36.15})
    free = setting_of(hole, opening=[base], sd=0.005, assume={"jack_bow": 0.01})
    held = setting_of(hole, opening=[narrow], sd=0.005, assume={"jack_bow": 0.1})
    assert fits(free) > 0.9
    assert fits(held) < 0.01


def test_a_unit_whose_width_was_not_taped_is_judged_by_its_head_alone() -> None:
    unit = setting_of(Hole(name="A", left=10.0, has_jacks=False)).units[0]
    assert unit.fit is not None
    assert unit.fit.not_determined == ("room at the sides",)
    assert unit.left_clearance is None
    assert not unit.position_known


def test_the_largest_size_is_the_one_that_fits_by_hand() -> None:
    """A square opening 36.5 x 48.5 with exact readings: steps of 1/8, less clearances, stack and line."""
    setting = setting_of(Hole(name="A", left=10.0), sd=SHARP)
    size, line = setting.order_sizes[0], setting.rows[0].lines[0].z
    assert size.largest is not None
    assert size.largest.width == 36.125  # 36.25 is the room itself: an even chance
    assert size.largest.height == pytest.approx(np.floor((48.5 - line - 0.25 - 0.125) * 8 - 0.01) / 8)
