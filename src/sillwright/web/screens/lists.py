"""Lists: shims on hand and needed, pieces to cut, what to order."""

from __future__ import annotations

from sillwright.drawing import chance
from sillwright.plan import Plan
from sillwright.web.blocks import Block, Table, TableRow, Words, cell, column
from sillwright.web.screens.view import Filled, View
from sillwright.wording import say


def lists(view: View) -> Filled:
    """Return the screen of lists."""
    plan = view.plan
    if plan is None:
        return Filled()
    blocks = [*_stock(view, plan), *_cuts(view, plan), *_order(view, plan), *_fasteners(plan)]
    return Filled(blocks=blocks or [Words(text=say("lists.none"), style="note")])


def _stock(view: View, plan: Plan) -> list[Block]:
    rows = []
    for n, use in enumerate(plan.setting.stock, start=1):
        name = view.figures.fine(use.thickness)
        if use.thin is not None:
            name = say("lists.tapered", thick=name, thin=view.figures.fine(use.thin))
        short = use.on_hand is not None and use.needed > use.on_hand
        hand = say("lists.enough") if use.on_hand is None else str(use.on_hand)
        cells = [cell(name, view.why(f"stock.{n}")), cell(str(use.needed)), cell(hand)]
        rows.append(TableRow(cells=cells, marked=short))
    columns = [
        column(say("column.shim")),
        column(say("column.needed"), "right"),
        column(say("column.on_hand"), "right"),
    ]
    return [Table(title=say("lists.stock"), columns=columns, rows=rows)] if rows else []


def _cuts(view: View, plan: Plan) -> list[Block]:
    names = ("what", "opening", "count", "thick", "thin_edge", "width", "length", "note")
    columns = [column(say(f"column.{name}")) for name in names]
    rows = []
    for cut in plan.setting.cuts:
        sizes = (cut.thick, cut.thin, cut.width, cut.length)
        told = [say("lists.as_found") if size is None else view.figures.fine(size) for size in sizes]
        texts = [cut.what, cut.opening, str(cut.count), *told, cut.note]
        why = view.why(cut.id)
        rows.append(TableRow(cells=[cell(text, why if n == 0 else "") for n, text in enumerate(texts)]))
    return [Table(title=say("lists.cuts"), columns=columns, rows=rows)] if rows else []


def _order(view: View, plan: Plan) -> list[Block]:
    figures = view.figures
    columns = [column(say(f"column.{name}")) for name in ("opening", "asked_size", "fits", "order_up_to")]
    rows = []
    for order in plan.setting.order_sizes:
        asked, largest = order.asked, order.largest
        size = "" if asked is None else figures.size(asked.width, asked.height)
        fits = "" if asked is None else chance(asked.probability)
        most = say("lists.none_fits") if largest is None else figures.size(largest.width, largest.height)
        rows.append(
            TableRow(cells=[cell(order.opening, view.why(order.id)), cell(size), cell(fits), cell(most)])
        )
    return [Table(title=say("lists.order"), columns=columns, rows=rows)] if rows else []


def _fasteners(plan: Plan) -> list[Block]:
    if plan.ledger is None or not plan.ledger.fasteners:
        return []
    kind = say(f"fastener.{plan.ledger.fastener}")
    text = say("lists.fasteners", count=len(plan.ledger.fasteners), kind=kind)
    return [Words(text=text)]
