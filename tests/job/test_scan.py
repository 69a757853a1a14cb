from __future__ import annotations

import tomllib
from pathlib import Path
from typing import Any

import pytest
import tomlkit
from hypothesis import given
from hypothesis import strategies as st
from tests.job.documents import EXAMPLES, leaves, text_of, values, words

from sillwright.job.layout import value_text
from sillwright.job.scan import path_of, path_text, quoted, scan

EVERY_FORM = '''\
# a comment with [brackets] and = signs
a = 1 # c [x]
"b.c" = "x # \\" y"
'q"' = '\\'
d.e.f = [1, 2, # c ]
 [3, "]"], {x = 1, y.z = [ ]} ,
]
ml = """
 a " b "" c \\""" """"
ml2 = \'\'\'''a\'\'\'''
[t]
dt = 1979-05-27 07:32:00 # x
[t.u.v]
x = {}
[[r]]
a=1
[r.s]
b=2
[[r.q]]
c=3
[[r.q]]
c = 4
[[r]]
 [ r . "s" ]
k = inf
'''


def scanned_leaves(text: str) -> set[Any]:
    places = scan(text)
    inner = {path[:-1] for path in places if path}
    return {path for path in places if path not in inner}


@pytest.mark.parametrize(
    "text", [EVERY_FORM, *map(text_of, EXAMPLES)], ids=["every form", *(p.stem for p in EXAMPLES)]
)
def test_the_scanner_finds_the_leaves_that_tomllib_reads(text: str) -> None:
    assert scanned_leaves(text) == set(leaves(tomllib.loads(text)))


@pytest.mark.parametrize("ends", ["\n", "\r\n"])
def test_line_ends_of_either_kind_give_the_same_lines(ends: str) -> None:
    lines = {path: place.line for path, place in scan(EVERY_FORM).items()}
    changed = EVERY_FORM.replace("\n", ends)
    assert {path: place.line for path, place in scan(changed).items()} == lines


@given(st.dictionaries(words, values, min_size=1, max_size=4))
def test_the_scanner_agrees_with_tomllib_on_what_another_writer_wrote(data: dict[str, Any]) -> None:
    text = tomlkit.dumps(data)
    assert scanned_leaves(text) == set(leaves(tomllib.loads(text)))


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda p: p.stem)
def test_each_place_holds_its_own_value(path: Path) -> None:
    text = text_of(path)
    data: Any = tomllib.loads(text)
    for steps, place in scan(text).items():
        if place.kind not in ("value", "array", "inline"):
            continue
        here = data
        for step in steps:
            here = here[step]
        assert tomllib.loads("value = " + text[place.start : place.end])["value"] == here


def test_a_value_stands_on_the_line_where_it_begins() -> None:
    places = scan(EVERY_FORM)
    lines = EVERY_FORM.split("\n")
    assert lines[places[("t", "dt")].line - 1].startswith("dt = 1979")
    assert lines[places[("r", 0, "q", 1, "c")].line - 1] == "c = 4"
    assert places[("d", "e", "f", 2)].line == places[("d", "e", "f")].line + 1


def test_a_table_ends_with_its_last_key() -> None:
    place = scan(EVERY_FORM)[("r", 0)]
    assert EVERY_FORM[place.start : place.end] == "[[r]]\na=1"


@given(st.lists(words | st.integers(0, 99), min_size=1, max_size=5))
def test_a_path_reads_back_from_its_text(steps: list[str | int]) -> None:
    assert path_of(path_text(steps)) == tuple(steps)


def test_paths_read_as_the_job_file_is_spoken_of() -> None:
    assert path_text(("setup", 1, "series", 4, "down")) == "setup[1].series[4].down"
    assert path_text(("opening", 0, "width", "middle", 1)) == "opening[0].width.middle[1]"


@pytest.mark.parametrize("text", ["opening[", "opening[x]", "a..b c"])
def test_what_is_no_path_is_refused(text: str) -> None:
    with pytest.raises(ValueError, match="is not a path"):
        path_of(text)


@given(st.text(st.characters(exclude_categories=["Cs"])))
def test_a_quoted_text_reads_back(text: str) -> None:
    assert tomllib.loads(f"key = {quoted(text)}")["key"] == text


@given(values)
def test_a_value_written_on_one_line_reads_back(value: Any) -> None:
    assert tomllib.loads(f"key = {value_text(value)}")["key"] == value
