"""Heights: every level from footing to head, in one chain, with what each may be off."""

from __future__ import annotations

from sillwright.plan import Plan
from sillwright.web.blocks import Block, Table, TableRow, Words, cell, column
from sillwright.web.screens.view import Filled, View
from sillwright.wording import say


def heights(view: View) -> Filled:
    """Return the screen of heights."""
    plan = view.plan
    if plan is None:
        return Filled()
    return Filled(
        svg=view.drawn("section", "whole-section", "story-pole"),
        blocks=[*view.findings("heights"), *_levels(view, plan)],
    )


def _levels(view: View, plan: Plan) -> list[Block]:
    if plan.heights is None:
        return [Words(text=say("heights.none"), style="note")]
    columns = [
        column(say("column.level")),
        column(say("column.height"), "right"),
        column(say("column.may_be_off"), "right"),
        column(say("column.how")),
    ]
    rows = [
        TableRow(
            cells=[
                cell(level.text, view.why(level.id)),
                cell("" if level.z is None else view.figures.fine(level.z)),
                cell("" if level.sd is None else view.figures.band(level.sd)),
                cell(level.how),
            ],
            ref=level.id,
        )
        for level in sorted(plan.heights.levels, key=lambda level: -(level.z or 0.0))
    ]
    return [Table(title=say("heights.levels", datum=plan.survey.datum), columns=columns, rows=rows)]
