"""Readings from a spreadsheet added to the text of a job file, whose other lines stay as they were."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from typing import Any

from sillwright.errors import BadInput, Fault
from sillwright.job.csv_readings import SHOTS, Row, rows_and_faults
from sillwright.job.document import parse_toml, read_job
from sillwright.job.edit import append_entry, append_tables, set_value
from sillwright.job.model import Job
from sillwright.job.problems import found, nearest
from sillwright.lengths import Unit, parse

Data = Mapping[str, Any]


def merge_csv(document_text: str, csv_text: str) -> str:
    """Return a job file's text with the readings of a CSV text added.

    A place that has a reading already gets one more. Shots go to the set-up of their name, or to a new one;
    a new set-up with pads in it becomes a `[[reshoot]]`.

    Raises:  BadInput: the job file has faults, or any row of the CSV text has
    """
    job = read_job(document_text)
    rows, faults = rows_and_faults(csv_text, unit=job.units)
    text = merge_rows(document_text, rows, job, faults)
    read_job(text)
    return text


def merge_rows(
    document_text: str,
    rows: tuple[Row, ...],
    job: Job,
    faults: Iterable[Fault] = (),
    *,
    raw: Data | None = None,
) -> str:
    """Return a job file's text with checked rows of readings added; the whole is still to be read again.

    Args:    job: as the text has it; faults: found in the rows already; raw: its plain data, if it was read
    Raises:  BadInput: those faults and any other, in the order of the rows
    """
    faults = [*faults, *_unknown_names(rows, job), *_no_place(rows, job)]
    faults += [] if faults else _strange_sizes(rows, job)
    if faults:
        raise BadInput(*sorted(faults, key=lambda fault: fault.line or 0))
    text = _add_shots(document_text, [row for row in rows if row["kind"] in SHOTS], job)
    return _add_taped(text, [row for row in rows if row["kind"] not in SHOTS], job, raw)


def _unknown_names(rows: Iterable[Row], job: Job) -> Iterator[Fault]:
    known = {
        "opening": [opening.name for opening in job.opening],
        "instrument": [instrument.name for instrument in job.instrument],
    }
    for row in rows:
        for column, names in known.items():
            if row[column] and row[column] not in names:
                what = f"the job has no {column} {found(row[column])}."
                advice = nearest(row[column], names) or f"Add its [[{column}]] to the job file first."
                yield Fault(f"column '{column}'", what, advice, row.line)


def _no_place(rows: tuple[Row, ...], job: Job) -> Iterator[Fault]:
    marks = [mark.name for mark in job.mark]
    known = {setup.name for setup in (*job.setup, *job.reshoot)}
    known |= {row["setup"] for row in rows if row["setup_x"]}
    for row in rows:
        if row["kind"] == "mark" and row["place"] and row["place"] not in marks and not row["x"]:
            advice = "Give its x, or add its [[mark]] to the job file first."
            yield Fault(
                "column 'place'", f"nothing says where mark {found(row['place'])} is.", advice, row.line
            )
        if row["kind"] in SHOTS and row["setup"] and row["setup"] not in known:
            known.add(row["setup"])
            what = f"set-up {found(row['setup'])} is new, and nothing says where the laser stood."
            yield Fault("column 'setup_x'", what, "Give it in one of its rows.", row.line)
        if row["kind"] == "wall_string" and job.wall.string is None:
            advice = "Add [wall.string] with its height and clear, and offsets = []."
            yield Fault("column 'kind'", "the job has no string along the wall.", advice, row.line)


def _strange_sizes(rows: tuple[Row, ...], job: Job) -> Iterator[Fault]:
    stood = {setup.name: setup.x for setup in (*job.reshoot, *job.setup)}
    for row in rows:
        if row["kind"] in ("lean_right", "lean_in"):
            yield from _other_height(row, rows, job)
        if (
            row["kind"] in ("width", "height", "diagonal", "thickness")
            and _inches(row["value"], job.units) <= 0
        ):
            yield Fault(
                "column 'value'", f"must be more than 0, found {row['value']}.", "Read it again.", row.line
            )
        at = _inches(row["setup_x"], job.units) if row["setup_x"] else None
        if at is not None and abs(at - stood.setdefault(row["setup"], at)) > 1e-9:
            what = f"set-up {found(row['setup'])} stood elsewhere before."
            yield Fault("column 'setup_x'", what, "Give a new set-up its own name.", row.line)


def _other_height(row: Row, rows: tuple[Row, ...], job: Job) -> Iterator[Fault]:
    """Yield a fault if a lean is taken over another height than the same jack's other lean."""
    opening = next((each for each in job.opening if each.name == row["opening"]), None)
    lean = getattr(opening.plumb, row["place"]) if opening else None
    first = next(
        each
        for each in rows
        if each["kind"] in ("lean_right", "lean_in")
        and (each["opening"], each["place"]) == (row["opening"], row["place"])
    )
    before = lean.over_height if lean else _inches(first["at_height"], job.units)
    if abs(_inches(row["at_height"], job.units) - before) > 1e-9:
        what = "the leans of this jack are over another height already."
        yield Fault("column 'at_height'", what, "Take both leans of a jack over one height.", row.line)


def _inches(text: str, unit: Unit) -> float:
    return parse(text, unit=unit).value


def cell_value(text: str) -> str | int:
    """Return a cell as the file has it: a whole number bare, all else in quotes."""
    digits = text.removeprefix("-")
    return int(text) if digits.isascii() and digits.isdigit() and len(digits) < 9 else text


def reading_value(row: Row) -> Any:
    """Return the reading of a row as the file has it: what was read, or a table with what is said of it."""
    extras: dict[str, str | int] = {key: row[key] for key in ("instrument", "by", "note") if row[key]}
    if row["sd"]:
        extras = {"sd": cell_value(row["sd"]), **extras}
    value = cell_value(row["value"])
    return {"value": value, **extras} if extras else value


def _add_shots(text: str, rows: list[Row], job: Job) -> str:
    groups: dict[str, list[Row]] = {}
    for row in rows:
        groups.setdefault(row["setup"], []).append(row)
    new: dict[str, list[Data]] = {"setup": [], "reshoot": []}
    for name, group in groups.items():
        series = [_shot(row) for row in sorted(group, key=lambda row: int(row["order"] or 0))]
        key, index = set_up_of(name, job)
        if index is not None:
            for shot in series:
                text = append_entry(text, f"{key}[{index}].series", shot)
            continue
        turned = [row["turned"] == "yes" for row in group if row["turned"]]
        stood = next(row["setup_x"] for row in group if row["setup_x"])
        said = {"turned": turned[0]} if turned else {}
        again = any(row["kind"] == "pad" or row["again"] == "yes" for row in group)
        key = "reshoot" if again else "setup"
        new[key].append({"name": name, "x": cell_value(stood), **said, "series": series})
    for key, tables in new.items():
        text = append_tables(text, key, tables) if tables else text
    return text


def set_up_of(name: str, job: Job) -> tuple[str, int | None]:
    """Return the list that a set-up stands in, and its place there; None: it is new."""
    for key, setups in (("setup", job.setup), ("reshoot", job.reshoot)):
        for index, setup in enumerate(setups):
            if setup.name == name:
                return key, index
    return "setup", None


def _shot(row: Row) -> dict[str, Any]:
    kind = row["kind"]
    target: str | int = row["place"] if kind in ("mark", "point") else row["opening"]
    if kind == "pad":
        target = int(row["place"])
    x = {"x": cell_value(row["x"])} if row["x"] else {}
    edge = {"edge": row["edge"]} if row["edge"] else {}
    return {kind: target, **x, **edge, "down": reading_value(row)}


_TAPED = {
    "jack": "{place}_jack_x",
    "width": "width{inner}.{place}",
    "height": "height{inner}.{place}",
    "diagonal": "diagonal.{place}",
    "lean_right": "plumb.{place}.top_leans_right",
    "lean_in": "plumb.{place}.top_leans_in",
    "string_gap": "string_gap",
    "thickness": "wall_thickness.{place}",
}


def taped_path(row: Row, job: Job) -> str:
    """Return where a taped reading of an opening stands, all but a plumb line's."""
    inner = "_inner" if row["edge"] == "inner" else ""
    index = next(n for n, opening in enumerate(job.opening) if opening.name == row["opening"])
    return f"opening[{index}].{_TAPED[row['kind']].format(place=row['place'], inner=inner)}"


def _add_taped(text: str, rows: list[Row], job: Job, raw: Data | None) -> str:
    index = {opening.name: n for n, opening in enumerate(job.opening)}
    lines: dict[str, list[Row]] = {}
    for row in rows:
        opening = f"opening[{index[row['opening']]}]" if row["opening"] else ""
        if row["kind"] == "wall_string":
            entry = {"x": cell_value(row["x"]), "gap": reading_value(row)}
            text = append_entry(text, "wall.string.offsets", entry)
        elif row["kind"] == "plumb_line":
            lines.setdefault(f"{opening}.plumb_line.{row['place']}", []).append(row)
        else:
            text = _add_reading(text, taped_path(row, job), row, raw)
    for path, group in lines.items():
        text = _add_plumb_line(text, path, group, job.units)
    return text


def value_at(raw: Data, path: str) -> Any:
    """Return what plain data have at a path, None if nothing."""
    here: Any = raw
    for key in path.replace("[", ".").replace("]", "").split("."):
        if isinstance(here, list):
            here = here[int(key)]
        elif key in here:
            here = here[key]
        else:
            return None
    return here


def _add_reading(text: str, path: str, row: Row, raw: Data | None) -> str:
    """Return the text with a reading set, or added to those of the same place."""
    known = parse_toml(text) if raw is None else raw
    before, reading = value_at(known, path), reading_value(row)
    around, _, last = path.rpartition(".")
    if row["kind"].startswith("lean") and value_at(known, around) is None:
        return set_value(text, around, {"over_height": cell_value(row["at_height"]), last: reading})
    if before is None:
        return set_value(text, path, reading)
    if isinstance(before, list):
        return append_entry(text, path, reading)
    return set_value(text, path, [before, reading])


def _add_plumb_line(text: str, path: str, rows: list[Row], unit: Unit) -> str:
    """Return the text with gaps added at their heights, from the sill up."""
    before = value_at(parse_toml(text), path) or {"at": [], "gap": []}
    gaps: dict[float, tuple[Any, list[Any]]] = {}
    for height, gap in zip(before["at"], before["gap"], strict=True):
        gaps[parse(height, unit=unit).value] = (height, gap if isinstance(gap, list) else [gap])
    for row in rows:
        inches = _inches(row["at_height"], unit)
        height, listed = gaps.get(inches, (cell_value(row["at_height"]), []))
        gaps[inches] = (height, [*listed, reading_value(row)])
    going_up = [gaps[inches] for inches in sorted(gaps)]
    at = [height for height, _ in going_up]
    gap = [listed[0] if len(listed) == 1 else listed for _, listed in going_up]
    if before["at"]:
        return set_value(set_value(text, f"{path}.at", at), f"{path}.gap", gap)
    return set_value(text, path, {"at": at, "gap": gap})
