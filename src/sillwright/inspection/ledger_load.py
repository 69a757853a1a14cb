"""What loads a ledger and what it is fastened to: the row of the table, and what forbids the connection."""

from __future__ import annotations

from dataclasses import replace
from typing import Literal, get_args

from sillwright.errors import OutOfRange
from sillwright.findings import Finding
from sillwright.inspection.facts import Site
from sillwright.job import Deck
from sillwright.rules import RuleBook
from sillwright.structure import Attachment, Cell, LedgerLoad, attachment_findings, fastener_spacing, section

LedgerSize = Literal["2x8", "2x10", "2x12"]
SIZES: tuple[LedgerSize, ...] = get_args(LedgerSize)
NEAR = 0.125
"""Dry or wet, a board is taken for its size when it is this near [in]; common practice, no source."""
USUAL_LIVE_PSF = 40.0
READ = "2018"
"""Edition in which the rules of hanging a ledger were read."""
PSF_PER_KPA = 20.885434
"""NIST SP 811 (2008), app. B.8: 1 lbf/ft2 = 47.880 26 Pa."""


def nominal(depth: float) -> LedgerSize | None:
    """Return the size of a board by its depth [in]; None: none of the ledger table."""
    return next((size for size in SIZES if abs(section(size).depth - depth) <= NEAR), None)


def backing(deck: Deck) -> str | None:
    """Return what is behind the ledger: as seen, else a band joist where its depth is given."""
    if deck.backing is not None:
        return deck.backing
    return "2x band joist" if deck.band_joist_depth is not None else None


_RIMS = {"1 in engineered rim": 1.0, "1-1/8 in engineered rim": 1.125}


def band_thickness(deck: Deck) -> float:
    """Return the thickness of what is behind the ledger [in]: as stated, else a made rim's by its name."""
    if "band_thickness" in deck.model_fields_set:
        return deck.band_thickness
    return _RIMS.get(backing(deck) or "", deck.band_thickness)


def ground_snow_psf(site: Site) -> float:
    """Return the ground snow load in either unit it may be given in [lbf/ft2]; 0 where it is not given."""
    said = site.job.site
    return said.ground_snow_psf or (said.ground_snow_kPa or 0.0) * PSF_PER_KPA


def ledger_load(site: Site, book: RuleBook) -> LedgerLoad | None:
    """Return what hangs on the ledger; None: the span of its joists is not stated."""
    deck = site.deck
    if deck.joist_span_ft is None:
        return None
    return LedgerLoad(
        joist_span_ft=deck.joist_span_ft,
        fastener=deck.fastener or "lag",
        edition=book.edition,
        live_psf=deck.live_load_psf or USUAL_LIVE_PSF,
        ground_snow_psf=ground_snow_psf(site),
        sheathing=deck.sheathing,
        sheathing_kind=deck.sheathing_kind,
        washers=deck.washers,
    )


def attached(site: Site, book: RuleBook) -> tuple[Finding, ...]:
    """Return what forbids or mends the connection, from what is stated of it."""
    deck, load, behind = site.deck, ledger_load(site, book), backing(site.deck)
    if behind is None:
        return ()
    known = load or LedgerLoad(joist_span_ft=6.0, fastener=deck.fastener or "lag", edition=book.edition)
    found = attachment_findings(
        Attachment(
            load=known,
            ledger=nominal(deck.ledger_depth or 0.0) or "2x8",
            backing=behind,
            beams_on_ledger=deck.beams_on_ledger is True,
            nailed=deck.nailed is True,
            joists_cantilever=deck.joists_cantilever is True or bool(deck.joist_overhang),
            flashed=deck.flashed is not False,
            lateral_ties=True,
            band_bears_fully=deck.band_bears_fully is not False,
            band_thickness=band_thickness(deck),
            band_depth=deck.band_joist_depth or 9.5,
            treated=deck.treated is not False,
            guard_posts_on_edge=deck.guard_posts_on_edge is True,
        ),
        book=book,
    )
    # without a span nothing was looked up, so nothing of the table is told
    told = (each for each in found if load is not None or each.id != "ledger.table")
    return tuple(_in_edition(each, book.edition) for each in told)


def _in_edition(finding: Finding, edition: str) -> Finding:
    """Return a finding whose source says where it was read only in another edition."""
    if edition == READ or f"IRC {READ}" not in finding.source:
        return finding
    return replace(finding, source=f"{finding.source}; that {edition} has the same is from memory")


def table_spacing(load: LedgerLoad | None, behind: str | None, book: RuleBook) -> Cell | None:
    """Return the greatest spacing of the table; None: outside it, or not enough is known."""
    if load is None or behind not in ("2x band joist", "1 in engineered rim", "1-1/8 in engineered rim"):
        return None
    try:
        return fastener_spacing(replace(load, band=behind), book=book)
    except OutOfRange:  # told by the findings of the attachment
        return None
