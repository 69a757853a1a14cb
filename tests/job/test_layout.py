from __future__ import annotations

import tomllib
from typing import Any

from hypothesis import given
from hypothesis import strategies as st
from tests.job.documents import jobs, values, words

from sillwright.job.layout import job_text


@given(st.dictionaries(words, values, max_size=5))
def test_any_data_reads_back_from_its_layout(data: dict[str, Any]) -> None:
    assert tomllib.loads(job_text(data)) == data


@given(jobs())
def test_the_data_of_a_job_read_back_from_their_layout(data: dict[str, Any]) -> None:
    assert tomllib.loads(job_text(data, header="made up\n\nby nobody", comments={"kit": "shims"})) == data


@given(st.lists(st.sampled_from(["casement", "\\", '"', "  ", "\n", "#"]), min_size=20, max_size=60))
def test_a_long_note_over_several_lines_reads_back_as_one(parts: list[str]) -> None:
    note = " ".join(parts)
    text = job_text({"note": note})
    assert tomllib.loads(text)["note"] == note


def test_shots_stand_one_a_line_with_their_keys_in_columns() -> None:
    shots = [
        {"mark": "M1", "down": "30 1/8"},
        {"sill": "A", "x": "36", "down": "26 3/16"},
        {"sill": "B", "x": "130", "down": "26"},
    ]
    text = job_text({"setup": [{"name": "s", "x": 1, "series": shots}]})
    assert text == (
        "[[setup]]\n"
        'name   = "s"\n'
        "x      = 1\n"
        "series = [\n"
        '  { mark = "M1", down = "30 1/8" },\n'
        '  { sill = "A", x = "36",  down = "26 3/16" },\n'
        '  { sill = "B", x = "130", down = "26" },\n'
        "]\n"
    )


def test_comments_stand_above_their_section() -> None:
    text = job_text({"kit": {"a": 1}}, header="Invented.", comments={"kit": "Shims on hand."})
    assert text == "# Invented.\n\n# Shims on hand.\n[kit]\na = 1\n"
