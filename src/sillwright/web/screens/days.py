"""Days: the forecast, the work in its order with the points where it waits, and what was done so far."""

from __future__ import annotations

from sillwright.job.model import Forecast
from sillwright.plan import Plan
from sillwright.web.blocks import Block, Heading, Table, TableRow, Words, cell, column
from sillwright.web.holds import ORDER, holds_of
from sillwright.web.screens.acts import acts_block, hold_block
from sillwright.web.screens.view import Filled, View
from sillwright.wording import say


def days(view: View) -> Filled:
    """Return the screen of days."""
    blocks: list[Block] = [*_forecast(view)]
    if view.plan is not None:
        blocks += _work(view, view.plan)
    said = [
        *view.said("weather", view.state.weather),
        *view.said("note", view.state.notes),
    ]
    if said:
        blocks += [Heading(text=say("days.diary")), *sorted(said, key=lambda each: getattr(each, "at", ""))]
    return Filled(blocks=blocks)


def _work(view: View, plan: Plan) -> list[Block]:
    """Return kinds of act in the order of the work, each behind what it waits for first."""
    told: set[str] = set()
    found: list[Block] = []
    for kind in ORDER:
        acts = acts_block(view, plan, (kind,), title=say(f"act.{kind}"))
        if not acts:
            continue
        for hold in holds_of(view.job, plan):
            if kind in hold.before and hold.hold not in told:
                told.add(hold.hold)
                found.append(hold_block(view, plan, hold))
        found += acts
    return [Heading(text=say("days.work")), *found] if found else []


def _forecast(view: View) -> list[Block]:
    if not view.job.forecast:
        return [Words(text=say("days.no_forecast"), style="note")]
    columns = [column(say(f"column.{name}")) for name in ("day", "temperature", "rain", "wind")]
    rows = [
        TableRow(
            cells=[cell(str(day.day)), cell(_degrees(day)), cell(f"{day.rain_chance:.0%}"), cell(_wind(day))]
        )
        for day in view.job.forecast
    ]
    return [Table(title=say("days.forecast"), columns=columns, rows=rows)]


def _degrees(day: Forecast) -> str:
    fahrenheit, celsius = (day.low_F, day.high_F), (day.low_C, day.high_C)
    low, high, unit = (
        (*fahrenheit, "°F") if any(each is not None for each in fahrenheit) else (*celsius, "°C")
    )
    known = [f"{each:g}" for each in (low, high) if each is not None]
    return f"{' – '.join(known)} {unit}" if known else ""


def _wind(day: Forecast) -> str:
    if day.wind_mph is not None:
        return f"{day.wind_mph:g} mph"
    return "" if day.wind_kmh is None else f"{day.wind_kmh:g} km/h"
