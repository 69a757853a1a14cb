"""From the least that people take to odd things: a result that invents nothing, or a plain refusal."""

from __future__ import annotations

import pytest

from sillwright.errors import NotDetermined
from sillwright.job import read_job
from sillwright.survey import Survey, Wall, cleanse, report
from sillwright.survey.model import OpeningShape

KIT = """
sillwright = 1
title = "Invented wall"
invented = true
[kit]
shims = ["1/16", "1/8"]
shim_width = "1 1/2"
"""
UNIT = """
[[unit]]
opening = "A"
kind = "casement"
frame_width = 35
frame_height = 47
least_side_clearance = "1/4"
least_head_clearance = "1/4"
largest_out_of_plane = "1/8"
"""
LASER = """
[[setup]]
name = "one"
x = 20
series = [
 { sill = "A", x = 12, down = 40 },
 { sill = "A", x = 30, down = "40 1/8" },
 { sill = "A", x = 44, down = "40 1/4" },
]
"""
SHOT = """
[[setup]]
name = "one"
x = 20
series = [{ sill = "A", x = 12, down = 40 }]
"""
A = '[[opening]]\nname = "A"\n'
PLUMB_LINE = (
    'plumb_line = { left = { at = [2, 12, 24, 36, 46], gap = ["1/2", "1/2", "5/8", "1/2", "1/2"] } }\n'
)
DIAGONALS = 'diagonal = { bottom_left_to_top_right = 60, bottom_right_to_top_left = "60 1/2" }\n'
STRING = """
[wall]
string = { height = 30, clear = 2, offsets = [
 { x = 10, gap = 2 }, { x = 46, gap = "2 1/8" }, { x = 80, gap = 2 } ] }
"""

JOBS = {
    "shots and a unit": LASER + A + UNIT,
    "one shot": SHOT + A + UNIT,
    "an opening, nothing read": A,
    "a unit and an opening, nothing read": UNIT + A,
    "only a width": A + "width = { middle = 36 }\n" + UNIT,
    "only heights": A + 'height = { left = 48, right = "48 1/8" }\n',
    "only diagonals": A + DIAGONALS,
    "diagonals and a width": A + DIAGONALS + "width = { bottom = 36 }\n",
    "diagonals, a width, a height": A + DIAGONALS + "width = { bottom = 36 }\nheight = { left = 48 }\n",
    "one jack": LASER + A + "left_jack_x = 10\n",
    "one jack, no laser": A + "left_jack_x = 10\n",
    "two jacks": A + "left_jack_x = 10\nright_jack_x = 46\n",
    "a plumb line": LASER + A + "width = { bottom = 36, top = 36 }\n" + PLUMB_LINE,
    "a plumb line, no width": LASER + A + PLUMB_LINE,
    "leans only": A + 'plumb = { left = { over_height = 44, top_leans_right = "1/8", top_leans_in = 0 } }\n',
    "room side only": A + "width_inner = { bottom = 36 }\nheight_inner = { left = 48 }\n",
    "both faces": A
    + "width = { bottom = 36 }\nwidth_inner = { bottom = 36, top = 36 }\n"
    + "height = { left = 48 }\nheight_inner = { left = 48, right = 48 }\n",
    "strings only": A + 'string_gap = "1/8"\n',
    "strings and a width": A + 'string_gap = "1/8"\nwidth = { middle = 36 }\n',
    "thickness only": A + "wall_thickness = { top_left = 5 }\n",
    "string along the wall": STRING + A + "left_jack_x = 10\nwidth = { middle = 36 }\n",
    "string along the wall alone": STRING,
    "readings in lists": LASER
    + A
    + 'width = { middle = [36, "36 1/16", 36] }\nheight = { centre = [48, 48] }\n',
    "marks only": '[[setup]]\nname = "a"\nx = 0\nseries = [{ mark = "M", x = 0, down = 10 }]\n',
    "points only": '[[setup]]\nname = "a"\nx = 0\nseries = [{ point = "floor", x = 0, down = 10 }]\n',
    "head shots only": '[[setup]]\nname = "a"\nx = 0\nseries = [{ head = "A", x = 10, down = -40 }]\n' + A,
    "inner shots only": '[[setup]]\nname = "a"\nx = 0\n'
    + 'series = [{ sill = "A", x = 12, down = 8, edge = "inner" }]\n'
    + A,
    "taped nearer than half": A + "near = 30\nwidth = { middle = 36 }\nheight = { left = 48 }\n",
    "very small": A + 'width = { bottom = "1/16" }\nheight = { left = "1/16" }\n',
    "one place shot three times": '[[setup]]\nname = "a"\nx = 0\nseries = [{ sill = "A", x = 1, down = 8 }, '
    + '{ sill = "A", x = 1, down = 8 }, { sill = "A", x = 1, down = 12 }]\n'
    + A,
    "a level longer than the jack": A
    + "width = { middle = 36 }\nheight = { left = 48 }\n"
    + 'plumb = { left = { over_height = 200, top_leans_right = "1/4" } }\n',
}


def survey_of(name: str) -> Survey:
    job = read_job(KIT + JOBS[name])
    return report(job, cleanse(job))


def shape_of(name: str) -> OpeningShape:
    (shape,) = survey_of(name).openings
    return shape


def said(name: str) -> str:
    return "; ".join(survey_of(name).not_determined)


@pytest.mark.parametrize("name", JOBS)
def test_whatever_was_read_gives_a_survey_with_finite_numbers(name: str) -> None:
    job = read_job(KIT + JOBS[name])
    solution = cleanse(job)
    survey = report(job, solution)
    values = [s for o in survey.openings for s in (*o.sill_outer, *o.head_outer, *o.left_jack, *o.right_jack)]
    assert all(abs(s.value) < 1e6 and 0.0 <= s.sd < 1e4 for s in values)
    assert len(survey.openings) == len(job.opening)
    assert Wall(solution).openings.keys() == {o.name for o in job.opening}


@pytest.mark.parametrize("name", [n for n in JOBS if "place shot" not in n and "large" not in n])
def test_readings_that_nothing_contradicts_are_not_accused(name: str) -> None:
    survey = survey_of(name)
    assert not survey.suspects
    assert not survey.disturbed


def test_a_job_without_openings_and_set_ups_is_refused_with_what_to_add() -> None:
    with pytest.raises(NotDetermined, match=r"add an \[\[opening\]\] or a \[\[setup\]\]"):
        cleanse(read_job(KIT))


def test_readings_too_far_apart_for_any_wall_are_refused_with_what_to_look_at() -> None:
    text = A + "width = { bottom = 10000, top = 1 }\nheight = { left = 10000 }\n" + DIAGONALS
    with pytest.raises(NotDetermined, match=r"wrong digit or a wrong unit: A: .*opening\[0\]"):
        cleanse(read_job(KIT + text))


def test_shots_and_a_unit_tell_the_low_end_and_no_room() -> None:
    shape = shape_of("shots and a unit")
    assert shape.low_end == "right"
    assert all(s.measured for s in shape.sill_outer)
    assert shape.head_outer == ()
    assert shape.left_jack == ()
    text = said("shots and a unit")
    assert "room at the sides is not known" in text
    assert "head room is not known" in text
    assert "pads are known at the front only" in text
    assert "level" not in text


def test_one_shot_tells_one_height_and_no_level() -> None:
    shape = shape_of("one shot")
    assert [s.measured for s in shape.sill_outer].count(True) == 1
    assert shape.low_end is None
    assert "level end to end is not known" in said("one shot")


def test_a_width_alone_tells_the_room_and_not_which_jack_bows() -> None:
    shape = shape_of("only a width")
    assert shape.right - shape.left == pytest.approx(36.0, abs=0.01)
    assert not shape.level_known
    assert not shape.position_known
    assert not any(s.measured for s in (*shape.left_jack, *shape.right_jack, *shape.sill_outer))
    assert "which jack bows is not known" in said("only a width")
    assert "its place along the wall is not known" in said("only a width")


def test_readings_that_need_others_are_said_to_wait() -> None:
    assert "diagonals are not used yet, they need a width and a height" in said("only diagonals")
    assert "diagonals are not used yet" in said("diagonals and a width")
    assert "diagonals are not used yet" not in said("diagonals, a width, a height")
    for name in ("one jack, no laser", "leans only", "strings only", "a plumb line, no width"):
        assert "what was read at the jacks is not used yet" in said(name)


def test_a_head_shot_without_a_height_tells_no_head_room() -> None:
    assert "nothing ties the head to the sill" in said("head shots only")


def test_a_plumb_line_tells_which_jack_bows() -> None:
    shape = shape_of("a plumb line")
    at = {s.at: s.value for s in shape.left_jack}
    # the line reads 1/8 more in the middle: the jack stands further from it there, by 1/8 less what is
    # laid to the reading (sd 0.03 at three places) rather than to a bow (sd 1/8)
    assert -0.125 < at[24.0] - (at[2.0] + at[46.0]) / 2.0 < -0.06


def test_repeated_readings_count_as_many() -> None:
    survey = survey_of("readings in lists")
    ids = [r.id for r in survey.readings]
    assert [i for i in ids if i.startswith("A.width.middle")] == [f"A.width.middle.{k}" for k in (1, 2, 3)]
    paths = {r.path for r in survey.readings}
    assert "opening[0].width.middle[1]" in paths
    shape = survey.openings[0]
    # mean of 36, 36 1/16, 36
    assert shape.right - shape.left == pytest.approx(36.0 + 1.0 / 48.0, abs=1e-3)


def test_a_reading_keeps_its_own_sd_its_instrument_and_its_qualifier() -> None:
    text = """
[reading_sd]
width = 0.05
[[instrument]]
name = "steel tape"
kind = "tape"
sd = 0.01
[[opening]]
name = "A"
[opening.width]
bottom = { value = 36, sd = 0.2 }
middle = { value = 36, instrument = "steel tape" }
top = "36 strong"
"""
    job = read_job(KIT + text)
    own = {r.id: r.sd for r in report(job, cleanse(job)).readings}
    spread = job.opening[0].width.top[0].spread if job.opening[0].width.top else 0.0
    assert spread > 0.0
    assert own["A.width.bottom"] == pytest.approx(0.2)
    assert own["A.width.middle"] == pytest.approx(0.01)
    assert own["A.width.top"] == pytest.approx((0.05**2 + spread**2) ** 0.5)


def test_a_unit_without_its_opening_is_said() -> None:
    job = read_job(KIT + UNIT + A)
    other = job.model_copy(update={"opening": (job.opening[0].model_copy(update={"name": "B"}),)})
    assert "A: no opening of that name was read" in report(other, cleanse(other)).not_determined


def test_a_string_reads_what_was_read_not_what_it_means() -> None:
    survey = survey_of("string along the wall")
    assert [r.observed for r in survey.readings if r.id.startswith("string.")] == [2.0, 2.125, 2.0]


def test_a_place_shot_anew_with_another_answer_is_named_with_what_would_explain_it_too() -> None:
    survey = survey_of("one place shot three times")
    assert {s.reading for s in survey.suspects} == {"setup1.3"}
    assert survey.disturbed[0].also_explained_by == ("setup1.3",)
    assert "knock" in survey.suspects[0].sentence
