"""Deck: where each ledger fastener goes, what the span tables say."""

from __future__ import annotations

from sillwright.packet import source_words
from sillwright.plan import Plan
from sillwright.web.blocks import Block, Card, Table, TableRow, Words, cell, column
from sillwright.web.screens.view import Filled, View
from sillwright.wording import say


def deck(view: View) -> Filled:
    """Return the screen of the deck."""
    plan = view.plan
    if plan is None:
        return Filled()
    if view.job.deck is None:
        return Filled(blocks=[Words(text=say("deck.none"), style="note")])
    return Filled(
        svg=view.drawn("ledger", "framing"),
        blocks=[*view.findings("deck"), *_ledger(view, plan), *_framing(plan)],
    )


def _ledger(view: View, plan: Plan) -> list[Block]:
    ledger = plan.ledger
    if ledger is None:
        return [Words(text=say("deck.no_ledger"), style="note")]
    figures = view.figures
    found: list[Block] = [
        Card(
            title=say("deck.ledger_top"),
            value=figures.fine(ledger.top),
            note=say("deck.ends", left=figures.place(ledger.left), right=figures.place(ledger.right)),
            why=view.why("ledger"),
            ref="ledger",
        )
    ]
    if ledger.spacing is not None:
        source = source_words(
            f"{ledger.spacing_source}: {ledger.spacing_row}", from_memory=ledger.from_memory
        )
        spacing = figures.place(ledger.spacing)
        found.append(Card(title=say("deck.spacing"), value=spacing, note=source, why=view.why("ledger")))
    columns = [
        column(say("column.number"), "center", style="ring"),
        column(say("column.from_left_end"), "right"),
        column(say("column.row")),
        column(say("column.below_top"), "right"),
        column(say("column.height"), "right"),
    ]
    rows = [
        TableRow(
            cells=[
                cell(str(each.number), view.why(f"ledger.{each.number}")),
                cell(figures.place(each.from_left)),
                cell(each.row),
                cell(figures.fine(each.below_top)),
                cell(figures.fine(each.z)),
            ],
            ref=f"ledger.{each.number}",
        )
        for each in ledger.fasteners
    ]
    return [*found, *([Table(title=say("deck.fasteners"), columns=columns, rows=rows)] if rows else [])]


def _framing(plan: Plan) -> list[Block]:
    columns = [column(say(f"column.{name}")) for name in ("what", "found", "limit", "table_row")]
    rows = [
        TableRow(
            cells=[
                cell(value.what),
                cell(value.value),
                cell(value.asked),
                cell(source_words(f"{value.source}: {value.row}", from_memory=value.from_memory)),
            ],
            marked=not value.met,
        )
        for value in plan.framing
    ]
    return [Table(title=say("deck.spans"), columns=columns, rows=rows)] if rows else []
