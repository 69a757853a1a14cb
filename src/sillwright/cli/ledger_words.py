"""A ledger in words: what forbids it, spacing and source, distances, every fastener, ties, what is taken."""

from __future__ import annotations

from collections.abc import Iterator

from sillwright.cli.calculated import calculated
from sillwright.cli.header import down, from_memory
from sillwright.cli.ledger import Answer, reduced
from sillwright.cli.ledger_case import FLANGE, Case
from sillwright.cli.rules import laid_over
from sillwright.cli.say import Words
from sillwright.findings import Finding
from sillwright.lengths import show, show_feet
from sillwright.structure import (
    DECK_DEAD_PSF,
    LEDGER_DIAMETER,
    NOTE,
    Cell,
    Distances,
    Layout,
    distances,
    lag_length,
    lag_screw,
)

NAMES = {"lag": "1/2 in lag screws", "bolt": "1/2 in bolts"}
TIES = {
    "interior": "Two of 1,500 lbf",
    "exterior": "Four of 750 lbf (the 750 from memory: look it up in the print)",
}
BETWEEN = "straight line between"
"""In the words of a table's row where the value lies between two."""
READ_IN = "2018"
"""Edition in which distances and lateral ties stand as read."""
STATE = "edition local"
"""In the words of a table's row of one state."""
WHO = (
    "Local code, the building department and a licensed engineer come before this. It knows only what you "
    "typed; open the wall and look at the band joist before you drill."
)


def words(found: Answer) -> Iterator[Words]:
    """Yield what is found about a ledger as paragraphs."""
    case = found.case
    yield Words(f"{case.asked.ledger} ledger on {NAMES[case.asked.fastener]}", "title")
    yield Words(_asked(case))
    yield from laid_over(case.book)
    yield from _findings(found.findings)
    if found.spacing is not None:
        yield from _spacing(case, found.spacing)
        yield from _distances(case)
        yield from _layout(found.layout)
        yield from _ties(found)
    else:
        yield Words("No spacing is given: the table does not hold here.", indent=2)
    if case.asked.calculate:
        yield from _by_calculation(found)
    if found.spacing is not None:
        yield from _taken(case)
    yield Words("")
    yield Words(WHO)


def _asked(case: Case) -> str:
    load = case.load
    length = f"{show_feet(case.length)} long. " if case.length else ""
    return (
        f"{length}Joists span {show_feet(12.0 * load.joist_span_ft)}; {load.live_psf:g} psf live, "
        f"{load.ground_snow_psf:g} psf ground snow. Behind it: {case.attachment.backing}. "
        f"{load.edition} edition."
    )


def _heading(text: str) -> Iterator[Words]:
    yield Words("")
    yield Words(text, "heading")


def _findings(findings: tuple[Finding, ...]) -> Iterator[Words]:
    if findings:
        yield from _heading("Findings")
    for each in findings:
        yield Words(f"{each.message} {each.advice} ({each.source})", each.severity, each.severity.upper(), 2)


def _spacing(case: Case, cell: Cell) -> Iterator[Words]:
    yield from _heading("Spacing")
    yield Words(f"At most {show(down(cell.value), mark=True)} on centre, in two staggered rows.", indent=2)
    yield Words(f"Source: {cell.source}; row: {cell.row}.", indent=2)
    if cell.status == "memory":
        yield from_memory()
    if BETWEEN in cell.row:
        text = "That spans may be taken between rows is from memory; the row of the longer span is safe."
        yield Words(text, "watch", "WATCH", 2)
    if STATE in cell.row:
        text = "For this live load the model code has no row here: it is a state's own table. Ask whether "
        yield Words(text + "your building department takes it.", "watch", "WATCH", 2)
    if case.asked.fastener == "lag":
        yield Words(_lag(case), indent=2)


def _lag(case: Case) -> str:
    screw = lag_screw(LEDGER_DIAMETER)
    band = case.attachment.band_thickness
    length = lag_length(ledger=1.5, gap=case.load.sheathing, band=band, tip=screw.tip)
    return (
        f"Lag screws at least {show(length, mark=True)} long, so that the tapered tip, "
        f"{show(screw.tip, mark=True)} and not counted, comes out past the band joist."
    )


def _distances(case: Case) -> Iterator[Words]:
    yield from _heading("Distances of the fasteners")
    ledger = distances("ledger", size=case.asked.ledger, reduced=reduced(case), book=case.book)
    low = show(ledger.low_row_from_top, mark=True)
    yield Words(
        f"{_edges(ledger)}; the low row at least {low} below its top.", indent=2, lead="In the ledger"
    )
    yield Words(f"{_edges(distances('band_joist', book=case.book))}.", indent=2, lead="In the band joist")
    ends = f"{show(ledger.end_least, mark=True)} to {show(ledger.end_most, mark=True)} from the ends"
    rows = f"rows {show(ledger.rows_least, mark=True)} to {show(ledger.rows_most, mark=True)} apart"
    yield Words(f"{ends}; {rows}.", indent=2, lead="Both")
    yield Words(f"Source: {ledger.source}.", indent=2)
    yield from _as_before(case)


def _as_before(case: Case) -> Iterator[Words]:
    """Yield the caution on what was read in an earlier edition than the one asked for."""
    if case.asked.edition != READ_IN:
        text = f"That the {case.asked.edition} edition has the same is from memory: look it up in the print."
        yield Words(text, "watch", "WATCH", 2)


def _edges(member: Distances) -> str:
    top, bottom = show(member.top_edge, mark=True), show(member.bottom_edge, mark=True)
    return f"at least {top} below the top edge and {bottom} above the bottom edge"


def _layout(found: Layout | None) -> Iterator[Words]:
    yield from _heading("Every fastener")
    if found is None:
        yield Words("Give --length to have every fastener laid out.", indent=2)
    elif not found.fasteners:
        yield Words("No layout: see the stop above.", indent=2)
    else:
        gap = show(down(found.greatest_gap), mark=True)
        yield Words(
            f"{len(found.fasteners)} from the ledger's left end, seen from outside; heights above its bottom "
            f"edge; at most {gap} apart.",
            indent=2,
        )
        for number, each in enumerate(found.fasteners, start=1):
            place, height = show(each.x, mark=True), show(each.z, mark=True)
            yield Words(f"{number:>3}  {place:>11}  {each.row:<4}  {height} up", indent=2)


def _ties(found: Answer) -> Iterator[Words]:
    yield from _heading("Lateral ties")
    yield Words(f"{TIES[found.case.asked.ties]}, each at a deck joist.", indent=2)
    if found.ties:
        places = ", ".join(show(x, mark=True) for x in found.ties)
        yield Words(f"From the ledger's left end: {places}.", indent=2)
    yield Words("Source: IRC 2018 R507.9.2.", indent=2)
    yield from _as_before(found.case)


def _by_calculation(found: Answer) -> Iterator[Words]:
    yield from _heading(f"By calculation, {NOTE}")
    for sheet in found.calculated:
        yield from calculated(sheet)


def _taken(case: Case) -> Iterator[Words]:
    yield from _heading("Taken for granted")
    deep = show(case.band_depth, mark=True)
    for text in (
        f"Band joist {deep} deep, its top {_drop(case)} the ledger's; level, sound, bearing fully.",
        f"Between ledger and band joist: {_between(case)}. Deck of {DECK_DEAD_PSF:g} psf dead load.",
        "Ledger treated or durable, No. 2 or better, flashed; no beam or post on it; no overhang.",
    ):
        yield Words(text, indent=2)
    if case.joists:
        every, flange = show(case.joist_spacing, mark=True), show(FLANGE, mark=True)
        yield Words(
            f"A joist at each end and every {every} from the left end; hangers {flange} to each side of a "
            "joist (common practice, no source).",
            indent=2,
        )


def _drop(case: Case) -> str:
    if not case.band_drop:
        return "level with"
    return f"{show(abs(case.band_drop), mark=True)} {'below' if case.band_drop > 0.0 else 'above'}"


def _between(case: Case) -> str:
    load = case.load
    between = "nothing"
    if load.sheathing_kind != "none":
        between = f"{show(load.sheathing, mark=True)} of {load.sheathing_kind}"
    return between + (f" and {show(load.washers, mark=True)} of washers" if load.washers else "")
