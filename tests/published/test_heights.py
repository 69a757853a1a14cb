"""Chains and the model code's limits on heights against what others print."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any

import pytest
from tests.heights.chains import stack
from tests.published.checks import Check, load

from sillwright.heights import (
    Backing,
    Chain,
    DeckHeights,
    Demand,
    Level,
    Place,
    Step,
    difference,
    guard_needed,
    limits,
    most_drop,
    solve,
)
from sillwright.heights.ledger import ledger_chain

ROWS = [check for check in load("heights") if "rule" in check.given]
CHAINS = [check for check in load("heights") if "steps" in check.given]


@pytest.mark.parametrize("check", CHAINS, ids=lambda check: check.id)
def test_chains_come_to_what_others_print(check: Check) -> None:
    chain = stack(*map(tuple, check.given["steps"]))
    last = f"level {len(chain.steps)}"
    found = difference(solve(chain), lower="level 0", upper=last)
    assert found.size is not None
    check.compare(
        {
            "size": found.size,
            "worst": found.worst,
            "least": found.size - found.worst,
            "greatest": found.size + found.worst,
            "rss": found.rss,
            "rss_least": found.size - found.rss,
            "rss_greatest": found.size + found.rss,
        }
    )


@pytest.mark.parametrize("check", ROWS, ids=lambda check: check.id)
def test_limits_of_the_code_fall_where_it_puts_them(check: Check) -> None:
    given = {key: value for key, value in check.given.items() if key != "rule"}
    check.compare(_RULES[check.given["rule"]](given))


def _drop(given: Mapping[str, Any]) -> dict[str, Any]:
    rest = {key: value for key, value in given.items() if key != "drop"}
    return {"allowed": given["drop"] <= most_drop(**rest).value}


def _rows_fit(given: Mapping[str, Any]) -> dict[str, Any]:
    deck = DeckHeights(
        decking_thickness=1.0,
        joist_depth=7.25,
        ledger_depth=given["ledger_depth"],
        ledger_top=0.0,
        lags=given["lags"],
    )
    backing = Backing(top=(Place(x=0.0, z=-1.0),), depth=9.25)
    ledger = ledger_chain(deck, backing)
    levels = (*ledger.levels, Level(name="joist top"), Level(name="joist bottom"))
    joist = Step(name="joist", lower="joist bottom", upper="joist top", size=deck.joist_depth)
    placed = [_at("upper row", given["upper_row"]), _at("lower row", given["lower_row"])]
    chain = Chain(levels=levels, steps=(*ledger.steps, joist), demands=(*ledger.demands, *placed))
    return {"fits": not solve(chain).conflicts}


def _at(row: str, below: float) -> Demand:
    return Demand(name=f"{row} placed", lower=row, upper="ledger top", low=below, high=below)


_RULES: dict[str, Callable[[Mapping[str, Any]], dict[str, Any]]] = {
    "drop": _drop,
    "guard": lambda given: {"needed": guard_needed(tuple(map(tuple, given["profile"])))},
    "rows": _rows_fit,
    "notch": lambda given: {
        name: limits()[name].value * given["joist_depth"]
        for name in ("notch_elsewhere", "notch_length", "notch_at_end")
    },
}
