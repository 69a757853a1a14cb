"""The readings of a job one by one: list them, add one, change one, take one out, in the text of its file.

A reading is told in the words of the spreadsheet form: its kind (a key of `KINDS`) with its other columns as
text. Where it stands in the file is its path, as the survey names it: `opening[0].width.middle`, or with an
index where one place was read more than once. Every change says which paths moved by it.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from functools import reduce
from typing import Any

from sillwright.errors import BadInput, Fault
from sillwright.job.csv_readings import SHOTS, Row, row_and_faults
from sillwright.job.document import parse_toml, read_job
from sillwright.job.dump import length_value
from sillwright.job.edit import set_value
from sillwright.job.merge import (
    cell_value,
    merge_rows,
    reading_value,
    set_up_of,
    taped_path,
    value_at,
)
from sillwright.job.model import Job, Opening, Reading, Readings, SetUp, Shot
from sillwright.job.remove import remove_value
from sillwright.job.scan import path_of, path_text, scan
from sillwright.lengths import Unit

Cells = Mapping[str, str]
_SHOT = re.compile(r"((?:setup|reshoot)\[\d+\])\.series\[(\d+)\]\.down(\[\d+\])?")
_INDEX = re.compile(r"\[(\d+)\]$")
_READING_COLUMNS = ("value", "sd", "instrument", "by", "note")


@dataclass(frozen=True, slots=True, kw_only=True)
class FiledReading:
    """One reading of a job."""

    path: str
    kind: str
    """A key of `KINDS`."""
    cells: Cells
    """The filled columns of its row, as text."""
    label: str
    """For people: `A: width, middle`."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Edited:
    """A job file's text after a change of one reading."""

    text: str
    job: Job
    path: str = ""
    """Where the reading stands now; empty when it was taken out."""
    moved: Mapping[str, str] = field(default_factory=dict)
    """Paths of other readings that stand elsewhere now, old to new."""


def filed_readings(job: Job) -> tuple[FiledReading, ...]:
    """Return every reading of a job, in the order of its file."""
    return tuple(each for part in _parts(job).values() for each in part)


def filed_at(job: Job, path: str) -> FiledReading:
    """Return the reading at a path.

    Raises:  KeyError: there is none
    """
    part = _parts(job).get(path_text(path_of(path)[:2]), ())
    found = next((each for each in part if each.path == path), None)
    if found is None:
        raise KeyError(f"{path} is no reading of the job")
    return found


def _parts(job: Job) -> dict[str, Iterator[FiledReading]]:
    """Return the readings of each part of a job, by the first two steps of their paths."""
    parts = {
        f"opening[{n}]": _of_opening(each, f"opening[{n}]", job.units) for n, each in enumerate(job.opening)
    }
    parts["wall.string"] = _of_string(job)
    for key in ("setup", "reshoot"):
        for i, setup in enumerate(getattr(job, key)):
            parts[f"{key}[{i}]"] = _of_setup(setup, f"{key}[{i}]", job.units)
    return parts


def _of_string(job: Job) -> Iterator[FiledReading]:
    for k, offset in enumerate(() if job.wall.string is None else job.wall.string.offsets):
        x = _text(offset.x, job.units)
        label = f"string, {x}"
        yield from _each(
            offset.gap, f"wall.string.offsets[{k}].gap", "wall_string", {"x": x}, label, job.units
        )


def _of_setup(setup: SetUp, path: str, unit: Unit) -> Iterator[FiledReading]:
    for k, shot in enumerate(setup.series):
        place = _of_shot(shot, setup.name, unit)
        kind = place.pop("kind")
        label = f"{setup.name}, shot {k + 1}: {_target(kind, place)}"
        yield from _each(shot.down, f"{path}.series[{k}].down", kind, place, label, unit)


def add_reading(text: str, cells: Cells, *, job: Job | None = None) -> Edited:
    """Return the text with one more reading; a place that has one already keeps both.

    Args:    job: as the text has it, where it was read already
    Raises:  BadInput: every fault of the cells; nothing of that name in the job; no place for it
    """
    added = add_readings(text, [cells], job=job)
    return Edited(text=added.text, job=added.job, path=added.readings[0].path, moved=added.moved)


def add_readings(text: str, many: Sequence[Cells], *, job: Job | None = None) -> Added:
    """Return the text with more readings, just as if they were added one by one; quicker, all or none.

    Args:    job: as the text has it, where it was read already
    Raises:  BadInput: faults of the first that cannot be added
    """
    before = job or read_job(text)
    adding = _Adding(text=text, job=before, raw=parse_toml(text))
    new = [adding.add(cells) for cells in many]
    after = read_job(adding.text)
    places = _Places()
    for step in new:
        places.put(step)
    readings = tuple(filed_at(after, path) for path in places.now())
    return Added(text=adding.text, job=after, readings=readings, moved=places.moved())


@dataclass(frozen=True, slots=True, kw_only=True)
class Added:
    """A job file's text after several readings were added."""

    text: str
    job: Job
    readings: tuple[FiledReading, ...]
    """Those that were added, as they stand now."""
    moved: Mapping[str, str]
    """Paths of readings that stand elsewhere now, old to new."""


@dataclass(frozen=True, slots=True)
class _Step:
    """One reading added: where, and which paths moved for it."""

    path: str
    moved: Mapping[str, str] = field(default_factory=dict)


class _Places:
    """Where readings stand while others are added."""

    def __init__(self) -> None:
        self._first: dict[str, str | int] = {}
        """By where it stands now: where a reading that moved stood, or the number of one that is new."""
        self._new = 0

    def put(self, step: _Step) -> None:
        """Note a step."""
        going = [(new, self._first.pop(old, old)) for old, new in step.moved.items()]
        self._first |= {**dict(going), step.path: self._new}
        self._new += 1

    def now(self) -> list[str]:
        """Return where the new readings stand, in the order they were put."""
        added = {first: now for now, first in self._first.items() if isinstance(first, int)}
        return [added[n] for n in range(self._new)]

    def moved(self) -> dict[str, str]:
        return {first: now for now, first in self._first.items() if isinstance(first, str) and first != now}


@dataclass(slots=True)
class _Adding:
    """A text to which readings are added; its plain data follow, and the job where names depend on it."""

    text: str
    job: Job
    raw: dict[str, Any]

    def add(self, cells: Cells) -> _Step:
        row, faults = row_and_faults(cells, unit=self.job.units)
        if faults:
            raise BadInput(*_plain(faults))
        if row["kind"] == "plumb_line":
            return self._plumb_line(row)
        self._merge(row)
        if row["kind"] in SHOTS:
            return self._shot(row)
        if row["kind"] == "wall_string":
            offsets = self.raw["wall"]["string"]["offsets"]
            offsets.append(None)
            return _Step(f"wall.string.offsets[{len(offsets) - 1}].gap")
        return self._taped(row)

    def _merge(self, row: Row) -> None:
        try:
            self.text = merge_rows(self.text, (row,), self.job, raw=self.raw)
        except BadInput as error:
            raise BadInput(*_plain(error.faults)) from None

    def _shot(self, row: Row) -> _Step:
        key, index = set_up_of(row["setup"], self.job)
        if index is not None:
            series = self.raw[key][index]["series"]
            series.append(None)
            return _Step(f"{key}[{index}].series[{len(series) - 1}].down")
        self._read()
        key, index = set_up_of(row["setup"], self.job)
        return _Step(f"{key}[{index}].series[0].down")

    def _taped(self, row: Row) -> _Step:
        path = taped_path(row, self.job)
        before = value_at(self.raw, path)
        if before is None:
            if row["kind"].startswith("lean"):  # the height it was taken over counts for the next one
                self._read()
            else:
                _put(self.raw, path, reading_value(row))
            return _Step(path)
        if not isinstance(before, list):
            before = [before]
            _put(self.raw, path, before)
        before.append(None)
        moved = {path: f"{path}[0]"} if len(before) == 2 else {}
        return _Step(f"{path}[{len(before) - 1}]", moved)

    def _plumb_line(self, row: Row) -> _Step:
        """Add a gap, which stands among the others by its height: who moved is seen by comparing."""
        self._read()
        was = filed_readings(self.job)
        self._merge(row)
        self._read()
        moved, path = _told_apart(was, filed_readings(self.job))
        return _Step(path, moved)

    def _read(self) -> None:
        self.job, self.raw = read_job(self.text), parse_toml(self.text)


def _put(raw: dict[str, Any], path: str, value: Any) -> None:
    steps = path_of(path)
    here: Any = raw
    for step in steps[:-1]:
        here = here[step] if isinstance(step, int) else here.setdefault(step, {})
    here[steps[-1]] = value


def check_reading(cells: Cells, *, unit: Unit) -> None:
    """Say what is wrong with a reading by itself, whatever the job has.

    Raises:  BadInput: every fault of the cells
    """
    _, faults = row_and_faults(cells, unit=unit)
    if faults:
        raise BadInput(*_plain(faults))


def change_reading(text: str, path: str, cells: Cells, *, job: Job | None = None) -> Edited:
    """Return the text with a reading's number, sd, instrument, by and note replaced; a shot's x and edge too.

    Args:    job: as the text has it, where it was read already
    Raises:  BadInput: every fault of the cells; KeyError: there is no reading at the path
    """
    job = job or read_job(text)
    old = filed_at(job, path)
    wanted = {key: value for key, value in old.cells.items() if key not in _READING_COLUMNS}
    wanted |= {"kind": old.kind, **{key: value for key, value in cells.items() if value}}
    row, faults = row_and_faults(wanted, unit=job.units)
    fixed = {key for key in cells if key not in (*_READING_COLUMNS, "x", "edge")}
    fixed |= {"x", "edge"} & set(cells) if old.kind not in SHOTS else set()
    for key in sorted(fixed):
        if cells[key] != old.cells.get(key, ""):
            what = "this says which reading it is, and cannot be changed."
            faults.append(Fault(key, what, "Take the reading out and add it again."))
    if faults:
        raise BadInput(*_plain(faults))
    text = set_value(text, path, reading_value(row))
    shot = _SHOT.fullmatch(path)
    if shot is not None:
        around = f"{shot[1]}.series[{shot[2]}]"
        for key in ("x", "edge"):
            if key in cells and cells[key] != old.cells.get(key, ""):
                text = set_value(text, f"{around}.{key}", cell_value(cells[key]))
    return Edited(text=text, job=read_job(text), path=path)


def drop_reading(text: str, path: str, *, job: Job | None = None) -> Edited:
    """Return the text without a reading; an emptied shot, set-up or plumb line goes with it.

    Args:    job: as the text has it, where it was read already
    Raises:  KeyError: there is no reading at the path
    """
    before = job or read_job(text)
    filed_at(before, path)
    new = _without(text, before, path)
    kept = [each for each in filed_readings(before) if each.path != path]
    after = read_job(new)
    now = filed_readings(after)
    moved = {old.path: fresh.path for old, fresh in zip(kept, now, strict=True) if old.path != fresh.path}
    return Edited(text=new, job=after, moved=moved)


def _told_apart(was: tuple[FiledReading, ...], now: tuple[FiledReading, ...]) -> tuple[dict[str, str], str]:
    """Return which paths moved, and where the one new reading is: readings keep their order in a file."""
    same = 0
    while same < len(was) and _alike(was[same], now[same]):
        same += 1
    # a run of equal readings looks the same wherever the new one stands among them: it was put last
    new = same
    moved = {old.path: fresh.path for old, fresh in zip(was[:new], now[:new], strict=True)}
    moved |= {old.path: fresh.path for old, fresh in zip(was[new:], now[new + 1 :], strict=True)}
    return {old: fresh for old, fresh in moved.items() if old != fresh}, now[new].path


def _alike(one: FiledReading, other: FiledReading) -> bool:
    return (one.kind, dict(one.cells)) == (other.kind, dict(other.cells))


def _plain(faults: Iterator[Fault] | list[Fault] | tuple[Fault, ...]) -> list[Fault]:
    """Return faults without the words of a spreadsheet: there is no line and no column here."""
    return [
        Fault(fault.where.removeprefix("column '").removesuffix("'"), fault.what, fault.advice)
        for fault in faults
    ]


def _without(text: str, job: Job, path: str) -> str:
    index = _INDEX.search(path)
    siblings = [each.path for each in filed_readings(job) if _stem(each.path) == _stem(path)]
    if len(siblings) == 2 and index is not None:
        other = next(each for each in siblings if each != path)
        place = scan(text)[path_of(other)]
        return _replaced(text, _stem(path), text[place.start : place.end])
    if len(siblings) > 2:
        return remove_value(text, path)
    return _without_place(text, job, path)


def _without_place(text: str, job: Job, path: str) -> str:
    """Take out the only reading of a place, with what is empty without it."""
    shot = _SHOT.fullmatch(path)
    if shot is not None:
        key, index = path_of(shot[1])
        alone = len(getattr(job, str(key))[index].series) == 1
        return remove_value(text, shot[1] if alone else f"{shot[1]}.series[{shot[2]}]")
    if path.startswith("wall.string."):
        return remove_value(text, path.removesuffix(".gap"))
    line, gap, _ = path.partition(".gap[")
    if gap:
        steps = path_of(line)
        hung = getattr(job.opening[int(steps[1])].plumb_line, str(steps[-1]))
        if len(hung.at) > 1:
            return remove_value(remove_value(text, path), path.replace(".gap[", ".at["))
        whole = scan(text)[steps].kind in ("inline", "table")
        keys = [line] if whole else [f"{line}.gap", f"{line}.at"]
        return reduce(remove_value, keys, text)
    return remove_value(text, path)


def _stem(path: str) -> str:
    """Return the place of a reading; one of a list of readings stands at its list."""
    steps = path_of(path)
    if path.count(".gap[") and ".plumb_line." in path:
        return path_text(steps[: steps.index("gap") + 2])
    return path_text(steps[:-1]) if isinstance(steps[-1], int) else path


def _replaced(text: str, path: str, said: str) -> str:
    place = scan(text)[path_of(path)]
    return text[: place.start] + said + text[place.end :]


def _of_opening(opening: Opening, path: str, unit: Unit) -> Iterator[FiledReading]:
    name = {"opening": opening.name}
    for side in ("left", "right"):
        label = f"{opening.name}: {side} jack from the wall mark"
        yield from _each(
            getattr(opening, f"{side}_jack_x"),
            f"{path}.{side}_jack_x",
            "jack",
            {**name, "place": side},
            label,
            unit,
        )
    for kind, key in (("width", "width"), ("height", "height")):
        for edge in ("outer", "inner"):
            field_ = key if edge == "outer" else f"{key}_inner"
            for place in type(getattr(opening, field_)).model_fields:
                cells = {**name, "place": place, "edge": edge}
                label = f"{opening.name}: {kind}{' at the room side' if edge == 'inner' else ''}, {place}"
                given = getattr(getattr(opening, field_), place)
                yield from _each(given, f"{path}.{field_}.{place}", kind, cells, label, unit)
    yield from _places(opening, "diagonal", "diagonal", "diagonal", path, unit)
    yield from _jacks(opening, path, unit)
    yield from _each(
        opening.string_gap,
        f"{path}.string_gap",
        "string_gap",
        name,
        f"{opening.name}: gap of crossed strings",
        unit,
    )
    yield from _places(opening, "wall_thickness", "thickness", "wall thickness", path, unit)


def _places(
    opening: Opening, key: str, kind: str, words: str, path: str, unit: Unit
) -> Iterator[FiledReading]:
    table = getattr(opening, key)
    for place in type(table).model_fields:
        label = f"{opening.name}: {words}, {place.replace('_', ' ')}"
        cells = {"opening": opening.name, "place": place}
        yield from _each(getattr(table, place), f"{path}.{key}.{place}", kind, cells, label, unit)


def _jacks(opening: Opening, path: str, unit: Unit) -> Iterator[FiledReading]:
    for side in ("left", "right"):
        lean, line = getattr(opening.plumb, side), getattr(opening.plumb_line, side)
        cells = {"opening": opening.name, "place": side}
        if lean is not None:
            over = {**cells, "at_height": _text(lean.over_height, unit)}
            for key, kind, way in (
                ("top_leans_right", "lean_right", "to the right"),
                ("top_leans_in", "lean_in", "into the house"),
            ):
                label = f"{opening.name}: {side} jack, lean {way}"
                yield from _each(getattr(lean, key), f"{path}.plumb.{side}.{key}", kind, over, label, unit)
        for k, height in enumerate(line.at if line is not None else ()):
            at = {**cells, "at_height": _text(height, unit)}
            label = f"{opening.name}: plumb line at the {side} jack, {at['at_height']} up"
            yield from _each(line.gap[k], f"{path}.plumb_line.{side}.gap[{k}]", "plumb_line", at, label, unit)


def _of_shot(shot: Shot, setup: str, unit: Unit) -> dict[str, str]:
    kind = next(key for key in SHOTS if getattr(shot, key) is not None)
    target = str(getattr(shot, kind))
    column = "opening" if kind in ("sill", "head") else "place"
    x = {} if shot.x is None else {"x": _text(shot.x, unit)}
    edge = {} if kind == "mark" else {"edge": shot.edge}
    return {"kind": kind, "setup": setup, column: target, **x, **edge}


def _target(kind: str, cells: Cells) -> str:
    if kind in ("sill", "head"):
        return f"{kind} of {cells['opening']}, {cells['edge']} edge, at {cells['x']}"
    return cells["place"] if kind == "point" else f"{kind} {cells['place']}"


def _each(
    readings: Readings | None, path: str, kind: str, cells: Cells, label: str, unit: Unit
) -> Iterator[FiledReading]:
    for k, reading in enumerate(readings or ()):
        where = path if len(readings or ()) == 1 else f"{path}[{k}]"
        yield FiledReading(path=where, kind=kind, cells={**cells, **_said(reading, unit)}, label=label)


def _said(reading: Reading, unit: Unit) -> dict[str, str]:
    sd = "" if reading.sd is None else _text(reading.sd, unit)
    said = {"value": reading.text, "sd": sd, "instrument": reading.instrument or ""}
    return {key: value for key, value in (said | {"by": reading.by, "note": reading.note}).items() if value}


def _text(length: float, unit: Unit) -> str:
    return str(length_value(length, unit=unit))
