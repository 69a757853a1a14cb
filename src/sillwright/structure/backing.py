"""What a ledger may not be fastened to, hung with, or fastened by: findings with reason and clause."""

from __future__ import annotations

from dataclasses import dataclass, replace

from sillwright.errors import OutOfRange
from sillwright.findings import Finding, worst_first
from sillwright.rules import RuleBook
from sillwright.structure.given import need_one_of
from sillwright.structure.ledger import BANDS, LEDGERS, LedgerLoad, fastener_spacing

GOOD_BACKINGS = BANDS
SAWN_BAND, RIM_DEPTH = 1.5, 9.5
"""Least band joist: 2 in nominal, spruce-pine-fir or better; least engineered rim: 1 x 9-1/2 in [in]."""
_TESTED = "the table rests on tests of a ledger on a continuous band joist"
BAD_BACKINGS = {
    "solid blocking": (
        "The backing is short solid blocking between joists, not a band joist: "
        + _TESTED
        + "; short blocks split "
        "at their ends and are held by their own nails only.",
        "IRC 2018 R507.9.1.2, R507.9.1.3",
    ),
    "4x beam edge": (
        "The backing is the edge of a 4x beam, not a band joist: "
        + _TESTED
        + ", with the lag's tip out past its "
        "inner face, and the beam has other loads to carry.",
        "IRC 2018 R507.9.1.2, R507.9.1.3",
    ),
    "veneer": ("The ledger would bear on or through stone or masonry veneer.", "IRC 2018 R507.9.1.1"),
    "hollow block": (
        "The backing is hollow block: its face shells carry no table value.",
        "AWC deck guide DCA 6 (from memory)",
    ),
    "concrete": (
        "The backing is concrete: anchors by their own rating, not by this table.",
        "IRC 2018 R507.9.1.3",
    ),
    "house overhang": (
        "The ledger would hang on a floor that cantilevers over the wall below.",
        "AWC deck guide DCA 6",
    ),
    "I-joist without rim": (
        "Behind the sheathing are ends of I-joists without a rim that carries.",
        "IRC 2018 R507.9.1.2",
    ),
    "not seen": (
        "What is behind the wall has not been seen, so the connection cannot be verified.",
        "IRC 2018 R507.8",
    ),
    "rotten band joist": ("The band joist is rotten where the ledger goes.", "IRC 2018 R507.9.1.2"),
}
_STAND_ALONE = "Give the deck its own posts at the house, or ask an engineer."


@dataclass(frozen=True, slots=True, kw_only=True)
class Attachment:
    """A ledger as it is meant to be built."""

    load: LedgerLoad
    ledger: str = "2x10"
    backing: str = BANDS[0]
    """What is behind the ledger; it, not the band of `load`, chooses the table."""
    beams_on_ledger: bool = False
    """Beams, girders or other point loads on the ledger."""
    nailed: bool = False
    """Held by nails, or by toenails."""
    joists_cantilever: bool = False
    """Joists run on past the beam: live load there lifts the ledger end."""
    flashed: bool = True
    lateral_ties: bool = True
    band_bears_fully: bool = True
    band_thickness: float = 1.5
    band_depth: float = 9.25
    """Of the band joist or rim behind the ledger [in]."""
    treated: bool = True
    """The ledger is preservative-treated or of an approved durable kind, No. 2 or better."""
    guard_posts_on_edge: bool = False


def attachment_findings(attachment: Attachment, *, book: RuleBook | None = None) -> tuple[Finding, ...]:
    """Return what forbids, needs mending or wants knowing about a ledger, worst first.

    Args: book: edition with its amendments; none: the model code of the load's edition
    Raises: BadInput: the backing is not known
    """
    need_one_of((*GOOD_BACKINGS, *BAD_BACKINGS), backing=attachment.backing)
    found = [*_backing(attachment, book), *_prohibited(attachment), *_needed(attachment)]
    return worst_first(found)


def _backing(attachment: Attachment, book: RuleBook | None) -> list[Finding]:
    if attachment.backing in BAD_BACKINGS:
        message, source = BAD_BACKINGS[attachment.backing]
        return [_stop("backing", message, source)]
    found = []
    if not attachment.band_bears_fully:
        found.append(
            _stop(
                "band-bearing",
                "The band joist does not bear fully on the structure below.",
                "IRC 2018 R507.9.1.2",
            )
        )
    if thin := _too_small(attachment):
        found.append(_stop("band-size", thin, "IRC 2018 R507.9.1.2 (from memory)"))
    try:
        fastener_spacing(replace(attachment.load, band=attachment.backing), book=book)
    except OutOfRange as error:
        found.append(_stop("table", f"The fasteners are {error}.", "IRC Table R507.9.1.3(1)"))
    return found


def _too_small(attachment: Attachment) -> str:
    """Return what is too small about the band joist; empty where nothing is."""
    sawn = attachment.backing == BANDS[0]
    thick, deep = (SAWN_BAND, 0.0) if sawn else (1.0, RIM_DEPTH)
    if attachment.band_thickness < thick:
        return f"The band joist is {attachment.band_thickness:g} in thick; it must be at least {thick:g} in."
    if attachment.band_depth < deep:
        return f"The engineered rim is {attachment.band_depth:g} in deep; it must be at least {deep:g} in."
    return ""


def _prohibited(attachment: Attachment) -> list[Finding]:
    rules = (
        (
            attachment.ledger not in LEDGERS,
            "size",
            f"The ledger is a {attachment.ledger}; it must be at least a 2x8.",
            "IRC 2018 R507.9.1.1",
        ),
        (
            attachment.beams_on_ledger,
            "point-load",
            "A beam or other point load stands on the ledger; the table knows joists only.",
            "IRC 2018 R507.9.1.1",
        ),
        (
            not attachment.treated,
            "durability",
            "The ledger is not treated or durable lumber of No. 2 or better: it rots where it must hold.",
            "IRC 2018 R507.9.1.1",
        ),
        (
            attachment.nailed,
            "nails",
            "The ledger is held by nails or toenails; these pull out.",
            "IRC 2018 R507.8",
        ),
    )
    return [_stop(name, message, source) for wrong, name, message, source in rules if wrong]


def _needed(attachment: Attachment) -> list[Finding]:
    found = []
    if attachment.joists_cantilever:
        found.append(
            Finding(
                id="ledger.uplift",
                severity="fix",
                message="Joists run on past the beam: full live load out there lifts the ledger end.",
                advice="Fasten the joists at the house against uplift from full live load on the overhang.",
                source="IRC 2018 R507.8",
            )
        )
    if not attachment.flashed:
        found.append(
            Finding(
                id="ledger.flashing",
                severity="fix",
                message="The ledger has no flashing: water gets to the band joist.",
                advice="Flash it, corrosion-resistant metal of at least 0.019 in or an approved other.",
                source="IRC 2018 R703.4, R507.2.4 (thickness from memory)",
            )
        )
    if not attachment.lateral_ties:
        found.append(
            Finding(
                id="ledger.lateral",
                severity="fix",
                message="There are no lateral ties between deck and house.",
                advice="Fit two ties of 1,500 lbf or four of 750 lbf, the outer within 24 in of the ends.",
                source="IRC 2018 R507.9.2",
            )
        )
    if attachment.guard_posts_on_edge:
        found.append(guard_finding())
    return found


GUARD_LBF, GUARD_HEIGHT = 200.0, 36.0
"""Load at the top of a guard in any direction, and the height it is taken at [in]."""
GUARD_SOURCE = "IRC 2018 Table R301.5 (from memory)"


def guard_finding() -> Finding:
    """Return what to know about guard posts: the load they bring to the framing."""
    return Finding(
        id="deck.guard-post",
        severity="watch",
        message=f"A guard takes {GUARD_LBF:g} lbf at its top in any direction: at {GUARD_HEIGHT:g} in, "
        f"{GUARD_LBF * GUARD_HEIGHT:,.0f} in-lbf on the framing.",
        advice="Tie guard posts back into the joists with tested hardware; these tables do not cover them.",
        source=GUARD_SOURCE,
    )


def _stop(name: str, message: str, source: str) -> Finding:
    return Finding(id=f"ledger.{name}", severity="stop", message=message, advice=_STAND_ALONE, source=source)
