"""Findings of ledgers, deck framing and heights as rows for a reader: made by functions, not checks as data.

Titles and severities are kept here and held against what the packages find by a test; limits and sources of
heights come from their own table.
"""

from __future__ import annotations

from collections.abc import Iterator

from sillwright.findings import Severity
from sillwright.heights import limits
from sillwright.heights.limits import Limit
from sillwright.rules import PRACTICE, Listed, RuleBook

_MEMORY = " (from memory)"
FROM_MEMORY = "from memory: look it up in the print"
_SUM = "sum of the heights"
_LEDGER: tuple[tuple[str, Severity, str, str], ...] = (
    ("ledger.backing", "stop", "what is behind a ledger carries it", "IRC 2018, R507.8, R507.9.1; DCA 6"),
    ("ledger.band-bearing", "stop", "the band joist bears fully on what is below", "IRC 2018 R507.9.1.2"),
    (
        "ledger.band-size",
        "stop",
        "band joist of 2 in nominal, engineered rim of 1 x 9 1/2 in",
        "IRC 2018 R507.9.1.2 (from memory)",
    ),
    (
        "ledger.table",
        "stop",
        "joist span, loads, fastener and sheathing are inside the table",
        "IRC Table R507.9.1.3(1)",
    ),
    ("ledger.size", "stop", "ledger of at least 2x8", "IRC 2018 R507.9.1.1"),
    ("ledger.point-load", "stop", "no beam or other point load on a ledger", "IRC 2018 R507.9.1.1"),
    ("ledger.durability", "stop", "ledger treated or durable, No. 2 or better", "IRC 2018 R507.9.1.1"),
    ("ledger.nails", "stop", "ledger not held by nails or toenails", "IRC 2018 R507.8"),
    ("ledger.uplift", "fix", "joists past the beam fastened against uplift at the house", "IRC 2018 R507.8"),
    (
        "ledger.flashing",
        "fix",
        "ledger flashed",
        "IRC 2018 R703.4, R507.2.4 (thickness from memory)",
    ),
    ("ledger.lateral", "fix", "lateral ties between deck and house", "IRC 2018 R507.9.2"),
    ("deck.guard-post", "watch", "load of guard posts on the framing", "IRC 2018 Table R301.5 (from memory)"),
    (
        "ledger.rows-fail",
        "stop",
        "two rows of fasteners fit in ledger and band joist",
        "IRC 2018 R507.9.1.3, Table R507.9.1.3(2) and figure",
    ),
    (
        "ledger.zone-empty",
        "stop",
        "a place for every fastener clear of hangers and obstacles",
        "IRC 2018 R507.9.1.3, Table R507.9.1.3(2) and figure",
    ),
    ("ledger.ties", "stop", "a joist for every lateral tie", "IRC 2018 R507.9.2"),
    (
        "ledger.rows-slope",
        "watch",
        "rows that follow a sloping band joist",
        "IRC 2018 R507.9.1.3, Table R507.9.1.3(2) and figure",
    ),
)
_FRAMING: tuple[tuple[str, Severity, str, str], ...] = (
    ("framing.decking", "stop", "joists close enough for their boards", "IRC 2018 Table R507.7"),
    ("framing.joist", "stop", "joists within the span of their table", "IRC 2018 Table R507.6"),
    ("framing.joist.overhang", "stop", "overhang of the joists", "IRC 2018 Table R507.6"),
    ("framing.beam", "stop", "beam within the span of its table", "IRC 2018 Table R507.5"),
    ("framing.beam.overhang", "stop", "overhang of the beam", "IRC 2018 R507.5"),
    ("framing.post", "stop", "height of the posts", "IRC 2018 Table R507.4"),
    (
        "framing.post.area",
        "stop",
        "height of the posts by the area they carry, 2021 edition only",
        "permit drawing of 2023, Washington State, in the style of IRC 2021 Table R507.4",
    ),
    (
        "framing.footing",
        "stop",
        "area and soil of the footings inside their table",
        "IRC 2018 Table R507.3.1, 40 psf live or ground snow row",
    ),
    ("framing.edition", "fix", "framing tables of the edition in force", "IRC 2018, R507.3 to R507.6"),
)
_HEIGHTS: tuple[tuple[str, Severity, str, tuple[str, ...], str], ...] = (
    ("heights.conflict", "stop", "demands on heights that cannot hold together", (), _SUM),
    ("heights.wish", "fix", "a wish that the other heights do not allow", (), _SUM),
    (
        "heights.doubt",
        "watch",
        "a demand that holds as drawn, less surely with the tolerances",
        (),
        "worst case and root of the sum of squares of the tolerances",
    ),
    (
        "heights.step down.shallow",
        "fix",
        "walking surface far enough below the threshold",
        ("step_down_least", "step_down_most"),
        "",
    ),
    (
        "heights.step down.deep",
        "watch",
        "walking surface not far below the threshold",
        ("step_down_most",),
        "",
    ),
    ("heights.guard", "fix", "guard at a deck above grade", ("guard.drop",), ""),
    ("heights.stair", "watch", "even risers from grade to the deck", ("stair.riser", "stair.spread"), ""),
    (
        "heights.swing over drop",
        "watch",
        "door that swings out over a drop",
        ("threshold.egress", "threshold.other"),
        "",
    ),
    ("heights.ledger.backing", "stop", "what is behind the ledger was measured", (), "band.top_edge"),
    (
        "heights.ledger.depth",
        "stop",
        "ledger of a depth in the table",
        ("ledger.low_row_2x8", "ledger.low_row_2x10", "ledger.low_row_2x12"),
        "",
    ),
    ("heights.joist notch", "stop", "notch at the ends of joists", ("notch_at_end",), ""),
    (
        "heights.joists hung",
        "watch",
        "joists hung below the ledger's top",
        (),
        "joist hanger's maker (from memory)",
    ),
)


def also_listed(book: RuleBook) -> tuple[Listed, ...]:
    """Return the findings of ledger attachment, layout, framing and heights, each with source and limits.

    Args:    book: whose limits on heights count
    """
    return (*_of_ledgers(), *_of_framing(), *_of_heights(limits(book)))


def _of_ledgers() -> Iterator[Listed]:
    for ident, severity, title, source in _LEDGER:
        yield _row(ident, severity, title, source, ())


def _of_framing() -> Iterator[Listed]:
    for ident, severity, title, source in _FRAMING:
        yield _row(ident, severity, title, source, ("each row of the table says what is from memory",))


def _of_heights(held: dict[str, Limit]) -> Iterator[Listed]:
    for ident, severity, title, names, source in _HEIGHTS:
        named = held[source].source if source in held else source
        texts = tuple(_text(held[name]) for name in names)
        sources = "; ".join(dict.fromkeys(_plain(held[name]) for name in names)) or named
        yield _row(ident, severity, title, sources, texts)


def _text(limit: Limit) -> str:
    memory = f" ({FROM_MEMORY})" if limit.source.endswith(_MEMORY) else ""
    return f"{limit.name} = {limit.value:.4g} {limit.unit}{memory}"


def _plain(limit: Limit) -> str:
    return limit.source.removesuffix(_MEMORY)


def _row(ident: str, severity: Severity, title: str, source: str, texts: tuple[str, ...]) -> Listed:
    decides = "who builds it" if source == PRACTICE else "building department, or a licensed engineer"
    return Listed(
        id=ident, title=title, source=source, edition="", severity=severity, limits=texts, decides=decides
    )
