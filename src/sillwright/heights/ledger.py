"""The second chain that meets at the wall: ledger, its two rows of fasteners, and the band joist behind.

The ledger stands where the backing is; the joists may hang lower. Whether both rows of fasteners find room in
ledger and band joist at once is a matter of heights, so the rows are levels of the chain.
"""

from __future__ import annotations

from dataclasses import replace

from sillwright.errors import OutOfRange
from sillwright.heights.limits import Limit, limit, limits, lower_row, source
from sillwright.heights.model import Demand, Level, Step
from sillwright.heights.wall_model import Backing, DeckHeights, Place, extremes
from sillwright.lengths import Unit, show

HANGER = "joist hanger's maker: the seat bears on the ledger (from memory)"


def ledger_parts(
    deck: DeckHeights, backing: Backing | None, *, units: Unit = "in"
) -> tuple[list[Level], list[Step], list[Demand]]:
    """Return levels, steps and demands of a ledger, with its rows where the code's table has its depth.

    Args:    deck: has a ledger; backing: None: nothing known of what is behind; units: of its texts
    Source:  IRC 2018, R507.9.1.3(2)
    """
    levels = [Level(name="ledger top"), Level(name="ledger bottom"), Level(name="joist seat")]
    steps = [_hung(deck), _ledger(deck), _notch(deck)]
    text = "seat of the joists no lower than the underside of the ledger"
    seat = Demand(
        name="hanger seat", lower="ledger bottom", upper="joist seat", low=0.0, text=text, source=HANGER
    )
    demands = [seat]
    if backing is not None and in_table(deck):
        rows, between, kept = _rows(deck, backing, units)
        levels, steps, demands = levels + rows, steps + between, demands + kept
    return levels, steps, demands


def in_table(deck: DeckHeights) -> bool:
    """Say whether the code's table of fastener places has a ledger of this depth."""
    try:
        lower_row(deck.ledger_depth or 0.0, lags=deck.lags)
    except OutOfRange:
        return False
    return True


def _hung(deck: DeckHeights) -> Step:
    text = "top of the joists below the top of the ledger"
    size, off = deck.joist_below_ledger_top, deck.set_out_tolerance
    step = Step(
        name="joists hung", lower="joist top", upper="ledger top", size=size, tolerance=off, text=text
    )
    return step if size is not None else replace(step, low=0.0, wish=0.0, weight=0.1)


def _ledger(deck: DeckHeights) -> Step:
    size, off = deck.ledger_depth or 0.0, deck.lumber_tolerance
    return Step(name="ledger", lower="ledger bottom", upper="ledger top", size=size, tolerance=off)


def _notch(deck: DeckHeights) -> Step:
    text = "notch under the joist's end"
    return Step(
        name="joist notch", lower="joist bottom", upper="joist seat", size=deck.joist_notch, text=text
    )


def _rows(deck: DeckHeights, backing: Backing, units: Unit) -> tuple[list[Level], list[Step], list[Demand]]:
    def say(name: str) -> str:
        return show(limit(name), unit=units, mark=True)

    tops = [_top(end, place, units) for end, place in extremes(backing.top)]
    levels = [Level(name="upper row"), Level(name="lower row"), *tops]
    levels.append(Level(name="band joist bottom"))
    off = deck.set_out_tolerance
    steps = [
        Step(
            name="upper row below ledger top",
            lower="upper row",
            upper="ledger top",
            low=limit("ledger.top_edge"),
            tolerance=off,
            text=f"upper row of fasteners {say('ledger.top_edge')} or more below the top of the ledger",
            source=source("ledger.top_edge"),
        ),
        Step(
            name="between rows",
            lower="lower row",
            upper="upper row",
            low=limit("ledger.rows_least"),
            high=limit("ledger.rows_most"),
            tolerance=off,
            text=f"rows of fasteners {say('ledger.rows_least')} to {say('ledger.rows_most')} apart",
            source=source("ledger.rows_least"),
        ),
        Step(
            name="band joist",
            lower="band joist bottom",
            upper=tops[-1].name,
            size=backing.depth,
            tolerance=backing.depth_tolerance,
        ),
    ]
    return levels, steps, _demands(deck, units)


def _demands(deck: DeckHeights, units: Unit) -> list[Demand]:
    lower = lower_row(deck.ledger_depth or 0.0, lags=deck.lags)
    edges = limits()
    return [
        _edge("lower row below ledger top", "lower row", "ledger top", lower, units),
        _edge(
            "lower row above ledger bottom", "ledger bottom", "lower row", edges["ledger.bottom_edge"], units
        ),
        _edge(
            "upper row below band top", "upper row", "lowest band joist top", edges["band.top_edge"], units
        ),
        _edge("lower row above band bottom", _BAND_BOTTOM, "lower row", edges["band.bottom_edge"], units),
    ]


_BAND_BOTTOM = "band joist bottom"
_PLACES = {
    "lower row below ledger top": "lower row of fasteners {} or more below the top of the ledger",
    "lower row above ledger bottom": "lower row of fasteners {} or more above the underside of the ledger",
    "upper row below band top": "upper row of fasteners {} or more below the top of the band joist",
    "lower row above band bottom": "lower row of fasteners {} or more above the underside of the band joist",
}


def _edge(name: str, lower: str, upper: str, least: Limit, units: Unit) -> Demand:
    text = _PLACES[name].format(show(least.value, unit=units, mark=True))
    return Demand(name=name, lower=lower, upper=upper, low=least.value, text=text, source=least.source)


def _top(end: str, place: Place, units: Unit) -> Level:
    text = f"{end} top of the band joist, at {show(place.x, unit=units, mark=True)} along the wall"
    return Level(name=f"{end} band joist top", z=place.z, sd=place.sd, text=text)


def notch_faults(*, depth: float, length: float, joist_depth: float, at_end: bool) -> tuple[str, ...]:
    """Return what is wrong with a notch in a joist, by name; empty: nothing.

    Args:    depth, length: of the notch along the joist [in]; joist_depth: [in]; at_end: at its end, where
             only the depth is limited; elsewhere it must also keep out of the middle third of the span
    Source:  IRC 2018, R502.8.1
    """
    if at_end:
        return ("notch_at_end",) if depth > joist_depth * limit("notch_at_end") + 1e-6 else ()
    found = []
    if depth > joist_depth * limit("notch_elsewhere") + 1e-6:
        found.append("notch_elsewhere")
    if length > joist_depth * limit("notch_length") + 1e-6:
        found.append("notch_length")
    return tuple(found)
