"""The limits of the rule book laid over the chain of heights, so that checks and heights go by one number."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from typing import TypeVar

from sillwright.heights import Chain, Demand, DoorHeights, Step, WallHeights
from sillwright.inspection.ledger_load import nominal
from sillwright.lengths import Unit, show
from sillwright.rules import Limit, RuleBook

_LEAST = {
    "upper row below ledger top": "ledger.top_edge",
    "between rows": "ledger.rows_least",
    "lower row above ledger bottom": "ledger.bottom_edge",
    "upper row below band top": "band.top_edge",
    "lower row above band bottom": "band.bottom_edge",
}
_MOST = {"between rows": "ledger.rows_most"}


def by_the_book(chain: Chain, wall: WallHeights, book: RuleBook, *, units: Unit) -> Chain:
    """Return the chain with the book's limits, and its edition or amendment in the sources.

    Args:    wall: what the chain was made from; units: in which its texts are written
    """
    least, most = dict(_LEAST), dict(_MOST)
    if wall.door is not None:
        most |= {"step down": _drop(wall.door, outside=True)}
        floors = (each.name for each in chain.demands if each.name.startswith("threshold over "))
        most |= dict.fromkeys(floors, _drop(wall.door, outside=False))
    if wall.deck is not None and (size := nominal(wall.deck.ledger_depth or 0.0)) is not None:
        reduced = size == "2x8" and wall.deck.lags
        least["lower row below ledger top"] = (
            "ledger.low_row_2x8_lag" if reduced else f"ledger.low_row_{size}"
        )
    limits = {name: book.limits[ident] for name, ident in least.items()}
    highs = {name: book.limits[ident] for name, ident in most.items()}
    return replace(
        chain,
        steps=tuple(_laid(each, limits, highs, book, units) for each in chain.steps),
        demands=tuple(_laid(each, limits, highs, book, units) for each in chain.demands),
    )


def _drop(door: DoorHeights, *, outside: bool) -> str:
    # R311.3.1, R311.3.2
    if not door.egress:
        return "threshold.other"
    return "threshold.egress_no_swing" if outside and door.swing != "out" else "threshold.egress"


_Link = TypeVar("_Link", Step, Demand)


def _laid(
    link: _Link, lows: Mapping[str, Limit], highs: Mapping[str, Limit], book: RuleBook, units: Unit
) -> _Link:
    low, high = lows.get(link.name), highs.get(link.name)
    governing = low or high
    if governing is None:
        return link
    source = f"IRC {book.edition}, {governing.section}" + ("; from memory" if governing.from_memory else "")
    amended = [each for each in (low, high) if each is not None and each.origin]
    text = link.text
    if amended:
        source = "; ".join(each.origin for each in amended)
        text = f"{link.name}, {_said(low, high, units)}"
    return replace(
        link,
        low=low.value if low is not None else link.low,
        high=high.value if high is not None else link.high,
        text=text,
        source=source,
    )


def _said(low: Limit | None, high: Limit | None, units: Unit) -> str:
    least = f"at least {show(low.value, unit=units, mark=True)}" if low is not None else ""
    most = f"at most {show(high.value, unit=units, mark=True)}" if high is not None else ""
    return ", ".join(each for each in (least, most) if each)
