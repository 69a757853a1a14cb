"""The deck: ledger with every fastener, framing; its sections and heights have their own pages."""

from __future__ import annotations

from sillwright.drawing import Scene, scale_words
from sillwright.inspection import GUARD_POST, DeckFrame, LedgerPlan
from sillwright.packet.blocks import Block, Figure, Heading, Page, Side, Table, Words
from sillwright.packet.height_pages import assumed, height_pages
from sillwright.packet.inspection_pages import NOT_READ, framing_table
from sillwright.packet.sheets import Sheets, centred, count, left, right, sentence

_A_PAGE = 2
"""Stretches of ledger on one page."""
_UNDER = 18
"""Fasteners whose table has room under one stretch of ledger."""
_FASTENERS = {"lag": "lag screw", "bolt": "bolt"}


def deck_pages(sheets: Sheets) -> list[Page]:
    """Return the pages of a deck, as far as there is one."""
    plan = sheets.plan
    pages: list[Page] = []
    if plan.heights is not None:
        pages += height_pages(sheets, plan.heights)
    if plan.ledger is not None:
        pages += _ledger(sheets, plan.ledger)
    if plan.frame is not None and "framing" in sheets.drawings:
        pages.append(_framing(sheets, plan.frame, sheets.drawings["framing"]))
    return pages


# --- ledger -------------------------------------------------------------------------------------------------


def _ledger(sheets: Sheets, ledger: LedgerPlan) -> list[Page]:
    scenes = [
        scene for key, scene in sheets.drawings.items() if key == "ledger" or key.startswith("ledger-part-")
    ]
    groups = [scenes[n : n + _A_PAGE] for n in range(0, len(scenes), _A_PAGE)]
    pages = []
    for n, group in enumerate(groups, start=1):
        title = "The ledger from outside" + (f", sheet {n} of {len(groups)}" if len(groups) > 1 else "")
        blocks: list[Block] = [Words(text=_ledger_words(sheets, ledger), style="plain")] if n == 1 else []
        blocks += [Figure(scene=scene) for scene in group]
        key = (
            f"Scale {scale_words(group[0])}. Dots: fasteners, each with its distance from the ledger's left "
            "end. Tinted: joists, with the room of their hangers dashed; dashed lines: band joist behind; "
            "grey above: studs."
        )
        blocks.append(Words(text=key, style="note"))
        if n == len(groups) and _beside(ledger, group):
            blocks += [Heading(text="Ledger fasteners"), *_fasteners(sheets, ledger)]
        pages.append(Page(title=title, subtitle=sheets.units_note, blocks=tuple(blocks), landscape=True))
    if ledger.fasteners and not _beside(ledger, groups[-1]):
        blocks = _fasteners(sheets, ledger)
        pages.append(Page(title="Ledger fasteners", subtitle=sheets.units_note, blocks=tuple(blocks)))
    return pages


def _beside(ledger: LedgerPlan, group: list[Scene]) -> bool:
    """Tell whether the table of fasteners has room under a ledger's last drawings."""
    return 0 < len(ledger.fasteners) <= _UNDER and len(group) == 1


def _ledger_words(sheets: Sheets, ledger: LedgerPlan) -> str:
    figures = sheets.figures
    ends = f"from {figures.place(ledger.left)} to {figures.place(ledger.right)} along the wall"
    size = (
        f"{ledger.size} ledger" if ledger.size else f"Ledger {figures.place(ledger.top - ledger.bottom)} deep"
    )
    told = f"{size} {ends}, top at {figures.fine(ledger.top)}."
    if ledger.spacing is None:
        return f"{told} No fasteners are laid out: the findings sheet says why."
    if not ledger.fasteners:
        apart = figures.place(ledger.spacing)
        return f"{told} Fasteners at most {apart} apart find no place here: see the findings."
    many = count(len(ledger.fasteners), _FASTENERS[ledger.fastener])
    return (
        f"{told} {many} of 1/2 in, at most {figures.place(ledger.spacing)} apart by the table, "
        f"{figures.place(ledger.greatest_gap or 0.0)} as laid out, low and high row by turns."
    )


def _fasteners(sheets: Sheets, ledger: LedgerPlan) -> list[Block]:
    figures = sheets.figures
    columns = (
        right("no."),
        right("from left end"),
        right("from mark"),
        left("row"),
        right("below top"),
        right("height"),
    )
    cells = [
        (
            str(each.number),
            figures.place(each.from_left),
            figures.place(each.x),
            each.row,
            figures.fine(each.below_top),
            figures.fine(each.z),
        )
        for each in ledger.fasteners
    ]
    half = -(-len(cells) // 2)
    parts = [cells[:half], cells[half:]] if len(cells) > 12 else [cells]
    tables = tuple((Table(columns=columns, rows=tuple(part), size=9, pad=3),) for part in parts if part)
    memory = f" {sentence(NOT_READ)} Look it up before building." if ledger.from_memory else ""
    blocks: list[Block] = [
        Words(
            text=f"Spacing: {ledger.spacing_source}; row used: {ledger.spacing_row}.{memory}", style="note"
        ),
        *_lag(sheets, ledger),
        *assumed(ledger.assumed),
        Side(columns=tables, gap=18),
    ]
    if ledger.ties:
        places = ", ".join(figures.place(x) for x in ledger.ties)
        blocks += [Heading(text="Lateral ties"), Words(text=f"At the joists {places} from the left end.")]
    return blocks


def _lag(sheets: Sheets, ledger: LedgerPlan) -> list[Block]:
    lag, figures = ledger.lag, sheets.figures
    if lag is None:
        return []
    long, deep, tip = (figures.place(each) for each in (lag.length, lag.penetration, lag.tip))
    text = (
        f"Lag screws at least {long} long: {deep} in the wood behind, not counting the tapered tip of {tip}, "
        f"which comes out past it. {sentence(lag.source)}"
    )
    return [Words(text=text)]


# --- framing ------------------------------------------------------------------------------------------------


def _framing(sheets: Sheets, frame: DeckFrame, scene: Scene) -> Page:
    blocks: list[Block] = [
        centred(
            scene,
            sheets.paper,
            landscape=True,
            caption=f"Scale {scale_words(scene)}. Dashed: the beam; tinted: posts.",
        )
    ]
    blocks += assumed(frame.assumed)
    values = sheets.plan.framing
    if all(value.id == GUARD_POST for value in values):
        text = (
            "No span was looked up: state the species of the joists, and the beam with its span, in [deck]."
        )
        blocks.append(Words(text=text, style="note"))
    if values:
        blocks += [Heading(text="Span tables"), framing_table(values)]
    return Page(title="Deck framing", subtitle=sheets.units_note, blocks=tuple(blocks), landscape=True)
