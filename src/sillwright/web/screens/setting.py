"""Set: the level line, what to plane, pad and trim, where each unit goes and how surely it fits."""

from __future__ import annotations

from sillwright.drawing import chance
from sillwright.plan import Plan
from sillwright.setting.model import Clearance, Pad
from sillwright.web.blocks import Block, Card, NextLine, Table, TableRow, cell, column
from sillwright.web.screens.acts import acts_block, hold_blocks, orphans
from sillwright.web.screens.view import Filled, View
from sillwright.wording import say


def setting(view: View) -> Filled:
    """Return the screen to set by."""
    plan = view.plan
    if plan is None:
        return Filled()
    return Filled(
        svg=view.drawn("elevation", "sill-line", "wall-plane"),
        blocks=[
            *view.findings("set"),
            *_lines(view, plan),
            *hold_blocks(view, plan),
            *acts_block(view, plan, title=say("set.acts")),
            *orphans(view, plan),
            *_pads(view, plan),
            *_units(view, plan),
        ],
        next=_next(view, plan),
    )


def _lines(view: View, plan: Plan) -> list[Block]:
    return [
        Card(
            title=say("set.line", openings=", ".join(line.openings)),
            value=view.figures.fine(line.z),
            note=say("set.above", datum=plan.survey.datum, bottom=view.figures.fine(line.unit_bottom)),
            why=view.why(line.id),
            ref=line.id,
        )
        for row in plan.setting.rows
        for line in row.lines
    ]


def _pads(view: View, plan: Plan) -> list[Block]:
    if not plan.setting.pads:
        return []
    names = ("pad", "opening", "from_mark", "front", "back", "make_up")
    aligns = ("center", "left", "right", "right", "right", "left")
    columns = [
        column(say(f"column.{name}"), align, style="ring" if name == "pad" else "plain")  # type: ignore[arg-type]
        for name, align in zip(names, aligns, strict=True)
    ]
    rows = [_pad(view, pad) for pad in plan.setting.pads]
    return [Table(title=say("set.pads"), columns=columns, rows=rows)]


def _pad(view: View, pad: Pad) -> TableRow:
    figures = view.figures
    back = say("set.not_shot") if pad.back is None else figures.fine(pad.back)
    texts = (str(pad.number), pad.opening, figures.place(pad.x), figures.fine(pad.front), back, pad.make_up)
    why = view.why(pad.id)
    return TableRow(cells=[cell(text, why if n == 0 else "") for n, text in enumerate(texts)], ref=pad.id)


def _units(view: View, plan: Plan) -> list[Block]:
    figures = view.figures
    columns = [
        column(say(f"column.{name}"))
        for name in ("opening", "left_side", "bottom", "left_room", "right_room", "head_room", "fits")
    ]
    rows = []
    for unit in plan.setting.units:
        fit = say("set.not_known") if unit.fit is None else chance(unit.fit.probability)
        left = figures.place(unit.left) if unit.position_known else say("set.not_taped")
        rooms = (unit.left_clearance, unit.right_clearance, unit.head_clearance)
        cells = [cell(unit.opening, view.why(unit.id)), cell(left), cell(figures.fine(unit.bottom))]
        cells += [cell(_room(view, room)) for room in rooms]
        cells.append(cell(fit, view.why(f"fit.{unit.opening}")))
        unsure = unit.fit is not None and unit.fit.probability < view.job.tolerances.fit_probability
        rows.append(TableRow(cells=cells, ref=unit.id, marked=unsure))
    return [Table(title=say("set.units"), columns=columns, rows=rows)] if rows else []


def _room(view: View, room: Clearance | None) -> str:
    if room is None:
        return say("set.not_known")
    return f"{view.figures.fine(room.least)} {view.figures.band(room.sd)}"


def _next(view: View, plan: Plan) -> list[NextLine]:
    shot = plan.setting.reshoot
    if shot is not None and shot.verdict != "accept":
        return [NextLine(text=shot.sentence, why=view.why("reshoot"))]
    return []
