"""Ways to set a row in words, with the minutes that rank them."""

from __future__ import annotations

import numpy as np

from sillwright.lengths import Unit, show
from sillwright.setting.choose import Chosen
from sillwright.setting.model import Option, Term
from sillwright.setting.rates import by_the_inch, rates
from sillwright.setting.seat import RowSeats, Seat
from sillwright.setting.words import fine

OBJECTIVE = (
    "Least labour: minutes for pads and pieces, planing, lifting a line above the lowest that can be built, "
    "pads that miss the line, a step in a row, units off centre, unequal piers, packing behind fins, jacks "
    "cut back; the chance that a unit does not go in, counted as half a day, and an hour where it is less "
    "sure than asked. The minutes are in setting/data/minutes.csv."
)


def option_of(
    units: Unit, row: RowSeats, way: Chosen, *, ident: str, chosen: bool, against: Chosen
) -> Option:
    """Return one way to set a row; `against` is the chosen way that others are compared with."""
    terms = _terms(row, way)
    counts = _counts(row, way)
    kind, does = _kind(row, way, units)
    sentence = f"{does}: {_lines(row, way, units)}, {_many(counts['pads'], 'pad')}"
    sentence += f" of {_many(counts['pieces'], 'shim')}" if counts["pads"] else ""
    if not chosen:
        own = _counts(row, against)
        saved = own["pads"] - counts["pads"]
        sentence += (
            f"; {_many(abs(saved), 'pad')} {'fewer' if saved > 0 else 'more'}" if saved else "; as many pads"
        )
        extra = sum(t.minutes for t in terms) - sum(t.minutes for t in _terms(row, against))
        sentence += f", {_many(round(abs(extra)), 'minute')} {'more' if extra >= 0 else 'less'} in all"
    return Option(
        id=ident,
        openings=tuple(row.row.openings),
        kind=kind,
        sentence=sentence + ".",
        minutes=sum(t.minutes for t in terms),
        pads=counts["pads"],
        pieces=counts["pieces"],
        planed_runs=counts["runs"],
        line=_line(row, row.seats[0], way),
        chosen=chosen,
        terms=terms,
    )


def _many(count: int, what: str) -> str:
    return f"{count or 'no'} {what}{'' if count == 1 else 's'}"


def _line(row: RowSeats, seat: Seat, way: Chosen) -> float:
    return float(row.lines[way.line_index[seat.name]])


def _lines(row: RowSeats, way: Chosen, units: Unit) -> str:
    """Say where the line lies, or each of them where the row steps."""
    heights: dict[float, list[str]] = {}
    for seat in row.seats:
        heights.setdefault(_line(row, seat, way), []).append(seat.name)
    said = [
        (show(z, unit=units, graduation=fine(units), mark=True), ", ".join(names))
        for z, names in heights.items()
    ]
    if len(said) == 1:
        return f"line {said[0][0]} above the datum"
    return "lines " + " and ".join(f"{z} ({names})" for z, names in said) + " above the datum"


def _counts(row: RowSeats, way: Chosen) -> dict[str, int]:
    return {
        name: sum(int(seat.costs.counts[name][way.line_index[seat.name]]) for seat in row.seats)
        for name in ("pads", "pieces", "runs")
    }


def _kind(row: RowSeats, way: Chosen, units: Unit) -> tuple[str, str]:
    cuts = [seat for seat in row.seats if seat.costs.counts["runs"][way.line_index[seat.name]]]
    stepped = len({way.line_index[seat.name] for seat in row.seats}) > 1
    step = "step the row, " if stepped else ""
    work = " and ".join(_planes(seat, way, _line(row, seat, way), units) for seat in cuts) or "pads only"
    names = "plane " + ", ".join(seat.name for seat in cuts) if cuts else "pads only"
    text = step + work
    return ("stepped, " if stepped else "") + names, text[0].upper() + text[1:]


def _planes(seat: Seat, way: Chosen, line: float, units: Unit) -> str:
    b = seat.bearings
    edges = [bool(on[way.line_index[seat.name]]) for on in seat.costs.planed]
    which = "" if all(edges) else "front of the " if edges[0] else "back of the "
    over = b.along_front if b.along_back is None else np.maximum(b.along_front, b.along_back)
    at = int(np.argmax(over))
    deep = show(float(over[at]) - line, unit=units, graduation=fine(units), mark=True)
    where = show(float(b.along[at]), unit=units, mark=True)
    return f"plane the {which}sill of {seat.name} by up to {deep} at {where}"


def _terms(row: RowSeats, way: Chosen) -> tuple[Term, ...]:
    """Return the parts of the objective that depend on the line."""
    minute = rates()
    total: dict[str, float] = {}
    for seat in row.seats:
        k = way.line_index[seat.name]
        for name, minutes in seat.costs.terms.items():
            total[name] = total.get(name, 0.0) + float(minutes[k])
    if len({way.line_index[seat.name] for seat in row.seats}) > 1:
        total["step"] = minute["step"]
    return tuple(_term(name, minutes) for name, minutes in total.items() if minutes > 1e-9)


def _term(name: str, minutes: float) -> Term:
    each = rates()[name]
    long = name in by_the_inch()
    return Term(
        name=name,
        count=None if long else minutes / each,
        minutes_each=None if long else each,
        length=minutes / each if long else None,
        minutes_per_inch=each if long else None,
        minutes=minutes,
    )
