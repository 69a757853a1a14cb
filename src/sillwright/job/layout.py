"""Job data as TOML that a person likes to read: one line a shot, columns aligned, sections in order."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from datetime import date, time
from typing import Any

from sillwright.job.model import Job
from sillwright.job.scan import path_text, quoted

WIDTH = 106
_ENTRY_LISTS = ("forecast",)
_PLAIN_BREAK = re.compile(r"(?<=\S) (?=\S)")
Data = Mapping[str, Any]


def job_text(data: Data, *, header: str = "", comments: Data | None = None) -> str:
    """Return job data (the file's own keys and values) as TOML.

    Args:    data: what `tomllib` would read; header: comment at the top; comments: by section, above it
    """
    said = comments or {}
    blocks = [_comment(header)] if header else []
    top = {key: value for key, value in data.items() if not _is_section(key, value)}
    blocks.append(_pairs(top, said))
    order = {key: n for n, key in enumerate(Job.model_fields)}
    sections = sorted((key for key in data if key not in top), key=lambda key: order.get(key, len(order)))
    blocks += [_section(key, data[key], said) for key in sections]
    return "\n\n".join(block for block in blocks if block) + "\n"


def value_text(value: Any) -> str:
    """Return one value as TOML on one line."""
    if isinstance(value, bool):
        return str(value).lower()
    if isinstance(value, str):
        return quoted(value)
    if isinstance(value, Mapping):
        inside = ", ".join(f"{path_text((key,))} = {value_text(each)}" for key, each in value.items())
        return f"{{ {inside} }}" if inside else "{}"
    if isinstance(value, list | tuple):
        return f"[{', '.join(value_text(each) for each in value)}]"
    return value.isoformat() if isinstance(value, date | time) else repr(value)


def _is_section(key: str, value: Any) -> bool:
    return isinstance(value, Mapping) or (_is_tables(value) and key not in _ENTRY_LISTS)


def _is_tables(value: Any) -> bool:
    return isinstance(value, list | tuple) and bool(value) and all(isinstance(v, Mapping) for v in value)


def _comment(text: str) -> str:
    return "\n".join(f"# {line}".rstrip() for line in text.splitlines())


def _section(key: str, value: Any, said: Data) -> str:
    above = _comment(said[key]) + "\n" if key in said else ""
    if not isinstance(value, Mapping):
        return above + "\n\n".join(_table(f"[[{path_text((key,))}]]", each) for each in value)
    deep = {name: each for name, each in value.items() if _is_deep(each)}
    flat = {name: each for name, each in value.items() if name not in deep}
    parts = [_table(f"[{path_text((key,))}]", flat)] if flat or not deep else []
    parts += [_table(f"[{path_text((key, name))}]", each) for name, each in deep.items()]
    return above + "\n\n".join(parts)


def _is_deep(value: Any) -> bool:
    """Is this a table with a list of tables in it, such as the string along the wall?"""
    return isinstance(value, Mapping) and any(_is_tables(each) for each in value.values())


def _table(header: str, table: Data) -> str:
    body = _pairs(table, {})
    return f"{header}\n{body}" if body else header


def _pairs(table: Data, said: Data) -> str:
    """Return a table's keys, one a line, with the equals signs in one column."""
    rows: list[tuple[str, str]] = []
    for key, value in table.items():
        rows += _rows(path_text((key,)), value)
    wide = max((len(key) for key, _ in rows), default=0)
    lines = []
    for key, text in rows:
        if key in said:
            lines += ["", _comment(said[key])]
        lines.append(f"{key:{wide}} = {text}")
    return "\n".join(lines)


def _rows(key: str, value: Any) -> Iterable[tuple[str, str]]:
    """Yield dotted keys with their values: tables of tables take a line for each inner table."""
    if isinstance(value, Mapping) and value and all(isinstance(each, Mapping) for each in value.values()):
        for name, each in value.items():
            yield f"{key}.{path_text((name,))}", value_text(each)
    elif _is_tables(value):
        yield key, _lines(value)
    elif isinstance(value, str) and len(value) > WIDTH - 10:
        yield key, _paragraph(value)
    else:
        yield key, value_text(value)


def _lines(tables: Iterable[Data]) -> str:
    """Return a list of tables, one a line, with their keys in columns."""
    cells = [{key: f"{path_text((key,))} = {value_text(v)}" for key, v in table.items()} for table in tables]
    lines = []
    for row in cells:
        alike = [other for other in cells if list(other) == list(row)]
        wide = {key: max(len(other[key]) for other in alike) + 1 for key in row}
        last = list(row)[-1] if row else ""
        parts = [text if key == last else f"{text},".ljust(wide[key]) for key, text in row.items()]
        lines.append(f"  {{ {' '.join(parts)} }},")
    return "[\n" + "\n".join(lines) + "\n]"


def _paragraph(text: str) -> str:
    """Return a long text over several lines that read back as one."""
    lines = [""]
    for word in _PLAIN_BREAK.split(text):
        if lines[-1] and len(lines[-1]) + len(word) > WIDTH:
            lines.append("")
        lines[-1] += f" {word}" if lines[-1] else word
    escaped = [quoted(line)[1:-1] for line in lines]
    return '"""\n' + " \\\n".join(escaped) + '"""'
