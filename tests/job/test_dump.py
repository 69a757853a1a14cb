from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from tests.job.documents import EXAMPLES, SMALL, jobs, text_of

from sillwright.job import dump_job, read_job
from sillwright.job.dump import length_value
from sillwright.job.layout import job_text
from sillwright.job.model import Job, Opening, Reading, Three
from sillwright.lengths import Unit, parse


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda p: p.stem)
def test_an_example_written_out_reads_back_as_the_same_job(path: Path) -> None:
    job = read_job(text_of(path))
    text = dump_job(job)
    assert read_job(text) == job
    assert dump_job(read_job(text)) == text


@settings(deadline=None)
@given(jobs())
def test_any_job_written_out_reads_back_as_the_same_job(data: dict[str, Any]) -> None:
    job = read_job(job_text(data))
    text = dump_job(job)
    assert read_job(text) == job
    assert dump_job(read_job(text)) == text


@given(st.floats(-100_000, 100_000).filter(lambda x: not 0 < abs(x) < 1e-30), st.sampled_from(["in", "mm"]))
def test_every_length_written_out_reads_back_to_the_last_bit(length: float, unit: Unit) -> None:
    assert parse(length_value(length, unit=unit), unit=unit).value == length


@pytest.mark.parametrize(
    ("length", "unit", "written"),
    [
        (27.375, "in", "27 3/8"),
        (1 / 64, "in", "1/64"),
        (0.03, "in", 0.03),
        (-7.0, "in", "-7"),
        (920 / 25.4, "mm", 920),
    ],
)
def test_a_length_is_written_as_the_trade_writes_it(length: float, unit: Unit, written: str | float) -> None:
    assert length_value(length, unit=unit) == written


def test_what_is_as_by_default_is_left_out() -> None:
    assert dump_job(read_job(SMALL)) == (
        'sillwright = 1\nunits      = "in"\ntitle      = "Back wall"\n\n'
        '[kit]\nshims      = ["1/8"]\nshim_width = "1 1/2"\n\n'
        '[[opening]]\nname  = "A"\nwidth = { middle = "36 3/16" }\n'
    )


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda p: p.stem)
def test_a_job_taken_apart_into_plain_data_is_checked_again_as_it_was(path: Path) -> None:
    job = read_job(text_of(path))
    assert Job.model_validate(job.model_dump()) == job


def test_a_reading_without_words_of_its_own_is_written_by_its_value() -> None:
    reading = Reading(value=36.25, text="by the apprentice")
    opening = Opening(name="A", width=Three(middle=(reading,)))
    job = read_job(SMALL).model_copy(update={"opening": (opening,)})
    (back,) = read_job(dump_job(job)).opening[0].width.middle or ()
    assert (back.value, back.text) == (36.25, "36 1/4")


RULED = """
[code]
edition = "2021"
amendments = "town.toml"
[[unit]]
opening = "A"
kind = "patio door"
frame_width = 35
frame_height = 47
least_side_clearance = "1/4"
least_head_clearance = "1/4"
largest_out_of_plane = "1/8"
swing = "out"
facts = { room = "sleeping", sill_above_floor = "43 1/2", drop = [{ out = 0, drop = "31" }] }
pane = [{ safety_glass = true, pane_area_sqft = 9.5 }]
[deck]
openings = ["A"]
species = "hem_fir"
obstacle = [{ x = 3, width = "1 1/2", what = "pipe" }]
[[answer]]
finding = "finding.glass.door.A"
by = "maker's label"
date = 2026-03-14
"""


def test_deck_facts_code_and_answers_written_out_read_back_as_the_same_job() -> None:
    job = read_job(SMALL + RULED)
    assert read_job(dump_job(job)) == job
    assert job.answer[0].date.isoformat() == "2026-03-14"
    assert "date    = 2026-03-14" in dump_job(job)
