"""Measure: the wall as it is read; which readings are in doubt, what to read next, how the sill moves."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from sillwright.job import KINDS
from sillwright.job.dump import length_value
from sillwright.setting.model import Line
from sillwright.survey.model import OpeningShape, ReadingResult, Station
from sillwright.survey.preview import Untaken
from sillwright.web.blocks import Block, NextLine, Table, TableRow, cell, column
from sillwright.web.screens.view import Filled, View
from sillwright.wording import say

_DECIMALS = 5


def measure(view: View) -> Filled:
    """Return the screen to measure by."""
    plan_ids = _plan_ids(view)
    filled = Filled(
        svg=view.drawn("elevation", "sill-line"),
        blocks=[*view.conflicts(), *view.findings("measure"), *_table(view, plan_ids)],
        next=_next(view),
        places=_places(view),
        readings={plan: reading for reading, plan in plan_ids.items()},
        setups=_setups(view),
        wall=_wall(view),
        checked=_checked(view, plan_ids),
    )
    preview = view.planned.preview()
    if preview is not None:
        by_path = {filed.path: reading.id for reading, filed in view.state.filed()}
        filled["gain"] = {
            "points": [
                {
                    "name": point.name,
                    "opening": point.opening,
                    "line": point.line,
                    "edge": point.edge,
                    "x_in": point.x,
                    "z_in": point.z,
                    "sd_in": point.sd,
                }
                for point in preview.points
            ],
            "readings": [by_path[path] for path in preview.paths],
            "read_in": list(preview.observed),
            "rows": [[round(each, _DECIMALS) for each in row] for row in preview.rows],
            "more": [_more(view, each) for each in preview.untaken],
        }
    return filled


def place_key(table: str, cells: Mapping[str, str]) -> str:
    """Return the name of a place that can be read: kind, set-up, opening, place, edge, x."""
    edge = (cells.get("edge") or "outer") if KINDS[table].edges else ""
    parts = (
        cells.get("setup", ""),
        cells.get("opening", ""),
        cells.get("place", ""),
        edge,
        cells.get("x", ""),
    )
    return "|".join((table, *parts))


def _plan_ids(view: View) -> dict[str, str]:
    """Return the plan's name of each reading that the plan has, by ours."""
    if view.plan is None:
        return {}
    by_path = {each.path: each.id for each in view.plan.survey.readings}
    return {reading.id: by_path[filed.path] for reading, filed in view.state.filed() if filed.path in by_path}


def _places(view: View) -> dict[str, Any]:
    """Return every place of the usual set, and each that was read, with the readings there."""
    found: dict[str, Any] = {}
    for opening in view.job.opening:
        for table, kind in KINDS.items():
            if kind.needs[:2] == ("opening", "place"):
                for place in kind.places:
                    values = {"opening": opening.name, "place": place}
                    _place(found, table, values, f"{opening.name}: {table.replace('_', ' ')}, {place}")
    for reading, filed in view.state.filed():
        values = {
            key: filed.cells[key] for key in ("setup", "opening", "place", "edge", "x") if key in filed.cells
        }
        _place(found, filed.kind, values, filed.label)["readings"].append(reading.id)
    preview = view.planned.preview()
    for each in () if preview is None else preview.untaken:
        values = _cells(view, each)
        _place(found, each.table, values, " ".join(values.values()))
    return found


def _place(found: dict[str, Any], table: str, values: Mapping[str, str], label: str) -> dict[str, Any]:
    key = place_key(table, values)
    if key not in found:
        needs = [need for need in KINDS[table].needs if need not in values]
        found[key] = {"table": table, "values": dict(values), "needs": needs, "label": label, "readings": []}
    place: dict[str, Any] = found[key]
    return place


def _cells(view: View, each: Untaken) -> dict[str, str]:
    said = {"setup": each.setup, "opening": each.opening, "place": each.place, "edge": each.edge}
    if each.x is not None:
        whole = round(each.x * 4) / 4 if view.job.units == "in" else each.x
        said["x"] = str(length_value(whole, unit=view.job.units))
    return {key: value for key, value in said.items() if value}


def _more(view: View, each: Untaken) -> dict[str, Any]:
    values = _cells(view, each)
    return {
        "ref": place_key(each.table, values),
        "table": each.table,
        "values": values,
        "expected_in": round(each.expected, _DECIMALS),
        "expected_sd_in": round(each.expected_sd, _DECIMALS),
        "column": [round(one, _DECIMALS) for one in each.column],
    }


def _setups(view: View) -> list[dict[str, Any]]:
    unit = view.job.units
    return [
        {
            "setup": setup.name,
            "x": str(length_value(setup.x, unit=unit)),
            "instrument": setup.instrument or "",
            "shots": len(setup.series),
            "again": again,
        }
        for again, setups in ((False, view.job.setup), (True, view.job.reshoot))
        for setup in setups
    ]


def _wall(view: View) -> dict[str, Any]:
    if view.plan is None:
        return {"openings": [], "marks": [], "lines": [], "pads": []}
    survey, setting = view.plan.survey, view.plan.setting
    return {
        "openings": [_shape(shape) for shape in survey.openings],
        "marks": [{"name": mark.name, "x_in": mark.x, "z_in": mark.z} for mark in survey.marks],
        "lines": [_line(line) for row in setting.rows for line in row.lines],
        "pads": [
            {
                "id": pad.id,
                "number": pad.number,
                "opening": pad.opening,
                "x_in": pad.x,
                "front_in": pad.front,
                "back_in": pad.back,
            }
            for pad in setting.pads
        ],
    }


def _shape(shape: OpeningShape) -> dict[str, Any]:
    def drawn(stations: tuple[Station, ...]) -> list[list[float]]:
        return [[station.at, station.value, station.sd] for station in stations]

    return {
        "name": shape.name,
        "left_in": shape.left,
        "right_in": shape.right,
        "height_in": shape.height,
        "position_known": shape.position_known,
        "level_known": shape.level_known,
        "sill": drawn(shape.sill_outer),
        "sill_inner": drawn(shape.sill_inner),
        "head": drawn(shape.head_outer),
        "left_jack": drawn(shape.left_jack),
        "right_jack": drawn(shape.right_jack),
    }


def _line(line: Line) -> dict[str, Any]:
    return {
        "id": line.id,
        "openings": list(line.openings),
        "z_in": line.z,
        "unit_bottom_in": line.unit_bottom,
    }


def _results(view: View) -> dict[str, ReadingResult]:
    return {} if view.plan is None else {each.id: each for each in view.plan.survey.readings}


def _checked(view: View, plan_ids: Mapping[str, str]) -> dict[str, Any]:
    results = _results(view)
    return {
        reading: {
            "observed_in": results[ident].observed,
            "adjusted_in": results[ident].adjusted,
            "residual_in": results[ident].residual,
            "sd_in": results[ident].sd,
            "w": results[ident].w,
            "status": results[ident].status,
            "why": view.why(ident),
        }
        for reading, ident in plan_ids.items()
    }


def _table(view: View, plan_ids: Mapping[str, str]) -> list[Block]:
    results, figures = _results(view), view.figures
    heads = [say(f"column.{name}") for name in ("reading", "read", "wall_says", "off", "checked")]
    rows = []
    for reading, filed in view.state.filed():
        result = results.get(plan_ids.get(reading.id, ""))
        why = "" if result is None else view.why(result.id)
        told = [cell(filed.label, why), cell(filed.cells["value"])]
        if result is None:
            told += [cell(""), cell(""), cell(say("measure.not_planned"))]
        else:
            shows = say(
                "measure.unchecked" if result.w is None else f"measure.{result.status.replace(' ', '_')}"
            )
            told += [cell(figures.fine(result.adjusted)), cell(figures.signed(result.residual)), cell(shows)]
        marked = result is not None and result.status != "used"
        rows.append(TableRow(cells=told, ref="" if result is None else result.id, marked=marked))
    if not rows:
        return []
    columns = [column(heads[0]), *(column(head, "right") for head in heads[1:4]), column(heads[4])]
    return [Table(title=say("measure.readings"), columns=columns, rows=rows)]


def _next(view: View) -> list[NextLine]:
    if view.plan is None:
        return []
    known = _places(view)
    paths = {filed.path: place_key(filed.kind, filed.cells) for _, filed in view.state.filed()}
    read = {each.label: paths.get(each.path, "") for each in view.plan.survey.readings}
    found = []
    for n, each in enumerate(view.plan.measure_next, start=1):
        label = each.label.removesuffix(", again by someone else")
        key = read.get(label) or _by_words(label)
        found.append(
            NextLine(
                text=each.label,
                place=key if key in known else "",
                why=view.why(f"next.{n}"),
                reduction=round(each.reduction, 3),
            )
        )
    return found


def _by_words(label: str) -> str:
    """Return the place that a reading not yet taken is named by: `A: width, middle`."""
    opening, _, words = label.partition(": ")
    table, _, place = words.partition(", ")
    kind = {"wall thickness": "thickness"}.get(table, table)
    if kind not in KINDS:
        return ""
    return place_key(kind, {"opening": opening, "place": place.replace(" ", "_")})
