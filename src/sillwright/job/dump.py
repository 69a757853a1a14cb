"""A checked job written out again as the text of a job file."""

from __future__ import annotations

from decimal import Decimal
from typing import Any, get_args

from pydantic.fields import FieldInfo

from sillwright.errors import BadInput
from sillwright.job.layout import job_text
from sillwright.job.model import Job, Reading, Shim
from sillwright.job.values import Length, Model
from sillwright.lengths import Unit, parse, show, to_unit

_MARKER = get_args(Length)[1]


def dump_job(job: Job) -> str:
    """Return the job as the text of a job file; read back it gives an equal job."""
    data = job_data(job)
    return job_text({"sillwright": data.pop("sillwright"), "units": job.units, **data})


def job_data(job: Job) -> dict[str, Any]:
    """Return the keys and values of the job's file, in the job's unit; what is as by default is left out."""
    return _table(job, job.units)


def is_length(field: FieldInfo) -> bool:
    """Is the field a length, or a list of them?"""
    return _MARKER in field.metadata or _mentions_length(field.annotation)


def _mentions_length(annotation: Any) -> bool:
    inside = get_args(annotation)
    return _MARKER in inside or any(_mentions_length(each) for each in inside if each is not annotation)


def _table(model: Model, unit: Unit) -> dict[str, Any]:
    table = {}
    for key, field in type(model).model_fields.items():
        value = getattr(model, key)
        if field.is_required() or value != field.get_default():
            table[key] = _value(value, unit, as_length=is_length(field))
    return table


def _value(value: Any, unit: Unit, *, as_length: bool) -> Any:
    if isinstance(value, Reading):
        return _reading(value, unit)
    if isinstance(value, Shim) and value.thin is None and value.count is None:
        return length_value(value.thickness, unit=unit)
    if isinstance(value, Model):
        return _table(value, unit)
    if isinstance(value, tuple):
        listed = [_value(each, unit, as_length=as_length) for each in value]
        return listed[0] if len(value) == 1 and isinstance(value[0], Reading) else listed
    if as_length:
        return length_value(value, unit=unit)
    return int(value) if isinstance(value, float) and value.is_integer() and abs(value) < 1e15 else value


def _reading(reading: Reading, unit: Unit) -> Any:
    table = _table(reading, unit)
    for key in ("spread", "text"):
        table.pop(key, None)
    table["value"] = _as_said(reading, unit)
    return table if len(table) > 1 else table["value"]


def _as_said(reading: Reading, unit: Unit) -> str | int | float:
    """Return the reading as it was written; a bare number where the notation has no such text (1e-05)."""
    bare = _number(reading.text)
    if unit == "mm" and bare is not None:
        return bare
    try:
        said = parse(reading.text, unit=unit)
    except BadInput:
        return length_value(reading.value, unit=unit) if bare is None else bare
    return reading.text if said.value == reading.value else length_value(reading.value, unit=unit)


def _number(text: str) -> int | float | None:
    """Return the number whose text this is exactly, None if there is none."""
    for kind in (int, float):
        try:
            number = kind(text)
        except ValueError:
            continue
        if str(number) == text:
            return number
    return None


def length_value(length: float, *, unit: Unit) -> str | int | float:
    """Return a length [in] as the file has it: tape notation, or the shortest number that reads back."""
    if unit == "in":
        text = show(length, unit="in", graduation=1 / 64)
        return text if parse(text, unit="in").value == length else length
    exact = to_unit(length, unit)
    for decimals in range(18):
        number = round(exact, decimals)
        if parse(number, unit=unit).value == length:
            return int(number) if number.is_integer() else number
    return f"{Decimal(repr(length)):f} in"
