"""Families of materials that meet at an opening, by the names a job may use."""

from __future__ import annotations

import difflib
from dataclasses import dataclass
from functools import cache
from importlib.resources import files

from sillwright.errors import BadInput, Fault
from sillwright.rules import Row, read_table


@dataclass(frozen=True, slots=True, kw_only=True)
class Family:
    """What several makers' products have in common."""

    name: str
    kind: str
    """tape, sheet, liquid, sealant, coating, frame, metal, wood, board, masonry, surface or use."""
    groups: frozenset[str]
    """Names under which statements speak of it, its own among them."""
    note: str


@cache
def families() -> tuple[Family, ...]:
    """Return every family, in the order of the table."""
    return tuple(map(_family, rows("families")))


def family(name: str) -> Family:
    """Return a family by its name.

    Raises:  BadInput: there is none of that name; names the nearest
    """
    for each in families():
        if each.name == name:
            return each
    known = {each.name.casefold(): each.name for each in families()}
    close = difflib.get_close_matches(name.casefold(), known, n=1)
    advice = f"Did you mean '{known[close[0]]}'?" if close else f"Known: {', '.join(known.values())}."
    raise BadInput(Fault("family", f"there is no family of materials '{name}'.", advice))


@cache
def rows(name: str) -> tuple[Row, ...]:
    """Return the rows of one of the package's tables, checked on the way in."""
    text = files("sillwright.materials").joinpath(f"data/{name}.csv").read_text(encoding="utf-8")
    return read_table(f"{name}.csv", text).rows


def _family(row: Row) -> Family:
    groups = (each.strip() for each in row.texts["groups"].split(";"))
    name = row.keys["name"]
    return Family(
        name=name,
        kind=row.texts["kind"],
        groups=frozenset({name, *filter(None, groups)}),
        note=row.texts["note"],
    )
