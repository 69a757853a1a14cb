"""Whole messages, one for each way a key or a value can be wrong."""

from __future__ import annotations

import tomllib
from pathlib import Path

import pytest
from tests.job.documents import SMALL, messages

CASES = tomllib.loads((Path(__file__).parent / "messages.toml").read_text(encoding="utf-8"))["case"]


@pytest.mark.parametrize("case", CASES, ids=lambda case: case["added"])
def test_a_fault_is_told_in_plain_words(case: dict[str, str]) -> None:
    assert messages(f"{SMALL}{case['added']}\n") == [case["told"]]


def test_the_small_job_itself_has_no_fault() -> None:
    assert messages(SMALL) == []


def test_a_missing_section_is_named_as_one() -> None:
    text = SMALL.replace("[kit]", "[cit]")
    assert messages(text) == [
        "job file: the key 'kit' is missing. Add a section [kit].",
        "line 4, cit: unknown key 'cit'. Did you mean 'kit'?",
    ]


def test_a_mull_outside_its_frame_is_refused() -> None:
    unit = """[[unit]]
opening = "A"
kind = "casement"
frame_width = 35
frame_height = 57
least_side_clearance = "1/4"
least_head_clearance = "1/4"
most_head_clearance = "1/8"
largest_out_of_plane = "1/8"
"""
    assert messages(SMALL + unit) == [
        'line 12, unit[0] "A": least_head_clearance is more than most_head_clearance. '
        "Swap them, or correct one."
    ]
    right = unit.replace('most_head_clearance = "1/8"', "mulls = [36]")
    assert messages(SMALL + right) == [
        'line 12, unit[0] "A": a mull lies outside the frame. '
        "Mulls are taped from the unit's left edge to their centres."
    ]
