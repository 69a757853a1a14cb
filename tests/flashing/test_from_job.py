"""What a job says of its wall, in the shape that water takes it in; what it does not say is told."""

from __future__ import annotations

import math

import pytest
from tests.flashing.dressings import a_job, dress_job, dressing_of, names
from tests.setting.walls import Hole, job_of, text_of

from sillwright.flashing.design_head import design_head
from sillwright.flashing.from_job import FIN, FRAME_DEPTH
from sillwright.flashing.geometry import BACK_DAM
from sillwright.job import Job, Water, read_job
from sillwright.plan import plan
from sillwright.rules import rule_book
from sillwright.water import RoughOpening

BOOK = rule_book("2018")


def opening(job: Job) -> RoughOpening:
    to_dress = dress_job(job).source.to_dress
    assert to_dress is not None
    return to_dress.wall.openings[0]


def reasons(job: Job) -> dict[str, str]:
    return {each.opening: each.reason for each in dress_job(job).source.left_out}


def keys(job: Job) -> list[str]:
    return [each.key for each in dress_job(job).source.assumed]


def test_corners_are_where_the_adjusted_jacks_meet_the_adjusted_sill_and_head() -> None:
    """A sill that rises 1/4 in over 36 1/2 in, jacks that lean: every corner is worked out by hand."""
    hole = Hole(
        name="A",
        left=30.0,
        sill=(0.0, 0.125, 0.25),
        head=(48.5, 48.5, 48.5),
        leans=(0.445, 0.445),
        unit={"frame_width": 35.0},
    )
    a, b, c, d = opening(a_job(hole)).corners
    slope = 0.25 / 32.5
    lean = 0.445 / 44.5
    assert a == pytest.approx((30.0 - 2.0 * lean, -2.0 * slope), abs=0.03)
    assert b == pytest.approx((66.5 - 2.0 * lean, 0.25 + 2.0 * slope), abs=0.03)
    assert c == pytest.approx((66.5 + 46.4 * lean, 48.5), abs=0.03)
    assert d == pytest.approx((30.0 + 46.4 * lean, 48.5), abs=0.03)


def test_depth_is_the_sum_of_the_pieces_of_the_wall_or_what_was_read() -> None:
    assert opening(a_job()).depth == 4.5
    hole = Hole(name="A", left=30.0)
    assert reasons(job_of(hole)) == {"A": "the depth of its wall is not known"}
    read = read_job(text_of(hole).replace('name = "A",', 'name = "A", wall_thickness = { top_left = 5 },'))
    assert opening(read).depth == pytest.approx(5.0, abs=0.01)


def test_the_fall_of_the_sill_is_what_was_read_with_the_strip_or_what_is_said() -> None:
    hole = Hole(name="A", left=30.0, inner=(0.25, 0.25, 0.25))
    assert opening(a_job(hole)).sill_rise == pytest.approx(0.25 / 4.5, abs=1e-3)
    strip = job_of(
        hole,
        water={"wall_pieces": ["4 1/2"]},
        kit={"sloped_strip": {"thick": 0.5, "thin": 0.125}},
    )
    assert opening(strip).sill_rise == pytest.approx(0.625 / 4.5, abs=1e-3)
    assert opening(a_job(hole, sill_slope_pct=8)).sill_rise == pytest.approx(0.08)


def test_a_sill_without_its_inner_edge_is_taken_level_and_that_is_told() -> None:
    assert opening(a_job()).sill_rise == 0.0
    assert "water.sill_slope_pct" in keys(a_job())
    assert "water.sill_slope_pct" not in keys(a_job(sill_slope_pct=2))


def test_what_is_not_said_is_taken_and_told_and_what_is_said_is_not_told() -> None:
    assert opening(a_job()).dam == BACK_DAM
    told = {"unit.fin", "unit.frame_depth", "water.back_dam"}
    assert told <= set(keys(a_job()))
    hole = Hole(name="A", left=30.0, unit={"fin": "1 1/2", "frame_depth": "3"})
    said = keys(a_job(hole, back_dam="1/2"))
    assert not {"unit.fin", "unit.frame_depth", "water.back_dam"} & set(said)
    assert opening(a_job(hole, back_dam="1/2")).dam == 0.5


def test_a_fin_counts_from_the_wall_not_from_the_frame() -> None:
    """Frame 36 by 47 in, opening 36 1/2 wide, its head at 48 1/2; the underside stands 1/4 above the line."""
    hole = Hole(name="A", left=30.0, unit={"fin": "2"})
    to_dress = dress_job(a_job(hole)).source.to_dress
    assert to_dress is not None
    assert to_dress.units[0].fin == pytest.approx(2.0 - 1.25, abs=0.05)
    assert to_dress.units[0].depth == FRAME_DEPTH


def test_a_fin_that_does_not_reach_the_wall_leaves_the_opening_out() -> None:
    hole = Hole(name="A", left=30.0, unit={"fin": "1"})
    assert reasons(a_job(hole)) == {"A": "the fin of its unit does not reach the wall all round"}


def test_units_without_fins_are_set_in_a_lined_opening() -> None:
    hole = Hole(name="A", left=30.0, unit={"fin": 0})
    found = dress_job(a_job(hole)).source
    assert found.scheme.name == "lined opening"
    assert found.to_dress is not None
    assert found.to_dress.units[0].fin is None
    assert "unit.fin" not in keys(a_job(hole))


def test_a_unit_set_back_lets_rain_on_the_front_of_the_sill() -> None:
    hole = Hole(name="A", left=30.0, unit={"fin": 0, "set_back": "1 1/2"})
    assert opening(a_job(hole, scheme="recessed unit")).front == 1.5
    deep = Hole(name="A", left=30.0, unit={"fin": 0, "set_back": "6"})
    assert reasons(a_job(deep)) == {"A": "its unit is set back further than the wall is deep"}


@pytest.mark.parametrize(
    ("hole", "reason"),
    [
        (Hole(name="A", left=30.0, unit={"none": True}), "no unit is to be set in it"),
        (Hole(name="A", left=30.0, head=None), "its head was not read"),
    ],
)
def test_what_the_readings_do_not_settle_is_left_out_with_the_reason(hole: Hole, reason: str) -> None:
    assert reasons(a_job(hole)) == {"A": reason}


def test_a_place_along_the_wall_matters_only_beside_others() -> None:
    taped, loose = Hole(name="A", left=30.0), Hole(name="B", left=90.0, has_jacks=False)
    assert "B" in reasons(a_job(taped, loose))
    assert [each.name for each in _dressed_openings(a_job(taped, loose))] == ["A"]


def _dressed_openings(job: Job) -> tuple[RoughOpening, ...]:
    to_dress = dress_job(job).source.to_dress
    return () if to_dress is None else to_dress.wall.openings


def test_a_roll_too_narrow_for_the_pan_leaves_the_opening_out() -> None:
    roll = {"name": "narrow", "use": ["pan"], "family": "butyl tape", "width": 6}
    found = reasons(a_job(roll=[roll]))
    assert found == {"A": "the roll for the pan is too narrow for sill, back dam and an apron"}


def test_rolls_of_the_job_are_used_and_cut_pieces_short_where_they_are_narrow() -> None:
    roll = {"name": "roll A", "use": ["strip", "tape"], "family": "acrylic tape", "width": 3}
    job = a_job(roll=[roll])
    source = dress_job(job).source
    assert source.to_dress is not None
    assert source.to_dress.rolls.strip.name == "roll A"
    assert source.to_dress.sizes.head_strip == 3.0
    assert source.to_dress.sizes.tape == 1.5
    assert {"water.sizes.head_strip", "water.sizes.tape"} <= set(keys(job))
    assert source.stock.stated == {"roll A"}


def test_choices_of_the_job_change_the_scheme() -> None:
    source = dress_job(a_job(scheme="strips over the fin", wrap="after the unit")).source
    assert source.scheme.name == "strips over the fin, changed"
    assert source.scheme.wrap.value == "after the unit"


def test_an_opening_at_the_end_of_the_wall_is_left_out() -> None:
    assert reasons(a_job(wall_left=30)) == {"A": "it reaches to the end of the wall"}
    assert reasons(a_job(wall_left=10)) == {}
    wall = dress_job(a_job(wall_left=10)).source.to_dress
    assert wall is not None
    assert wall.wall.x[0] == 10.0


def test_the_order_of_openings_in_the_file_changes_nothing() -> None:
    one, other = Hole(name="A", left=30.0), Hole(name="B", left=90.0)
    assert names(dressing_of(a_job(one, other))) == names(dressing_of(a_job(other, one)))


# --- the head of water


def head(**said: object) -> float:
    return design_head(Water.model_validate(said), BOOK, units="in").head


def test_a_head_may_be_said_in_several_ways_that_agree() -> None:
    """1 psf = 47.88 Pa (NIST SP 811, app. B.8); 2.9 psf, 140 Pa: least water test of class R (NAFS)."""
    assert head(head="1/2") == 0.5
    assert head(pressure_Pa=138.85) == pytest.approx(head(pressure_psf=2.9), rel=1e-4)
    assert head(wind_km_h=80.4672) == pytest.approx(head(wind_mph=50))
    assert head(performance_class="R", design_pressure_psf=40) == pytest.approx(head(pressure_psf=6.0))
    assert head() == head(pressure_psf=2.9)


def test_a_head_that_was_taken_is_told() -> None:
    assert design_head(Water(), BOOK, units="in").assumed[0].key == "water.pressure_psf"
    assert design_head(Water(head=0.0), BOOK, units="in").assumed == ()
    assert math.isclose(design_head(Water(head=0.5), BOOK, units="in").psf, 2.6, rel_tol=0.01)


def test_the_usual_fin_is_one_that_reaches() -> None:
    to_dress = dress_job(a_job()).source.to_dress
    assert to_dress is not None
    fin = to_dress.units[0].fin
    assert fin is not None
    assert 0.25 <= fin < FIN


def test_a_job_may_want_no_water_plan() -> None:
    made = plan(a_job(scheme="none"))
    assert made.water is None
    (row,) = (each for each in made.inspection if each.id == "finding.unchecked.flashing")
    assert (row.result, row.severity) == ("not checked", "watch")
    assert "the slope of the sills; no water plan is wanted" in row.what
    own = plan(a_job(scheme="own pieces"))
    (row,) = (each for each in own.inspection if each.id == "finding.unchecked.flashing")
    assert "all pieces are the job's own" in row.what
