"""Local amendments: a user's own table file laid over a rule book, and named in every source it touches.

title = "Town of Example, ordinance 12"
editions = ["2018"]              # those it amends; left out: every edition

[[limit]]
id = "escape.sill"
value = 48                       # in the unit of the limit
section = "R310.2.2 as amended"

[[row]]
table = "fenestration"
climate_zone = "3"
u_max = 0.35
u_max_high = 0.35
shgc_max = 0.25                  # "NR": no requirement

[[strike]]
check = "fall.low_sill"
section = "R312.2 not adopted"
"""

from __future__ import annotations

import difflib
import math
import tomllib
from collections.abc import Iterable, Mapping
from dataclasses import replace
from pathlib import Path
from typing import Any

from sillwright.errors import BadInput, Fault
from sillwright.rules.book import EDITIONS, RuleBook, with_limit, with_row
from sillwright.rules.table import NO_REQUIREMENT, Row, Table, TableFault

_KEYS = ("title", "editions", "limit", "row", "strike")


def read_amendment(path: Path | str, book: RuleBook, *, check_ids: Iterable[str]) -> RuleBook:
    """Return the book with an amendment file laid over.

    Raises:  BadInput: no such file, not text, not TOML, or any fault in it, all of them at once
    """
    name = Path(path).name
    try:
        text = Path(path).read_text(encoding="utf-8")
    except (OSError, UnicodeDecodeError) as error:
        what = getattr(error, "strerror", None) or "it is not text in UTF-8"
        raise BadInput(
            Fault(str(path), f"it cannot be read: {what}.", "Check its name and rights.")
        ) from None
    return amended(book, text, name=name, check_ids=check_ids)


def amended(book: RuleBook, text: str, *, name: str, check_ids: Iterable[str]) -> RuleBook:
    """Return the book with the amendment in a text laid over.

    Args:    name: of the file, as sources will show it; check_ids: checks that may be struck out
    Raises:  BadInput: every fault of the text
    """
    try:
        raw = tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        raise BadInput(Fault(name, f"it is not TOML: {error}.", "Correct the line named.")) from None
    faults = _unknown_keys(name, raw, _KEYS)
    title = raw.get("title")
    if not isinstance(title, str) or not title.strip():
        faults.append(
            Fault(f"{name}: title", "whose amendment this is must be said.", 'title = "Town of ..."')
        )
    editions = raw.get("editions", list(EDITIONS))
    if not isinstance(editions, list) or not editions or not set(map(str, editions)) <= set(EDITIONS):
        fault = Fault(f"{name}: editions", f"{editions!r} is not a list of known editions.", _known(EDITIONS))
        raise BadInput(*faults, fault)
    if faults:
        raise BadInput(*faults)
    if book.edition not in editions:
        what = f"it amends {', '.join(map(str, editions))}, and the job is judged by {book.edition}."
        raise BadInput(Fault(name, what, "Choose its edition for the job, or leave the file out."))
    return _laid(book, raw, f"local amendment: {name} ({title})", name, tuple(check_ids))


def _laid(
    book: RuleBook, raw: Mapping[str, Any], origin: str, name: str, check_ids: tuple[str, ...]
) -> RuleBook:
    faults: list[Fault] = []
    for kind, lay in (("limit", _limit), ("row", _row), ("strike", _strike)):
        entries = raw.get(kind, [])
        if not isinstance(entries, list):
            faults.append(Fault(f"{name}: {kind}", "expected a list of tables.", f"Write [[{kind}]]."))
            continue
        for n, entry in enumerate(entries):
            try:
                book = lay(book, entry, f"{name}: {kind}[{n}]", origin, check_ids)
            except BadInput as error:
                faults += error.faults
    if faults:
        raise BadInput(*faults)
    return replace(book, amendments=(*book.amendments, origin))


def _limit(book: RuleBook, entry: Any, where: str, origin: str, _: tuple[str, ...]) -> RuleBook:
    known = {**book.limits, **book.unset}
    ident = _named(entry, where, "id", tuple(known), ("id", "value", "section"))
    value = _finite(entry.get("value"), f"{where}.value")
    section = _section(entry, where)
    told = f"{origin}, {section}" if section else origin
    old = known[ident]
    return with_limit(book, replace(old, value=value, section=section or old.section, origin=told))


def _row(book: RuleBook, entry: Any, where: str, origin: str, _: tuple[str, ...]) -> RuleBook:
    tables = tuple(name for name in book.tables if name != "limits")
    name = _named(entry, where, "table", tables, None)
    table = book.tables[name]
    own = [key for key in table.keys if key != "edition"]
    places, values = [axis.name for axis in table.axes], [value.name for value in table.values]
    faults = _unknown_keys(where, entry, ("table", "section", *own, *places, *values))
    faults += [
        Fault(where, f"the key '{key}' is missing.", f"A row of {name} needs it.")
        for key in (*own, *places, *values)
        if key not in entry
    ]
    if faults:
        raise BadInput(*faults)
    section = _section(entry, where)
    row = _made(table, entry, where, book.edition, f"{origin}, {section}" if section else origin)
    try:
        return with_row(book, name, row)
    except TableFault as error:
        raise BadInput(Fault(where, f"{error}.", "Check the row against the local print.")) from None


def _made(table: Table, entry: Mapping[str, Any], where: str, edition: str, origin: str) -> Row:
    keys = {key: edition if key == "edition" else str(entry[key]) for key in table.keys}
    at = {axis.name: _finite(entry[axis.name], f"{where}.{axis.name}") for axis in table.axes}
    values = {
        each.name: None
        if entry[each.name] == NO_REQUIREMENT
        else _finite(entry[each.name], f"{where}.{each.name}")
        for each in table.values
    }
    return Row(keys=keys, at=at, values=values, texts=dict.fromkeys(table.texts, ""), origin=origin)


def _strike(book: RuleBook, entry: Any, where: str, origin: str, check_ids: tuple[str, ...]) -> RuleBook:
    ident = _named(entry, where, "check", check_ids, ("check", "section"))
    section = _section(entry, where)
    told = f"struck out by {origin}" + (f", {section}" if section else "")
    return replace(book, struck={**book.struck, ident: told})


def _named(entry: Any, where: str, key: str, known: tuple[str, ...], keys: tuple[str, ...] | None) -> str:
    """Return what an entry names, if it is known and the entry has no other keys than it may have."""
    if not isinstance(entry, dict):
        raise BadInput(Fault(where, "expected a table of keys.", f"It needs {key}."))
    faults = _unknown_keys(where, entry, keys) if keys else []
    name = entry.get(key)
    if name is None:
        faults.append(Fault(where, f"the key '{key}' is missing.", _known(known)))
    elif name not in known:
        close = difflib.get_close_matches(str(name), known, n=1)
        advice = f"Did you mean '{close[0]}'?" if close else _known(known)
        faults.append(Fault(f"{where}.{key}", f"there is no '{name}'.", advice))
    if faults:
        raise BadInput(*faults)
    return str(name)


def _unknown_keys(where: str, entry: Mapping[str, Any], known: tuple[str, ...]) -> list[Fault]:
    faults = []
    for key in entry:
        if key not in known:
            close = difflib.get_close_matches(key, known, n=1)
            advice = f"Did you mean '{close[0]}'?" if close else _known(known)
            faults.append(Fault(where, f"unknown key '{key}'.", advice))
    return faults


def _section(entry: Mapping[str, Any], where: str) -> str:
    section = entry.get("section", "")
    if not isinstance(section, str):
        raise BadInput(Fault(f"{where}.section", "expected text in quotes.", 'section = "R310.2.2"'))
    return section


def _finite(value: Any, where: str) -> float:
    if isinstance(value, bool) or not isinstance(value, int | float) or not math.isfinite(value) or value < 0:
        raise BadInput(Fault(where, f"expected a number of at least 0, found {value!r}.", "Correct it."))
    return float(value)


def _known(names: Iterable[str]) -> str:
    return f"Known here: {', '.join(names)}."
