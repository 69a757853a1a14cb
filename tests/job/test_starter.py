from __future__ import annotations

from itertools import pairwise

import pytest

from sillwright.job import read_job, starter
from sillwright.lengths import Unit

UNITS: list[Unit] = ["in", "mm"]


@pytest.mark.parametrize("unit", UNITS)
def test_a_starter_is_a_valid_job_in_its_unit(unit: Unit) -> None:
    job = read_job(starter(unit))
    assert job.units == unit
    assert job.invented
    assert [opening.name for opening in job.opening] == ["A"]


@pytest.mark.parametrize("unit", UNITS)
def test_the_invented_wall_is_sound(unit: Unit) -> None:
    """The unit goes in with its clearances, and the diagonals fit the sides: nobody starts with a puzzle."""
    job = read_job(starter(unit))
    opening, to_set = job.opening[0], job.unit[0]
    widths = [reading[0].value for reading in (opening.width.bottom, opening.width.middle) if reading]
    heights = [reading[0].value for reading in (opening.height.left, opening.height.centre) if reading]
    assert to_set.frame_width + 2 * to_set.least_side_clearance < min(widths)
    room = min(heights) - job.kit.stack_above_line - to_set.frame_height - to_set.least_head_clearance
    assert room > 0.25
    diagonal = (opening.diagonal.bottom_left_to_top_right or ())[0].value
    assert diagonal == pytest.approx((widths[0] ** 2 + heights[0] ** 2) ** 0.5, abs=0.15)
    jacks = [reading[0].value for reading in (opening.left_jack_x, opening.right_jack_x) if reading]
    assert jacks[1] - jacks[0] == pytest.approx(widths[0], abs=0.05)


@pytest.mark.parametrize("unit", UNITS)
def test_every_section_has_a_word_for_the_carpenter(unit: Unit) -> None:
    lines = starter(unit).splitlines()
    explained = 0
    for before, line in pairwise(lines):
        if line.startswith("[") and line != "[[mark]]":
            assert before.startswith("#"), line
            explained += 1
    assert explained > 6
    assert max(map(len, lines)) <= 110
