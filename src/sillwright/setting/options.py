"""Ways to set a row in words, with the minutes that rank them."""

from __future__ import annotations

import numpy as np

from sillwright.lengths import Unit, show
from sillwright.setting.choose import Chosen, RowSeats
from sillwright.setting.model import Option, Term
from sillwright.setting.rates import rates

OBJECTIVE = (
    "Least labour: minutes for pads and pieces, planing, lifting a line above the lowest that can be built, pads "
    "that miss the line, units off centre, unequal piers, packing behind fins, jacks cut back; and the chance "
    "that a unit does not go in, counted as half a day. The minutes are in setting/data/minutes.csv."
)


def option_of(
    units: Unit, row: RowSeats, way: Chosen, *, ident: str, chosen: bool, against: Chosen
) -> Option:
    """Return one way to set a row; `against` is the chosen way that others are compared with."""
    terms = _terms(row, way)
    counts = _counts(row, way)
    line = float(row.lines[way.line_index[row.seats[0].name]])
    kind, does = _kind(row, way, units)
    sentence = f"{does}: line {show(line, unit=units, graduation=_fine(units), mark=True)} above the datum"
    sentence += f", {counts['pads']} pads of {counts['pieces']} shims"
    if not chosen:
        own = _counts(row, against)
        saved = own["pads"] - counts["pads"]
        sentence += f"; {abs(saved)} pads {'fewer' if saved > 0 else 'more'}" if saved else "; as many pads"
        extra = sum(t.minutes for t in terms) - sum(t.minutes for t in _terms(row, against))
        sentence += f", {abs(extra):.0f} minutes {'more' if extra >= 0 else 'less'} in all"
    return Option(
        id=ident,
        row=", ".join(row.row.openings),
        kind=kind,
        sentence=sentence + ".",
        minutes=sum(t.minutes for t in terms),
        pads=counts["pads"],
        pieces=counts["pieces"],
        planed_runs=counts["runs"],
        line=line,
        chosen=chosen,
        terms=terms,
    )


def _fine(units: Unit) -> float:
    return 1 / 32 if units == "in" else 1.0


def _counts(row: RowSeats, way: Chosen) -> dict[str, int]:
    return {
        name: sum(int(seat.costs.counts[name][way.line_index[seat.name]]) for seat in row.seats)
        for name in ("pads", "pieces", "runs")
    }


def _kind(row: RowSeats, way: Chosen, units: Unit) -> tuple[str, str]:
    cuts = []
    for seat in row.seats:
        k = way.line_index[seat.name]
        if seat.costs.counts["runs"][k]:
            cuts.append((seat, float(row.lines[k])))
    stepped = len({way.line_index[seat.name] for seat in row.seats}) > 1
    step = "step the row, " if stepped else ""
    if not cuts:
        return ("stepped, " if stepped else "") + "pads only", (step + "pads only").capitalize()
    said = []
    for seat, line in cuts:
        b = seat.bearings
        edges = [bool(on[way.line_index[seat.name]]) for on in seat.costs.planed]
        which = "" if all(edges) else "front of the " if edges[0] else "back of the "
        over = b.along_front if b.along_back is None else np.maximum(b.along_front, b.along_back)
        at = int(np.argmax(over))
        deep = show(float(over[at]) - line, unit=units, graduation=_fine(units), mark=True)
        where = show(float(b.along[at]), unit=units, mark=True)
        said.append(f"plane the {which}sill of {seat.name} by up to {deep} at {where}")
    names = ", ".join(seat.name for seat, _ in cuts)
    text = step + " and ".join(said)
    return ("stepped, " if stepped else "") + f"plane {names}", text[0].upper() + text[1:]


def _terms(row: RowSeats, way: Chosen) -> tuple[Term, ...]:
    minute = rates()
    total: dict[str, float] = {}
    for seat in row.seats:
        k = way.line_index[seat.name]
        for name, minutes in seat.costs.terms.items():
            total[name] = total.get(name, 0.0) + float(minutes[k])
    lowest = [
        float(row.lines[np.flatnonzero(seat.costs.feasible)[0]]) for seat in row.seats if seat.costs.feasible.any()
    ]
    share = np.all([seat.costs.feasible for seat in row.seats], axis=0)
    shared_lowest = float(row.lines[np.flatnonzero(share)[0]]) if share.any() else min(lowest)
    stepped = len({way.line_index[seat.name] for seat in row.seats}) > 1
    lifts = [
        float(row.lines[way.line_index[seat.name]]) - (low if stepped else shared_lowest)
        for seat, low in zip(row.seats, lowest, strict=True)
    ]
    total["lift"] = minute["lift"] * sum(lifts)
    if stepped:
        total["step"] = minute["step"]
    return tuple(
        Term(name=name, quantity=minutes / minute[name], minutes_each=minute[name], minutes=minutes)
        for name, minutes in total.items()
        if minutes > 1e-9
    )
