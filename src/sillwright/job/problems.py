"""What is wrong in a job file, in the carpenter's words: keys, kinds of value, limits."""

from __future__ import annotations

import datetime
import difflib
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from typing import Any, get_args, get_origin

from pydantic import ValidationError
from pydantic_core import ErrorDetails

from sillwright.job.model import Job
from sillwright.job.scan import Path, path_text
from sillwright.job.values import Model


@dataclass(frozen=True, slots=True)
class Problem:
    """One thing wrong at one place of the document, not yet tied to a line."""

    path: Path
    what: str
    advice: str = ""
    is_length: bool = False


def nearest(name: str, known: Iterable[str]) -> str:
    """Return advice that names the nearest known name, or all of them."""
    names = list(dict.fromkeys(known))
    folded = {each.casefold(): each for each in reversed(names)}
    close = difflib.get_close_matches(name.casefold(), folded, n=1)
    if close:
        return f"Did you mean '{folded[close[0]]}'?"
    return f"Known here: {', '.join(names)}." if names else ""


def found(value: Any) -> str:
    """Return a value of the file as a person would name it, short enough for a message."""
    if isinstance(value, bool):
        return str(value).lower()
    if isinstance(value, str):
        text = "".join(c if c.isprintable() else "\ufffd" for c in value)
        return f"'{text}'" if len(text) <= 40 else f"'{text[:39]}\u2026'"
    if isinstance(value, int) and abs(value) >= 10**12:
        return "a very large number"
    return next((name for kinds, name in _FOUND if isinstance(value, kinds)), str(value))


_FOUND = (
    ((dict,), "a table"),
    ((list, tuple), "a list"),
    ((datetime.date, datetime.time), "a date"),
)


def problems_of(error: ValidationError, raw: Mapping[str, Any]) -> list[Problem]:
    """Return what the model refuses, each with its path in the document."""
    errors = error.errors(include_url=False)
    inner = {each["loc"][:length] for each in errors for length in range(len(each["loc"]))}
    # a list whose entries are wrong is also found too short
    return [_problem(each, raw) for each in errors if each["type"] != "too_short" or each["loc"] not in inner]


def _problem(error: ErrorDetails, raw: Mapping[str, Any]) -> Problem:
    path = _path(error["loc"], raw)
    kind, given, limits = error["type"], error["input"], error.get("ctx", {})
    if kind == "plain":
        return Problem(path, limits["what"], limits["advice"], is_length=True)
    if kind == "missing":
        key = str(error["loc"][-1])
        return Problem(path, f"the key '{key}' is missing.", _how_to_add(path, key))
    if kind == "extra_forbidden":
        key = str(path[-1])
        return Problem(path, f"unknown key {found(key)}.", nearest(key, keys_at(path[:-1])))
    if kind == "literal_error":
        options = [each.strip("'") for each in limits["expected"].replace(" or ", ", ").split(", ")]
        advice = nearest(given, options) if isinstance(given, str) else ""
        return Problem(path, f"expected {limits['expected']}, found {found(given)}.", advice)
    if kind in _SAID:
        what = _SAID[kind](limits, found(_written(path, raw)))
        return Problem(path, what, is_length=kind == "no_length")
    return Problem(path, f"expected {_KINDS[kind]}, found {found(given)}.", _kind_advice(kind, path))


_KINDS = {
    "string_type": "text in quotes",
    "float_type": "a number",
    "finite_number": "an ordinary number",
    "int_type": "a whole number",
    "int_from_float": "a whole number",
    "bool_type": "true or false",
    "tuple_type": "a list in square brackets",
    "date_type": "a date without quotes, such as 2026-03-14",
    "model_type": "a table of keys",
}

_SAID: dict[str, Callable[[Mapping[str, Any], str], str]] = {
    "greater_than": lambda limits, given: f"must be more than {limits['gt']:g}, found {given}.",
    "greater_than_equal": lambda limits, given: f"must be at least {limits['ge']:g}, found {given}.",
    "less_than": lambda limits, given: f"must be less than {limits['lt']:g}, found {given}.",
    "less_than_equal": lambda limits, given: f"must be at most {limits['le']:g}, found {given}.",
    "too_short": lambda limits, _: (
        f"needs at least {limits['min_length']} in the list, found {limits['actual_length']}."
    ),
    "string_too_short": lambda _, __: "must not be empty.",
    "string_pattern_mismatch": lambda limits, given: (
        f"{given} is not written as it must be: {limits['pattern']}."
    ),
    "no_length": lambda about, _: (
        f"expected a {about['kind']} such as {about['example']}, found {found(about['given'])}."
    ),
}


def _kind_advice(kind: str, path: Path) -> str:
    if kind == "string_type":
        return 'Put it in quotes: "A".'
    if kind == "model_type":
        return f"Known here: {', '.join(keys_at(path))}."
    return ""


def _path(loc: tuple[str | int, ...], raw: Any) -> Path:
    """Return the part of a place in the model that is in the file: a reading written bare has no keys."""
    path: list[str | int] = []
    here = raw
    for step in loc:
        listed = isinstance(step, int) and isinstance(here, list) and step < len(here)
        if listed or (isinstance(here, Mapping) and step in here):
            here = here[step]
            path.append(step)
    return tuple(path)


def model_at(path: Path) -> type[Model] | None:
    """Return the model of the table at a path, None where the file holds no table."""
    here: type[Model] | None = Job
    for step in path:
        if isinstance(step, str):
            field = here.model_fields.get(step) if here else None
            here = model_in(field.annotation) if field else None
    return here


def model_in(annotation: Any) -> type[Model] | None:
    """Return the model inside an annotation such as `tuple[Opening, ...]`."""
    if isinstance(annotation, type) and issubclass(annotation, Model):
        return annotation
    return next((model for each in get_args(annotation) if (model := model_in(each))), None)


def keys_at(path: Path) -> list[str]:
    """Return the keys a person may write at a path."""
    model = model_at(path)
    return [key for key in model.model_fields if key not in ("spread", "text")] if model else []


def _how_to_add(path: Path, key: str) -> str:
    model = model_at(path)
    annotation = model.model_fields[key].annotation if model else None
    if isinstance(annotation, type) and issubclass(annotation, Model):
        return f"Add a section [{path_text((*path, key))}]."
    if annotation is str:
        return f'Add it here: {key} = "..."'
    is_list = get_origin(annotation) is tuple and key != "down"
    return f"Add it here: {key} = {'[...]' if is_list else '...'}"


def _written(path: Path, raw: Any) -> Any:
    """Return what the file has at a path."""
    for step in path:
        raw = raw[step]
    return raw
