"""What the checks of a ledger look at: the layout's least distances, and what nobody stated."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise

from sillwright.deck import LedgerFacts
from sillwright.inspection.facts import Site
from sillwright.inspection.ledger_load import backing, nominal
from sillwright.inspection.model import BandPlace, LedgerPlan


def unsaid_keys(site: Site, ends: tuple[float, float] | None) -> tuple[str, ...]:
    """Return the keys that checks of a ledger need and nobody stated."""
    deck = site.deck
    keys = (
        "joist_span_ft",
        "joist_bearing",
        "flashed",
        "ties",
        "treated",
        "band_bears_fully",
        "nailed",
        "beams_on_ledger",
        "joists_cantilever",
        "guard_posts_on_edge",
    )
    unsaid = [key for key in keys if getattr(deck, key) is None]
    if deck.joist_overhang is not None and "joists_cantilever" in unsaid:
        unsaid.remove("joists_cantilever")
    if deck.ties is not None and deck.tie_capacity_lb is None:
        unsaid.append("tie_capacity_lb")
    return (*unsaid, *(("ledger_left", "ledger_right") if ends is None else ()))


def ledger_facts(site: Site, ledger: LedgerPlan | None, ties: tuple[float, ...]) -> LedgerFacts:
    """Return what the checks of the ledger as laid out look at."""
    deck = site.deck
    sawn = backing(deck) == "2x band joist" and deck.band_joist_depth is not None
    facts = LedgerFacts(
        ledger=nominal(deck.ledger_depth or 0.0),
        band=nominal(deck.band_joist_depth or 0.0) if sawn else None,
        fastener=deck.fastener or "lag",
        bolts_at_lag_spacing=False,
        tie_form=deck.ties,
        tie_count=len(ties) or None,
        tie_capacity_lb=deck.tie_capacity_lb,
        joist_bearing=deck.joist_bearing,
    )
    if ledger is not None and ties:
        length = ledger.right - ledger.left
        facts = replace(facts, tie_from_end=max(ties[0], length - ties[-1]))
    if ledger is None or not ledger.fasteners:
        return facts
    return _placed_facts(facts, ledger)


def _placed_facts(facts: LedgerFacts, ledger: LedgerPlan) -> LedgerFacts:
    low = [each for each in ledger.fasteners if each.row == "low"]
    high = [each for each in ledger.fasteners if each.row == "high"]
    length = ledger.right - ledger.left
    ends = (ledger.fasteners[0].from_left, length - ledger.fasteners[-1].from_left)
    rows = [above.z - below.z for above in high for below in low[:1]]
    return replace(
        facts,
        top_edge=min(each.below_top for each in high),
        low_row=min(each.below_top for each in low),
        bottom_edge=min(each.z - ledger.bottom for each in low),
        end=max(ends) if min(ends) >= 2.0 else min(ends),
        rows_apart=min(rows),
        band_top_edge=min(_band(ledger, each.x).top - each.z for each in high),
        band_bottom_edge=min(each.z - _band(ledger, each.x).bottom for each in low),
    )


def _band(ledger: LedgerPlan, x: float) -> BandPlace:
    """Return the band joist at a place, on straight lines between the shots."""
    places = ledger.band
    if x <= places[0].x:
        return replace(places[0], x=x)
    for a, b in pairwise(places):
        if x <= b.x:
            t = (x - a.x) / (b.x - a.x)
            return BandPlace(
                x=x, bottom=a.bottom + t * (b.bottom - a.bottom), top=a.top + t * (b.top - a.top)
            )
    return replace(places[-1], x=x)
