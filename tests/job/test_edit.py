from __future__ import annotations

import tomllib
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from tests.job.documents import EXAMPLES, SMALL, leaves, text_of, values
from tests.job.test_document import put

from sillwright.job import append_entry, read_document, set_value
from sillwright.job.edit import append_tables
from sillwright.job.scan import path_text, scan


def at(data: Any, path: tuple[str | int, ...]) -> Any:
    for step in path:
        data = data[step]
    return data


def comments(text: str) -> list[str]:
    return [line[line.index("#") :] for line in text.splitlines() if "#" in line]


@settings(max_examples=60, deadline=None)
@given(st.sampled_from(EXAMPLES), values, st.data())
def test_a_changed_value_changes_nothing_else(path: Path, value: Any, data: st.DataObject) -> None:
    text = text_of(path)
    expected = tomllib.loads(text)
    leaf = data.draw(st.sampled_from(list(leaves(expected))))
    changed = set_value(text, path_text(leaf), value)
    put(expected, leaf, value)
    assert tomllib.loads(changed) == expected
    place = scan(text)[leaf]
    assert changed.startswith(text[: place.start])
    assert changed.endswith(text[place.end :])


def test_one_reading_edited_keeps_comments_and_order() -> None:
    changed = set_value(SMALL, "opening[0].width.middle", "36 1/4 shy")
    assert changed == SMALL.replace("36 3/16", "36 1/4 shy")


@pytest.mark.parametrize(
    ("path", "line"),
    [
        ("opening[0].width.top", 'width = { middle = "36 3/16", top = 5 }  # read in the rain'),
        ("opening[0].plumb.left.over_height", "plumb.left.over_height = 5"),
        ("kit.planing_max", "planing_max = 5"),
        ("note", "note = 5"),
    ],
)
def test_a_new_value_goes_into_the_table_it_belongs_to(path: str, line: str) -> None:
    changed = set_value(SMALL, path, 5)
    assert line in changed.splitlines()
    assert comments(changed) == comments(SMALL)
    steps = next(steps for steps in scan(changed) if path_text(steps) == path)
    assert at(tomllib.loads(changed), steps) == 5


@pytest.mark.parametrize(
    ("before", "after"),
    [
        ("x = []", "x = [9]"),
        ("x = [ ] # none", "x = [9] # none"),
        ("x = [1, 2]", "x = [1, 2, 9]"),
        ("x = [1, 2, ]", "x = [1, 2, 9]"),
        ("x = [\n  1, # one\n  2 # two\n]\n", "x = [\n  1, # one\n  2, # two\n  9,\n]\n"),
        ("x = [\n  1,\n  2, # two\n]\n", "x = [\n  1,\n  2, # two\n  9,\n]\n"),
        ("x = [\n  1,\n  2]\n", "x = [\n  1,\n  2, 9]\n"),
        ("x = [\r\n\t1,\r\n]\r\n", "x = [\r\n\t1,\r\n\t9,\r\n]\r\n"),
        ("x = [1, # a ] and a ,\n 2 # b ]\n # c ,\n]", "x = [1, # a ] and a ,\n 2, # b ]\n # c ,\n 9,\n]"),
    ],
)
def test_an_entry_goes_to_the_end_of_its_list(before: str, after: str) -> None:
    assert append_entry(before, "x", 9) == after
    assert tomllib.loads(after)["x"][-1] == 9
    assert tomllib.loads(after)["x"][:-1] == tomllib.loads(before)["x"]


def test_an_entry_goes_after_the_last_table_written_with_a_header() -> None:
    text = '[[setup]]\n[[setup.series]]\ndown = 1 # last\n[[setup]]\nname = "b"\n'
    changed = append_entry(text, "setup[0].series", {"down": 2})
    assert changed == text.replace("# last\n", "# last\n[[setup.series]]\ndown = 2\n")


@pytest.mark.parametrize("text", ['[[setup]]\nname = "a"', 'setup = [\n  { name = "a" },\n]\n'])
def test_a_new_table_goes_where_the_others_are(text: str) -> None:
    changed = append_tables(text, "setup", [{"name": "b", "x": 1}])
    assert tomllib.loads(changed)["setup"] == [{"name": "a"}, {"name": "b", "x": 1}]


@pytest.mark.parametrize("path", ["opening[1].name", "opening[0]", "kit", "opening[0].name.first", "x[0]"])
def test_a_value_without_a_table_for_it_is_refused(path: str) -> None:
    with pytest.raises(KeyError):
        set_value(SMALL, path, 1)


def test_an_entry_of_what_is_no_list_is_refused() -> None:
    with pytest.raises(KeyError):
        append_entry(SMALL, "opening[0].name", 1)


def test_a_new_value_goes_to_the_end_of_a_text_without_a_last_line_end() -> None:
    assert set_value("[kit]\na = 1", "kit.b", 2) == "[kit]\na = 1\nb = 2\n"


def test_a_first_key_goes_above_the_first_table() -> None:
    assert set_value("[kit]\na = 1\n", "note", "x") == 'note = "x"\n[kit]\na = 1\n'


def test_lines_follow_the_edited_text() -> None:
    changed = set_value(SMALL, "note", "first")
    before, after = read_document(SMALL).lines, read_document(changed).lines
    assert after["opening[0].name"] == before["opening[0].name"] + 1
