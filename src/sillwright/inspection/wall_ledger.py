"""From a job and the heights at its door to a ledger with every fastener, or to what stops it."""

from __future__ import annotations

from dataclasses import dataclass, replace

from sillwright.deck import LedgerFacts
from sillwright.errors import OutOfRange
from sillwright.findings import Finding
from sillwright.heights import ChainResult
from sillwright.inspection.facts import Site
from sillwright.inspection.ledger_facts import ledger_facts, unsaid_keys
from sillwright.inspection.ledger_load import (
    attached,
    backing,
    band_thickness,
    ledger_load,
    nominal,
    table_spacing,
)
from sillwright.inspection.model import BandPlace, KeptClear, LagScrew, LedgerFastener, LedgerPlan
from sillwright.job import Deck
from sillwright.rules import RuleBook
from sillwright.structure import (
    LEDGER_DIAMETER,
    BandAt,
    Cell,
    Distances,
    Fastener,
    Layout,
    LayoutRequest,
    Ledger,
    LedgerPlaces,
    Obstacle,
    distances,
    hangers,
    lag_length,
    lag_penetration,
    lag_screw,
    laid_places,
    lateral_ties,
    layout,
)

USUAL_SPACING = 16.0
LEDGER_THICKNESS = 1.5
"""Of a board of 2 in nominal [in]."""
TIP_SOURCE = "IRC Table R507.9.1.3(1), footnote on the tip; tip: NDS 2018 appendix L, from memory"
STUDS = 3.0
"""Jack and king stud beside an opening, 1-1/2 in each [in]; common practice, no source."""


@dataclass(frozen=True, slots=True, kw_only=True)
class OnTheWall:
    """A ledger for the plan, what was found, what the checks are to look at, what was not said."""

    ledger: LedgerPlan | None
    findings: tuple[Finding, ...]
    facts: LedgerFacts
    places: LedgerPlaces | None
    """Least distances of the fasteners; None: none is laid out."""
    unsaid: tuple[str, ...]
    """Keys of the job that a check asks for."""


def on_the_wall(site: Site, result: ChainResult, book: RuleBook) -> OnTheWall:
    """Return the ledger of a site whose deck has one.

    Args:    result: the heights, solved; book: the limits for distances, local amendments included
    """
    deck = site.deck
    found = list(attached(site, book))
    cell = table_spacing(ledger_load(site, book), backing(deck), book)
    placed = None
    places = None
    stops: tuple[Finding, ...] = ()
    ties: tuple[float, ...] = ()
    top = result.z("ledger top") if result.has("ledger top") else None
    extent = ends(site)
    if top is not None and extent is not None:
        request = _request(site, result, top=top, ends=extent, cell=cell, book=book)
        made = layout(request) if request is not None else None
        stops = made.findings if made is not None else ()
        if request is not None and made is not None and made.fasteners:
            places = laid_places(request, made)
        joists = joist_places(extent[1] - extent[0], spacing=deck.joist_spacing or USUAL_SPACING)
        ties, tied = _ties(deck, book, length=extent[1] - extent[0], joists=joists)
        found += tied
        placed = _plan(site, result, top=top, ends=extent, cell=cell, made=made, joists=joists, ties=ties)
    facts = ledger_facts(site, placed, ties)
    named = tuple(
        replace(each, id=f"finding.{each.id}", place=each.place or "ledger") for each in (*found, *stops)
    )
    return OnTheWall(
        ledger=placed, findings=named, facts=facts, places=places, unsaid=unsaid_keys(site, extent)
    )


def joist_places(length: float, *, spacing: float) -> tuple[float, ...]:
    """Return the centres of joists along a ledger: one flush with each end, the rest on centre [in]."""
    half = 0.75
    inner, x = [], spacing
    while x < length - 4 * half:
        inner.append(x)
        x += spacing
    return (half, *inner, length - half)


def ends(site: Site) -> tuple[float, float] | None:
    """Return both ends of the ledger along the wall: as stated, else as far as the band joist was shot."""
    deck, band = site.deck, site.band
    if deck.ledger_left is not None and deck.ledger_right is not None:
        return deck.ledger_left, deck.ledger_right
    return (band[0].x, band[-1].x) if len(band) > 1 else None


def _request(
    site: Site,
    result: ChainResult,
    *,
    top: float,
    ends: tuple[float, float],
    cell: Cell | None,
    book: RuleBook,
) -> LayoutRequest | None:
    """Return what is to be laid out; None where no table row, size or band joist is to go by."""
    deck = site.deck
    depth, size = deck.ledger_depth or 0.0, nominal(deck.ledger_depth or 0.0)
    if cell is None or size is None or not site.band or deck.band_joist_depth is None:
        return None
    left, right = ends
    reduced = nominal(deck.band_joist_depth) == "2x8" and deck.fastener != "bolt"
    allowed = distances("ledger", size=size, reduced=reduced, book=book)
    ledger = Ledger(
        top=top,
        depth=depth,
        in_ledger=_at_rows(allowed, result, top=top, depth=depth),
        in_band=distances("band_joist", book=book),
    )
    joists = joist_places(right - left, spacing=deck.joist_spacing or USUAL_SPACING)
    return LayoutRequest(
        length=right - left,
        spacing=cell.value,
        ledger=ledger,
        band=tuple(
            BandAt(x=each.x - left, bottom=each.z - deck.band_joist_depth, top=each.z) for each in site.band
        ),
        obstacles=(*hangers(joists), *_in_the_way(site, left=left, right=right)),
    )


def _at_rows(allowed: Distances, result: ChainResult, *, top: float, depth: float) -> Distances:
    """Return distances that leave the rows only the heights of the chain, where it found them.

    The chain keeps the rows clear of their limits by what the heights can be off; section, pole and ledger
    then tell the same two heights.
    """
    if result.conflicts or not result.has("lower row"):
        return allowed
    low, high = result.z("lower row"), result.z("upper row")
    if low is None or high is None:
        return allowed
    return replace(
        allowed,
        low_row_from_top=top - low,
        bottom_edge=low - (top - depth),
        rows_least=high - low,
        rows_most=high - low,
    )


def _studs(site: Site, *, left: float, right: float) -> tuple[tuple[float, float, str], ...]:
    """Return the studs beside every opening that the ledger passes: from, to along the wall, whose."""
    found = []
    for shape in site.survey.openings:
        for start, end in ((shape.left - STUDS, shape.left), (shape.right, shape.right + STUDS)):
            if shape.position_known and start < right and end > left:
                found.append((start, end, shape.name))
    return tuple(found)


def _in_the_way(site: Site, *, left: float, right: float) -> tuple[Obstacle, ...]:
    over = max(place.z for place in site.band)
    studs = [
        Obstacle(left=start - left, right=end - left, what=f"studs beside {name}", bottom=over)
        for start, end, name in _studs(site, left=left, right=right)
    ]
    stated = [
        Obstacle(
            left=each.x - each.width / 2 - left,
            right=each.x + each.width / 2 - left,
            what=each.what,
            **({"bottom": each.bottom} if each.bottom is not None else {}),
            **({"top": each.top} if each.top is not None else {}),
        )
        for each in site.deck.obstacle
    ]
    return (*studs, *stated)


def _ties(
    deck: Deck, book: RuleBook, *, length: float, joists: tuple[float, ...]
) -> tuple[tuple[float, ...], tuple[Finding, ...]]:
    if deck.ties is None:
        return (), ()
    try:
        return lateral_ties(deck.ties, length=length, joists=joists, book=book), ()
    except OutOfRange as error:
        stop = Finding(
            id="ledger.ties",
            severity="stop",
            message=f"The lateral ties cannot be placed: {error}.",
            advice="Place joists where the ties must go, or have them designed.",
            source="IRC R507.9.2",
        )
        return (), (stop,)


def _plan(
    site: Site,
    result: ChainResult,
    *,
    top: float,
    ends: tuple[float, float],
    cell: Cell | None,
    made: Layout | None,
    joists: tuple[float, ...],
    ties: tuple[float, ...],
) -> LedgerPlan:
    deck, (left, right) = site.deck, ends
    depth = deck.ledger_depth or 0.0
    band = deck.band_joist_depth
    placed = made.fasteners if made is not None else ()
    return LedgerPlan(
        left=left,
        right=right,
        top=top,
        bottom=top - depth,
        size=nominal(depth) or "",
        fastener=deck.fastener or "lag",
        spacing=cell.value if cell is not None else None,
        spacing_source=cell.source if cell is not None else "",
        spacing_row=cell.row if cell is not None else "",
        from_memory=cell is not None and cell.status == "memory",
        lag=lag_of(deck),
        greatest_gap=made.greatest_gap if made is not None and placed else None,
        least_count=made.least_count if made is not None else 0,
        fasteners=tuple(_fastener(n, each, left, top) for n, each in enumerate(placed, start=1)),
        joists=joists,
        joist_top=result.z("joist top"),
        joist_depth=deck.joist_depth or depth,
        band=tuple(BandPlace(x=each.x, bottom=each.z - band, top=each.z) for each in site.band)
        if band is not None
        else (),
        studs=tuple((start, end) for start, end, _ in _studs(site, left=left, right=right)),
        kept_clear=tuple(
            KeptClear(
                what=each.what,
                left=each.x - each.width / 2,
                right=each.x + each.width / 2,
                bottom=each.bottom,
                top=each.top,
            )
            for each in deck.obstacle
        ),
        ties=ties,
        assumed=_assumed(site),
    )


def lag_of(deck: Deck) -> LagScrew | None:
    """Return how long the lag screws of a ledger are; None: it is bolted."""
    if deck.fastener == "bolt":
        return None
    screw, gap, band = lag_screw(LEDGER_DIAMETER), deck.sheathing + deck.washers, band_thickness(deck)
    length = lag_length(ledger=LEDGER_THICKNESS, gap=gap, band=band, tip=screw.tip)
    deep = lag_penetration(length, ledger=LEDGER_THICKNESS, gap=gap, band=band, tip=screw.tip)
    return LagScrew(length=length, tip=screw.tip, penetration=deep, source=TIP_SOURCE)


def _fastener(number: int, placed: Fastener, left: float, top: float) -> LedgerFastener:
    return LedgerFastener(
        id=f"ledger.{number}",
        number=number,
        from_left=placed.x,
        x=left + placed.x,
        row="low" if placed.row == "low" else "high",
        z=placed.z,
        below_top=top - placed.z,
    )


def _assumed(site: Site) -> tuple[str, ...]:
    deck = site.deck
    said = (
        (deck.ledger_left is None, "its ends: as far as the band joist was shot"),
        (deck.fastener is None, "its fasteners: 1/2 in lag screws"),
        (deck.joist_spacing is None, "joists: 16 in on centre from the left end, one flush with each end"),
        (deck.live_load_psf is None, "live load: 40 psf"),
        (deck.backing is None, "backing: a band joist of 2x lumber"),
        (
            site.job.site.ground_snow_psf is None and site.job.site.ground_snow_kPa is None,
            "ground snow load: not above 40 psf",
        ),
    )
    return tuple(text for missing, text in said if missing)
