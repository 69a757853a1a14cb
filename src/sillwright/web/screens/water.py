"""Water: the acts one at a time with picture and sentence, where water can get, the laps."""

from __future__ import annotations

from sillwright.drawing import Figures
from sillwright.flashing import WaterLap, WaterPlace, WaterPlan, least_of_each, weakest_first
from sillwright.web.blocks import Block, Card, Step, Table, TableRow, Words, cell, column
from sillwright.web.drawings import drawing
from sillwright.web.holds import WATER
from sillwright.web.screens.view import Filled, View
from sillwright.wording import say


def water(view: View) -> Filled:
    """Return the screen to keep it dry by."""
    plan = view.plan
    if plan is None:
        return Filled()
    shown = view.planned.water()
    if plan.water is None or shown is None:
        return Filled(blocks=[*view.findings("water"), Words(text=say("water.none"), style="note")])
    cards = {act.card.numbers[0]: act.card for act in shown.acts}
    return Filled(
        svg=[
            *(drawing(f"water-map-{each.key}", each.scene) for each in shown.maps),
            *(drawing(f"water-step-{number:02d}", card.step.scene) for number, card in cards.items()),
        ],
        blocks=[
            _head(view, plan.water),
            *view.findings("water"),
            *(
                Step(
                    act=f"{WATER}{act.key}",
                    title=f"{act.number}. {act.title}",
                    lines=[act.sentence, *_drawn_at(act.opening, act.card.openings)],
                    svg=f"water-step-{act.card.numbers[0]:02d}",
                    why=view.why(act.piece),
                    photo=act.covered,
                )
                for act in shown.acts
            ),
            *_orphans(view, {f"{WATER}{act.key}" for act in shown.acts}),
            _verdicts(view, plan.water),
            *_laps(view, plan.water),
        ],
    )


def _head(view: View, plan: WaterPlan) -> Card:
    head = f"{view.figures.fine(plan.head)} {view.figures.mark}"
    return Card(
        title=plan.scheme, value=head, note=say("water.head", said=plan.head_said), why=view.why("water")
    )


def _drawn_at(opening: str, openings: tuple[str, ...]) -> list[str]:
    return [say("water.drawn_at", opening=openings[0])] if openings and opening != openings[0] else []


def _orphans(view: View, known: set[str]) -> list[Block]:
    lost = [
        entry["text"] or entry["act"]
        for key, entry in view.state.acts.items()
        if key.startswith(WATER) and key not in known
    ]
    return [Words(text=say("set.orphans", acts="; ".join(lost)), style="note")] if lost else []


def _verdicts(view: View, plan: WaterPlan) -> Table:
    columns = [column(say(f"column.{name}")) for name in ("place", "verdict", "bond", "opens_at")]
    rows = [_place(view, each) for each in weakest_first(plan.places)]
    return Table(title=say("water.verdicts"), columns=columns, rows=rows)


def _place(view: View, place: WaterPlace) -> TableRow:
    figures = view.figures
    bond = figures.place(place.bond) if place.bond is not None and place.at_head == "held by bond" else ""
    opens = "" if place.head_to_open is None else figures.fine(place.head_to_open)
    cells = [cell(place.words, view.why(place.id)), cell(place.at_head), cell(bond), cell(opens)]
    return TableRow(cells=cells, ref=place.id, marked=place.at_head == "open")


def _laps(view: View, plan: WaterPlan) -> list[Block]:
    words = {piece.name: piece.words for piece in plan.pieces}
    rows = [_lap(view, each, words) for each in least_of_each(plan.laps)]
    columns = [
        column(say("column.lap")),
        column(say("column.found"), "right"),
        column(say("column.asked"), "right"),
        column(say("column.result")),
    ]
    return [Table(title=say("water.laps"), columns=columns, rows=rows)] if rows else []


def _lap(view: View, lap: WaterLap, words: dict[str, str]) -> TableRow:
    figures: Figures = view.figures
    asked = "" if lap.required is None else figures.place(lap.required)
    name = say("water.lap", upper=words[lap.upper], lower=words[lap.lower], where=lap.where, goes=lap.goes)
    cells = [cell(name, view.why(lap.id)), cell(figures.place(lap.lap)), cell(asked), cell(lap.result)]
    return TableRow(cells=cells, ref=lap.id, marked=lap.result == "not met")
