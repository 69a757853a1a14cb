from __future__ import annotations

import tomllib
from pathlib import Path
from typing import Any

import pytest
import tomlkit
from hypothesis import given, settings
from hypothesis import strategies as st
from tests.job.documents import EXAMPLES, SMALL, jobs, leaves, messages, text_of, values

from sillwright.errors import BadInput, Fault, UnknownVersion
from sillwright.job import read_document, read_job
from sillwright.job.scan import path_text

JARGON = ("Input should", "type=", "pydantic", "Traceback", "validation error", "NoneType", "dict")


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda p: p.stem)
def test_every_example_reads_and_says_that_it_is_invented(path: Path) -> None:
    job = read_job(text_of(path))
    assert job.invented
    assert job.opening
    assert job.setup


def test_lengths_become_inches() -> None:
    job = read_job(SMALL)
    reading = (job.opening[0].width.middle or ())[0]
    assert (reading.value, reading.spread, reading.text) == (36.1875, 0.0, "36 3/16")
    assert job.kit.shim_width == 1.5
    metric = SMALL.replace('title = "', 'units = "mm"\ntitle = "').replace('"36 3/16"', "920")
    job = read_job(metric.replace('"1/8"', "3").replace('"1 1/2"', "'1 1/2 in'"))
    assert (job.opening[0].width.middle or ())[0].value == pytest.approx(920 / 25.4, rel=1e-15)
    assert job.kit.shims[0].thickness == pytest.approx(3 / 25.4, rel=1e-15)
    assert job.kit.shim_width == 1.5
    assert job.opening[0].near == 2  # a default is the same length in every unit


def test_every_leaf_has_its_line() -> None:
    for path in EXAMPLES:
        text = text_of(path)
        document = read_document(text)
        assert {path_text(leaf) for leaf in leaves(tomllib.loads(text))} <= set(document.lines)


def test_a_line_is_that_of_the_key() -> None:
    document = read_document(SMALL)
    assert document.lines["opening[0].width.middle"] == 11
    assert document.lines["opening[0]"] == 9
    assert document.lines["kit.shims[0]"] == 5


def test_the_line_of_what_is_not_written_is_that_of_the_table_around_it() -> None:
    document = read_document(SMALL)
    assert document.line_of("opening[0].width.middle[0]") == 11
    assert document.line_of("opening[0].plumb.left.top_leans_in") == 9
    assert document.line_of("site.place") is None


def test_an_empty_file_says_how_to_start_one() -> None:
    assert messages(" \n") == ["job file: the file is empty. Start one with: sillwright new"]


@pytest.mark.parametrize(
    ("text", "message"),
    [
        (
            "sillwright = 1\nx = 27 3/8\n",
            "line 2, column 8: this cannot be read: expected newline or end of document after a statement. "
            'Tape notation goes in quotes: "27 3/8".',
        ),
        (
            "sillwright = 1\ntitle = \u201cA\u201d\n",
            'line 2, column 9: this cannot be read: invalid value. Use straight quotes: "A".',
        ),
        (
            '[kit]\n[kit]\ntitle = "A"\n',
            "line 2, column 5: this cannot be read: cannot declare ('kit',) twice. "
            "The key or table is written twice; keep one.",
        ),
        (
            "sillwright",
            "line 1, end of file: this cannot be read: expected '=' after a key in a key/value pair. "
            'A line reads key = value; text stands in quotes: kind = "casement".',
        ),
    ],
)
def test_what_is_not_toml_says_line_and_column(text: str, message: str) -> None:
    assert messages(text) == [message]


def test_a_list_in_a_list_in_a_list_without_end_is_refused() -> None:
    told = messages("sillwright = 1\nx = " + "[" * 5000 + "]" * 5000)
    assert told == ["job file: lists or tables are nested too deeply. A job needs five levels."]


@pytest.mark.parametrize(
    ("first", "message"),
    [
        (
            "sillwright = 2",
            "line 1, sillwright: the file is of version 2; this program knows version 1. "
            "Use a newer Sillwright to read it.",
        ),
        (
            "sillwright = true",
            "line 1, sillwright: true is no version of a job file. Write sillwright = 1 as the first line.",
        ),
        (
            "sillwright = 1.0",
            "line 1, sillwright: 1.0 is no version of a job file. Write sillwright = 1 as the first line.",
        ),
        (
            "silwright = 1",
            "job file: the key 'sillwright' is missing, so the version of the file is not known. "
            "Write sillwright = 1 as the first line. Was it meant by 'silwright'?",
        ),
        (
            "",
            "job file: the key 'sillwright' is missing, so the version of the file is not known. "
            "Write sillwright = 1 as the first line.",
        ),
    ],
)
def test_a_file_of_an_unknown_version_is_not_read_half(first: str, message: str) -> None:
    with pytest.raises(UnknownVersion) as caught:
        read_job(SMALL.replace("sillwright = 1", first))
    assert str(caught.value) == message


def test_all_faults_are_told_at_once_from_the_top_down() -> None:
    text = SMALL.replace('title = "Back wall"', 'titel = "Back wall"').replace("36 3/16", "36 3/17")
    text += 'height = 3\n[[row]]\nopenings = ["B"]\n'
    assert messages(text) == [
        "job file: the key 'title' is missing. Add it here: title = \"...\"",
        "line 2, titel: unknown key 'titel'. Did you mean 'title'?",
        "line 11, opening[0] \"A\".width.middle: '36 3/17' is not a tape reading: at character 6, '17'. "
        "Tapes divide by 2, 4, 8, 16, 32 or 64; did you mean 36 3/16?",
        'line 12, opening[0] "A".height: expected a table of keys, found 3. Known here: left, centre, right.',
        "line 14, row[0].openings[0]: there is no opening 'B'. Known here: A.",
    ]


def test_a_wrong_unit_does_not_bring_a_fault_for_every_length() -> None:
    text = SMALL.replace("[kit]", 'units = "cm"\n[kit]', 1)
    assert messages(text) == ["line 4, units: expected 'in' or 'mm', found 'cm'. Known here: in, mm."]


def faults_of(text: str) -> tuple[Fault, ...]:
    try:
        read_document(text)
    except BadInput as error:
        return error.faults or (Fault("", "told nothing"),)
    return ()


def refused_or_read(text: str) -> None:
    for fault in faults_of(text):
        assert fault.where
        assert not any(word in fault.what for word in JARGON), fault.what


@given(st.text())
def test_any_text_is_read_or_refused_with_a_message(text: str) -> None:
    refused_or_read(text)
    refused_or_read("sillwright = 1\n" + text)


@settings(max_examples=60, deadline=None)
@given(st.sampled_from(EXAMPLES), st.data())
def test_a_damaged_example_is_read_or_refused_with_a_message(path: Path, data: st.DataObject) -> None:
    text = text_of(path)
    at = data.draw(st.integers(0, len(text)))
    cut = data.draw(st.integers(0, 30))
    new = data.draw(st.text(st.sampled_from('[]{}=".,#\n 1ax\\'), max_size=6))
    refused_or_read(text[:at] + new + text[at + cut :])


def put(data: Any, path: tuple[str | int, ...], value: Any) -> None:
    for step in path[:-1]:
        data = data[step]
    data[path[-1]] = value


@settings(max_examples=150, deadline=None)
@given(jobs(), st.data())
def test_a_strange_value_anywhere_is_read_or_refused_with_a_message(
    job: dict[str, Any], data: st.DataObject
) -> None:
    path = data.draw(st.sampled_from(sorted(leaves(job), key=repr)))
    cut = data.draw(st.integers(1, len(path)))
    strange = data.draw(values | st.sampled_from([float("inf"), float("nan"), 10**400, -(10**30), "", []]))
    put(job, path[:cut], strange)
    refused_or_read(tomlkit.dumps(job))
