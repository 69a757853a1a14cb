"""The schemes by name, and what is taken where no roll is named: from the package's own data files."""

from __future__ import annotations

import tomllib
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from typing import Any

from sillwright.flashing.practice import PanMake, Scheme, UnitSet, WrapWhen
from sillwright.water import Stock

USUAL = "strips over the fin"
USUAL_WITHOUT_FIN = "lined opening"
OWN = "own pieces"
"""Nothing but the pieces that a job lists."""


@dataclass(frozen=True, slots=True, kw_only=True)
class SchemeCard:
    """A scheme with what a carpenter wants to know before choosing it."""

    scheme: Scheme
    when: str
    watch: str


@cache
def schemes() -> tuple[SchemeCard, ...]:
    """Return all schemes, in the order of the file."""
    return tuple(_card(row) for row in _data("schemes")["scheme"])


def scheme_card(name: str) -> SchemeCard:
    """Return a scheme by its name.

    Raises:  KeyError: there is none of that name
    """
    return {each.scheme.name: each for each in schemes()}[name]


@cache
def usual_rolls() -> dict[str, Stock]:
    """Return what is taken for each use where a job names no roll."""
    return {row["use"]: _stock(row) for row in _data("rolls")["roll"]}


def _data(name: str) -> dict[str, Any]:
    return tomllib.loads(files("sillwright.flashing").joinpath(f"data/{name}.toml").read_text("utf-8"))


def _card(row: dict[str, str]) -> SchemeCard:
    scheme = Scheme(
        name=row["name"],
        words=row["words"],
        wrap=WrapWhen(row["wrap"]),
        pan=PanMake(row["pan"]),
        unit=UnitSet(row["unit"]),
    )
    return SchemeCard(scheme=scheme, when=row["when"], watch=row["watch"])


def _stock(row: dict[str, Any]) -> Stock:
    return Stock(
        name=row["name"],
        family=row["family"],
        thickness=row["thickness"],
        stretches=row.get("stretches", False),
    )
