"""Names in a job file that must agree: openings, marks, instruments.

Works on the file's plain data, so that a wrong name is told together with every other fault.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from sillwright.job.problems import Problem, found, nearest
from sillwright.job.scan import Path

Data = Mapping[str, Any]


def reference_problems(raw: Data) -> list[Problem]:
    """Return every name that is used twice, or that nothing in the file has."""
    openings = _names(raw, "opening", "name")
    return [
        *_twice(raw, "opening", "name", "an opening"),
        *_twice(raw, "instrument", "name", "an instrument"),
        *_twice(raw, "mark", "name", "a mark"),
        *_twice(raw, "setup", "name", "a set-up"),
        *_twice(raw, "reshoot", "name", "a set-up"),
        *_twice(raw, "unit", "opening", "a unit in opening"),
        *_unknown_openings(raw, openings),
        *_deck(raw, openings, _names(raw, "unit", "opening")),
        *_water(raw, openings),
        *_crowded_rows(raw),
        *_head_lines(raw, _names(raw, "unit", "opening")),
        *_shots(raw, openings),
        *_instruments(raw),
    ]


def tables(raw: Any, key: str) -> Iterator[tuple[Path, Data]]:
    """Yield the tables of a list that really are tables, with their paths."""
    listed = raw.get(key) if isinstance(raw, Mapping) else None
    if isinstance(listed, list):
        yield from (((key, n), each) for n, each in enumerate(listed) if isinstance(each, Mapping))


def _names(raw: Data, key: str, name: str) -> list[str]:
    return [each[name] for _, each in tables(raw, key) if isinstance(each.get(name), str)]


def _twice(raw: Data, key: str, name: str, noun: str) -> Iterator[Problem]:
    seen: dict[str, Path] = {}
    for path, table in tables(raw, key):
        value = table.get(name)
        if not isinstance(value, str):
            continue
        if value in seen:
            advice = "Give each its own name." if name == "name" else "One opening takes one unit."
            yield Problem((*path, name), f"there is already {noun} {found(value)}.", advice)
        seen.setdefault(value, path)


def _listed(table: Data) -> Iterator[tuple[int, str]]:
    names = table.get("openings")
    if isinstance(names, list):
        yield from ((n, name) for n, name in enumerate(names) if isinstance(name, str))


def _no_opening(path: Path, name: str, openings: list[str]) -> Problem:
    return Problem(path, f"there is no opening {found(name)}.", nearest(name, openings))


def _unknown_openings(raw: Data, openings: list[str]) -> Iterator[Problem]:
    for key in ("row", "head_line"):
        for path, table in tables(raw, key):
            for n, name in _listed(table):
                if name not in openings:
                    yield _no_opening((*path, "openings", n), name, openings)
    for path, unit in tables(raw, "unit"):
        opening = unit.get("opening")
        if isinstance(opening, str) and opening not in openings:
            yield _no_opening((*path, "opening"), opening, openings)


def _deck(raw: Data, openings: list[str], filled: list[str]) -> Iterator[Problem]:
    deck = raw.get("deck")
    for n, name in _listed(deck) if isinstance(deck, Mapping) else ():
        place = ("deck", "openings", n)
        if name not in openings:
            yield _no_opening(place, name, openings)
        elif name not in filled:
            what = f"no unit is to be set in opening {found(name)}."
            yield Problem(place, what, "Add its [[unit]], or leave it out.")


def _water(raw: Data, openings: list[str]) -> Iterator[Problem]:
    water = raw.get("water")
    rolls = [name for _, each in tables(water, "roll") if isinstance(name := each.get("name"), str)]
    for path, piece in tables(water, "sheet"):
        opening, roll = piece.get("opening"), piece.get("roll")
        if isinstance(opening, str) and opening not in openings:
            yield _no_opening(("water", *path, "opening"), opening, openings)
        if isinstance(roll, str) and roll not in rolls:
            what = f"there is no roll {found(roll)}."
            advice = nearest(roll, rolls) or "Add a [[water.roll]] of that name."
            yield Problem(("water", *path, "roll"), what, advice)


def _crowded_rows(raw: Data) -> Iterator[Problem]:
    seen: set[str] = set()
    for path, row in tables(raw, "row"):
        for n, name in _listed(row):
            if name in seen:
                what = f"opening {found(name)} is in a row already."
                yield Problem((*path, "openings", n), what, "An opening has one sill line; name it once.")
            seen.add(name)


def _head_lines(raw: Data, filled: list[str]) -> Iterator[Problem]:
    for path, line in tables(raw, "head_line"):
        seen: set[str] = set()
        for n, name in _listed(line):
            place = (*path, "openings", n)
            if name in seen:
                yield Problem(place, f"opening {found(name)} is in this head line already.", "Name it once.")
            elif name in _names(raw, "opening", "name") and name not in filled:
                what = f"no unit is to be set in opening {found(name)}."
                yield Problem(place, what, "Add its [[unit]], or take it off the head line.")
            seen.add(name)


def _shots(raw: Data, openings: list[str]) -> Iterator[Problem]:
    marks = _names(raw, "mark", "name")
    for key in ("setup", "reshoot"):
        for path, setup in tables(raw, key):
            for within, shot in tables(setup, "series"):
                yield from _shot((*path, *within), shot, openings, marks)


def _shot(path: Path, shot: Data, openings: list[str], marks: list[str]) -> Iterator[Problem]:
    for key in ("sill", "head"):
        name = shot.get(key)
        if isinstance(name, str) and name not in openings:
            yield _no_opening((*path, key), name, openings)
    mark = shot.get("mark")
    if isinstance(mark, str) and "x" not in shot and mark not in marks:
        what = f"nothing says where mark {found(mark)} is."
        close = nearest(mark, marks) if marks else ""
        advice = close if close.startswith("Did") else "Add x here, or a [[mark]] of that name with its x."
        yield Problem((*path, "mark"), what, advice)


def _instruments(raw: Data) -> Iterator[Problem]:
    known = _names(raw, "instrument", "name")
    for key in ("wall", "setup", "reshoot", "opening"):
        for path, name in _uses(raw.get(key), (key,)):
            if name not in known:
                what = f"there is no instrument {found(name)}."
                yield Problem(path, what, nearest(name, known) or "Add an [[instrument]] of that name.")


def _uses(here: Any, path: Path) -> Iterator[tuple[Path, str]]:
    if isinstance(here, Mapping):
        for key, value in here.items():
            if key == "instrument" and isinstance(value, str):
                yield (*path, key), value
            else:
                yield from _uses(value, (*path, key))
    elif isinstance(here, list):
        for n, value in enumerate(here):
            yield from _uses(value, (*path, n))
