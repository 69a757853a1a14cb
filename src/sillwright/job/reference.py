"""The reference of the job file, written from what the model says of itself.

python -m sillwright.job.reference docs/job-file.md
"""

from __future__ import annotations

import sys
from collections.abc import Iterator
from datetime import date
from pathlib import Path
from typing import Any, Literal, get_args, get_origin

from pydantic.fields import FieldInfo

from sillwright.job.csv_readings import CSV_COLUMNS, KINDS
from sillwright.job.dump import is_length
from sillwright.job.fields import field_docs
from sillwright.job.model import Job, Reading
from sillwright.job.problems import model_in
from sillwright.job.schema import schema_text
from sillwright.job.values import Model
from sillwright.lengths import show

_HEAD = """\
# The job file

A job file is text in TOML: `key = value`, one a line; text stands in quotes; `#` starts a comment. This
page is written from the program itself. `sillwright new` starts a file; the folder `examples` has whole
ones; `job.schema.json` is the same form for editors and other programs.

**Lengths.** Trade notation in quotes, `"27 3/8"`, `"4' 3 1/2\\""`, or a bare number in the job's own unit.
A mark overrides the unit: `"695 mm"`, `"27 3/8 in"`. Standard deviations of lengths are lengths too.

**Readings.** A length as the tape said it, *strong* and *shy* included: `"27 3/8 strong"`. Several readings
of one thing are a list: `["27 3/8", "27 7/16"]`. A reading with something to say is a table:
`{ value = "27 3/8", sd = "1/32", by = "Ann", note = "in the rain" }`.

**Axes.** Seen from outside: x to the right along the wall from the wall mark, y inward from the sheathing
face, z up from the first `[[mark]]`.

**Names** tie the file together: a row, a unit or a shot names an opening; a reading names an instrument. A
name that nothing has, like a key that is not on this page, is an error that says the nearest one.
"""


def job_reference() -> str:
    """Return the reference of the job file and of readings as CSV, in Markdown."""
    parts = [_HEAD, _section("Top of the file", Job, _plain(Job))]
    shown: dict[type[Model], str] = {}
    for key, field in Job.model_fields.items():
        inside = model_in(field.annotation)
        if inside is None:
            continue
        name = f"`[[{key}]]`" if _is_list(field.annotation) else f"`[{key}]`"
        if inside in shown:
            parts.append(f"## {name}\n\n{field_docs('Job').fields[key]} The same keys as {shown[inside]}.\n")
            continue
        shown[inside] = name
        parts.append(_section(name, inside, list(inside.model_fields)))
        parts += _parts(key, inside, {Reading})
    parts += [_section("A reading as a table", Reading, ["value", "sd", "instrument", "by", "note"]), _csv()]
    return "\n".join(parts)


def _parts(path: str, table: type[Model], seen: set[type[Model]]) -> Iterator[str]:
    """Yield a section for each kind of table inside a table, once."""
    for key, field in table.model_fields.items():
        inside = model_in(field.annotation)
        if inside is None or inside in seen:
            continue
        seen.add(inside)
        alike = [k for k, f in table.model_fields.items() if model_in(f.annotation) is inside]
        title = ", ".join(f"`{path}.{each}`" for each in alike)
        yield _section(title, inside, list(inside.model_fields), level=3)
        yield from _parts(f"{path}.{key}", inside, seen)


def _plain(table: type[Model]) -> list[str]:
    return [key for key, field in table.model_fields.items() if model_in(field.annotation) is None]


def _section(title: str, table: type[Model], keys: list[str], *, level: int = 2) -> str:
    docs = field_docs(table.__name__)
    rows = [("key", "what it says", "value", "without it"), ("---",) * 4]
    for key in keys:
        field = table.model_fields[key]
        rows.append((f"`{key}`", docs.fields[key], _kind(field), _default(field)))
    lines = "\n".join(f"| {' | '.join(row)} |" for row in rows)
    return f"{'#' * level} {title}\n\n{docs.about}\n\n{lines}\n"


def _kind(field: FieldInfo) -> str:
    inside = model_in(field.annotation)
    text = _kind_of(field.annotation, inside)
    if is_length(field) or field is Reading.model_fields["value"]:
        text = "lengths" if _is_list(field.annotation) else "length"
    return text + _limits(field)


def _kind_of(annotation: Any, inside: type[Model] | None) -> str:
    if inside is Reading:
        return "readings" if _depth(annotation) < 2 else "list of readings"
    if inside is not None:
        return "list of tables" if _is_list(annotation) else "table"
    words = _words(annotation)
    if words:
        return " or ".join(f"`{each}`" if isinstance(each, int) else f'`"{each}"`' for each in words)
    names = {
        str: "text",
        float: "number",
        int: "whole number",
        bool: "true or false",
        date: "date",
    }
    options = [names[each] for each in _leaves(annotation) if each in names]
    return f"list of {options[0]}s" if _is_list(annotation) else options[0]


def _words(annotation: Any) -> tuple[Any, ...]:
    """Return the words that are allowed, where the value is one of several, or may be left out."""
    if get_origin(annotation) is Literal:
        return get_args(annotation)
    return next((words for each in get_args(annotation) if (words := _words(each))), ())


def _leaves(annotation: Any) -> Iterator[Any]:
    inside = get_args(annotation)
    if not inside:
        yield annotation
    for each in inside:
        yield from _leaves(each)


def _depth(annotation: Any) -> int:
    inside = [_depth(each) for each in get_args(annotation)]
    return max(inside, default=0) + (get_origin(annotation) is tuple)


def _is_list(annotation: Any) -> bool:
    return _depth(annotation) > 0


def _limits(field: FieldInfo) -> str:
    words = {"gt": "more than", "ge": "at least", "lt": "less than", "le": "at most"}
    said = [
        f"{word} {getattr(limit, name):g}"
        for limit in field.metadata
        for name, word in words.items()
        if hasattr(limit, name)
    ]
    return ", " + ", ".join(said) if said else ""


def _default(field: FieldInfo) -> str:
    if field.is_required():
        return "**needed**"
    value = field.default
    if value is None or value in ("", ()) or isinstance(value, Model):
        return "–"
    if is_length(field):
        return f"{show(value, graduation=1 / 64)} in"
    return f'`"{value}"`' if isinstance(value, str) else str(value).lower()


def _csv() -> str:
    columns = "\n".join(f"| `{name}` | {about} |" for name, about in CSV_COLUMNS.items())
    kinds = "\n".join(
        f"| `{name}` | {kind.about} | {', '.join(f'`{each}`' for each in kind.needs)} |"
        f" {', '.join(f'`{each}`' for each in kind.places) or '–'} | {'yes' if kind.edges else '–'} |"
        for name, kind in KINDS.items()
    )
    return f"""\
## Readings as CSV

A spreadsheet of readings is added to a job file row by row. The first row names the columns, in any order;
only `kind` and `value` must be there. Commas, semicolons or tabs part the cells; a decimal comma is
understood. Set the column of values to text, or the spreadsheet turns 1/2 into a date. A place that was
read before gets one more reading. Bad rows are told all at once, and nothing is added until there are none.

| column | what it says |
| --- | --- |
{columns}

| kind | what was read | needs | `place` | may have `edge` |
| --- | --- | --- | --- | --- |
{kinds}
"""


def write(folder: Path) -> None:
    """Write the reference and the schema into a folder."""
    (folder / "job-file.md").write_text(job_reference(), encoding="utf-8")
    (folder / "job.schema.json").write_text(schema_text(), encoding="utf-8")


if __name__ == "__main__":
    write(Path(sys.argv[1]))
