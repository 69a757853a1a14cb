"""The second chain that meets at the wall: ledger, its two rows of fasteners, and the band joist behind.

The ledger stands where the backing is; the joists may hang lower. Whether both rows of fasteners find room in
ledger and band joist at once is a matter of heights, so the rows are levels of the chain.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

from sillwright.errors import OutOfRange
from sillwright.heights.limits import Limit, limit, lower_row, the_limit
from sillwright.heights.model import Chain, Demand, Level, Step
from sillwright.heights.wall_model import Backing, DeckHeights, Place, extremes
from sillwright.lengths import Unit, show
from sillwright.rules import RuleBook

HANGER = "joist hanger's maker: the seat bears on the ledger (from memory)"


def ledger_chain(
    deck: DeckHeights, backing: Backing | None, *, units: Unit = "in", book: RuleBook | None = None
) -> Chain:
    """Return levels, steps and demands of a ledger, with its rows where the code's table has its depth.

    Args:    deck: has a ledger; backing: None: nothing known of what is behind; units: of its texts;
             book: whose limits count, the 2018 edition's without one
    Source:  IRC 2018, R507.9.1.3(2)
    """
    rows = _Rows(deck, backing, units, book) if backing is not None and in_table(deck) else None
    text = "seat of the joists no lower than the underside of the ledger"
    seat = Demand(
        name="hanger seat", lower="ledger bottom", upper="joist seat", low=0.0, text=text, source=HANGER
    )
    return Chain(
        levels=(
            Level(name="ledger top", z=deck.ledger_top),
            Level(name="ledger bottom"),
            Level(name="joist seat"),
            *(rows.levels() if rows else ()),
        ),
        steps=(_hung(deck), _ledger(deck), _notch(deck), *(rows.steps() if rows else ())),
        demands=(seat, *(rows.demands() if rows else ())),
    )


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


@dataclass(frozen=True, slots=True)
class _Rows:
    """Both rows of fasteners, between the edges of ledger and band joist."""

    deck: DeckHeights
    backing: Backing
    units: Unit
    book: RuleBook | None

    def levels(self) -> tuple[Level, ...]:
        rows = Level(name="upper row"), Level(name="lower row")
        tops = (self._top(end, place) for end, place in extremes(self.backing.top))
        return (*rows, *tops, Level(name="band joist bottom"))

    def steps(self) -> tuple[Step, ...]:
        off = self.deck.set_out_tolerance
        edge, least, most = (
            the_limit(f"ledger.{name}", self.book) for name in ("top_edge", "rows_least", "rows_most")
        )
        highest = [end for end, _ in extremes(self.backing.top)][-1]
        return (
            Step(
                name="upper row below ledger top",
                lower="upper row",
                upper="ledger top",
                low=edge.value,
                tolerance=off,
                text=f"upper row of fasteners {self._say(edge)} or more below the top of the ledger",
                source=edge.source,
            ),
            Step(
                name="between rows",
                lower="lower row",
                upper="upper row",
                low=least.value,
                high=most.value,
                tolerance=off,
                text=f"rows of fasteners {self._say(least)} to {self._say(most)} apart",
                source=least.source,
            ),
            Step(
                name="band joist",
                lower="band joist bottom",
                upper=f"{highest} band joist top",
                size=self.backing.depth,
                tolerance=self.backing.depth_tolerance,
            ),
        )

    def demands(self) -> tuple[Demand, ...]:
        row, band_bottom = "lower row", "band joist bottom"
        lower = lower_row(self.deck.ledger_depth or 0.0, lags=self.deck.lags, book=self.book)
        ledger_edge, band_top, band_edge = (
            the_limit(name, self.book) for name in ("ledger.bottom_edge", "band.top_edge", "band.bottom_edge")
        )
        return (
            self._edge("lower row below ledger top", row, "ledger top", lower),
            self._edge("lower row above ledger bottom", "ledger bottom", row, ledger_edge),
            self._edge("upper row below band top", "upper row", "lowest band joist top", band_top),
            self._edge("lower row above band bottom", band_bottom, row, band_edge),
        )

    def _edge(self, name: str, lower: str, upper: str, least: Limit) -> Demand:
        text = _PLACES[name].format(self._say(least))
        return Demand(name=name, lower=lower, upper=upper, low=least.value, text=text, source=least.source)

    def _top(self, end: str, place: Place) -> Level:
        text = f"{end} top of the band joist, at {show(place.x, unit=self.units, mark=True)} along the wall"
        return Level(name=f"{end} band joist top", z=place.z, sd=place.sd, text=text)

    def _say(self, limit: Limit) -> str:
        return show(limit.value, unit=self.units, mark=True)


_PLACES = {
    "lower row below ledger top": "lower row of fasteners {} or more below the top of the ledger",
    "lower row above ledger bottom": "lower row of fasteners {} or more above the underside of the ledger",
    "upper row below band top": "upper row of fasteners {} or more below the top of the band joist",
    "lower row above band bottom": "lower row of fasteners {} or more above the underside of the band joist",
}


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
