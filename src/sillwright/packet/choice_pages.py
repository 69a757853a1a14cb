"""Other ways to set each row with what they cost, and what size to order."""

from __future__ import annotations

from sillwright.drawing import chance
from sillwright.explain import LEAST_SHOWN, TERMS, times
from sillwright.packet.blocks import Block, Fact, Facts, Heading, Page, Table, Words
from sillwright.packet.sheets import Sheets, left, listed, right, sentence
from sillwright.setting.model import Option, OrderSize, SizeOdds


def option_page(sheets: Sheets) -> Page | None:
    """Return the chosen way and the best others that differ in kind; None when nothing was chosen."""
    setting = sheets.plan.setting
    if not setting.options:
        return None
    blocks: list[Block] = [Words(text=sentence(setting.objective))] if setting.objective else []
    for openings in dict.fromkeys(option.openings for option in setting.options):
        options = [option for option in setting.options if option.openings == openings]
        blocks += [
            Heading(text=f"Row {listed(openings)}"),
            _options(sheets, options),
            _terms(sheets, options),
        ]
    return Page(title="Other ways to set it", subtitle=sheets.units_note, blocks=tuple(blocks))


def _options(sheets: Sheets, options: list[Option]) -> Table:
    columns = (
        left("", style="strong"),
        left("what it is", width=1),
        right("minutes"),
        right("pads"),
        right("shims"),
        right("planed"),
        right("line"),
    )
    rows = tuple(
        (
            "chosen" if option.chosen else "or",
            sentence(option.sentence),
            f"{option.minutes:.0f}",
            str(option.pads),
            str(option.pieces),
            str(option.planed_runs),
            sheets.figures.fine(option.line),
        )
        for option in options
    )
    chosen = frozenset(n for n, option in enumerate(options) if option.chosen)
    return Table(columns=columns, rows=rows, marked=chosen)


def _terms(sheets: Sheets, options: list[Option]) -> Table:
    """Where the minutes of each way go, side by side."""
    terms = [term for option in options for term in option.terms if term.minutes >= LEAST_SHOWN]
    names = list(dict.fromkeys(term.name for term in terms))
    heads = ["chosen" if option.chosen else option.kind for option in options]
    columns = (left("minutes for", width=1), *(right(head, width=1) for head in heads))
    rows: list[tuple[str, ...]] = []
    for name in names:
        cells = []
        for option in options:
            term = next((term for term in option.terms if term.name == name), None)
            cells.append("–" if term is None else times(term, sheets.plan.units))
        rows.append((TERMS.get(name, name), *cells))
    return Table(columns=columns, rows=tuple(rows), size=8.5, pad=3)


def order_pages(sheets: Sheets) -> list[Page]:
    """Return the sizes to order of every opening whose size can still be changed, three on a sheet."""
    orders = sheets.plan.setting.order_sizes
    pages = []
    for start in range(0, len(orders), _ORDERS):
        group = orders[start : start + _ORDERS]
        blocks: list[Block] = []
        for order in group:
            blocks += _order(sheets, order)
        if any(order.smallest_tape is not None for order in group):
            blocks.append(Words(text=_BY_TAPE, style="note"))
        title = f"What size to order for {listed(tuple(order.opening for order in group))}"
        pages.append(Page(title=title, subtitle=sheets.units_note, blocks=tuple(blocks)))
    return pages


_ORDERS = 3
_BY_TAPE = (
    "By the tape alone: smallest taped width and height less the clearances. To compare only: it knows "
    "nothing of crossed legs, a parallelogram, bows between the heights taped, or sill crown against "
    "head sag."
)


def _order(sheets: Sheets, order: OrderSize) -> list[Block]:
    figures = sheets.figures
    blocks: list[Block] = [
        Heading(text=f"Opening {order.opening}"),
        Facts(
            facts=(
                Fact(
                    name="order at most", value=_size(sheets, order.largest), note=_odds(order.largest, order)
                ),
                Fact(name="asked for", value=_size(sheets, order.asked), note=_odds(order.asked, order)),
                Fact(
                    name="jamb depth",
                    value="not determined"
                    if order.jamb_depth is None
                    else " to ".join(figures.fine(d) for d in order.jamb_depth),
                    note="from the unit's face inward",
                ),
                *_by_tape(sheets, order),
            )
        ),
    ]
    if order.offered:
        columns = (right("width on offer"), right("height"), right("fits"), left("", width=1))
        best = [_same(size, order.largest) for size in order.offered]
        rows = tuple(
            (
                figures.place(size.width),
                figures.place(size.height),
                chance(size.probability),
                f"largest that fits with {chance(order.wanted_probability)}" if largest else "",
            )
            for size, largest in zip(order.offered, best, strict=True)
        )
        marked = frozenset(n for n, largest in enumerate(best) if largest)
        blocks.append(Table(columns=columns, rows=rows, marked=marked, size=9, pad=2.4))
    if order.largest is None:
        text = (
            f"No size on offer fits with {chance(order.wanted_probability)}, or the "
            "readings do not settle it."
        )
        blocks.insert(1, Words(text=text, style="strong"))
    return blocks


def _by_tape(sheets: Sheets, order: OrderSize) -> list[Fact]:
    if order.smallest_tape is None:
        return []
    value = sheets.figures.size(*order.smallest_tape)
    return [Fact(name="by the tape alone", value=value, note="not the answer")]


def _same(one: SizeOdds, other: SizeOdds | None) -> bool:
    return other is not None and (one.width, one.height) == (other.width, other.height)


def _size(sheets: Sheets, size: SizeOdds | None) -> str:
    return "none" if size is None else sheets.figures.size(size.width, size.height)


def _odds(size: SizeOdds | None, order: OrderSize) -> str:
    if size is None:
        return f"wanted: {chance(order.wanted_probability)}"
    return f"fits with {chance(size.probability)}"
