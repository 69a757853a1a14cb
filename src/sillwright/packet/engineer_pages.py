"""The engineer's page: ledger, headers, deck framing by calculation, each value with formula and source."""

from __future__ import annotations

from sillwright.inspection import EngineerSheet, EngineerValue
from sillwright.packet.blocks import Block, Heading, Page, Table, Words
from sillwright.packet.sheets import Sheets, left, right, sentence

_WHO = (
    "For your engineer. This is arithmetic to check: no permission to build and no check of the code. The "
    "code's tables come first; where they end, the finding stays a stop until a licensed engineer answers it."
)
_UNITS = {
    "in": "Formulas of American standards in their units; heights and places as on the other pages.",
    "mm": "Formulas of American standards in their units, with metric units in brackets.",
}


def engineer_page(sheets: Sheets) -> Page | None:
    """Return the page of what was calculated; None where nothing was."""
    found = sheets.plan.engineer
    if not found:
        return None
    blocks: list[Block] = [Words(text=_WHO, style="strong")]
    for sheet in found:
        blocks += _sheet(sheet)
    return Page(
        title="By calculation, for your engineer",
        subtitle=_UNITS[sheets.plan.units],
        blocks=tuple(blocks),
        landscape=True,
    )


def _sheet(sheet: EngineerSheet) -> list[Block]:
    said = sheet.answer if not sheet.refused else f"no value; {sheet.refused}"
    blocks: list[Block] = [
        Heading(text=sentence(sheet.subject).removesuffix(".")),
        Words(text=sentence(said), style="lead"),
    ]
    if sheet.values:
        blocks.append(_table(sheet.values))
    if sheet.taken:
        blocks.append(Words(text=f"Taken: {'; '.join(sheet.taken)}.", style="note"))
    return blocks


def _table(values: tuple[EngineerValue, ...]) -> Table:
    columns = (
        left("value", width=2),
        right("comes to"),
        left("limit, used", width=1.2),
        left("formula", width=2.3),
        left("what went into it", width=2.6),
        left("source", width=1.9),
    )
    rows = tuple(
        (each.what, each.text, _limit(each), each.formula, _given(each), each.source) for each in values
    )
    marked = frozenset(n for n, each in enumerate(values) if each.governs)
    return Table(columns=columns, rows=rows, marked=marked, size=8, pad=2.6)


def _limit(value: EngineerValue) -> str:
    said = [value.limit_text, value.used, "governs" if value.governs else ""]
    return "; ".join(each for each in said if each)


def _given(value: EngineerValue) -> str:
    return "; ".join(f"{each.name} = {each.text}" for each in value.inputs)
