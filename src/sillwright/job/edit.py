"""Changes to a TOML text that leave every other character as it was: comments, order, spacing.

Each function takes a valid text and gives a new one.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import Any

from sillwright.job.layout import job_text, value_text
from sillwright.job.scan import Path, Place, path_of, path_text, scan

_COMMA_NEXT = re.compile(r"(?:[ \t\r\n]|#[^\n]*+)*+,")  # possessive: never into a comment


def set_value(text: str, path: str, value: Any) -> str:
    """Return the text with one value changed, or added in the table it belongs to.

    Args:    path: such as `opening[0].width.middle`; value: text, number, list or table
    Raises:  KeyError: there is no table for it
    """
    steps = path_of(path)
    places = scan(text)
    place = places.get(steps)
    if place is None:
        return _add(text, places, steps, value)
    if place.kind in ("table", "tables", "dotted"):
        raise KeyError(f"{path} is a table; name a value in it")
    return text[: place.start] + value_text(value) + text[place.end :]


def append_entry(text: str, path: str, value: Any) -> str:
    """Return the text with one more entry at the end of a list in square brackets.

    Raises:  KeyError: there is no such list
    """
    steps = path_of(path)
    places = scan(text)
    place = places.get(steps)
    if place is not None and place.kind == "tables":
        return _append_table(text, places, steps, value)
    if place is None or place.kind != "array":
        raise KeyError(f"{path} is not a list")
    count = sum(1 for each in places if len(each) == len(steps) + 1 and each[:-1] == steps)
    entry = value_text(value)
    if not count:
        return text[: place.start] + f"[{entry}]" + text[place.end :]
    last = places[(*steps, count - 1)]
    comma = _COMMA_NEXT.match(text, last.end)
    closing = place.end - 1
    own_line = text.rfind("\n", 0, closing) + 1
    head, tail = (text[: last.end], text[last.end :]) if comma else (text[: last.end] + ",", text[last.end :])
    closing += 0 if comma else 1
    own_line += 0 if comma else 1
    text = head + tail
    if own_line > last.end and not text[own_line:closing].strip():
        indent = _indent(text, last.start)
        return text[:own_line] + f"{indent}{entry},{_newline(text)}" + text[own_line:]
    before = text[:closing].rstrip()
    return f"{before} {entry}{text[closing:]}"


def _append_table(text: str, places: Mapping[Path, Place], steps: Path, value: Mapping[str, Any]) -> str:
    """Return the text with one more table after the last of an array of tables written with headers."""
    end = max(place.end for path, place in places.items() if path[: len(steps)] == steps)
    line_end = text.find("\n", end)
    head = text if line_end < 0 else text[:line_end]
    tail = "" if line_end < 0 else text[line_end:]
    name = path_text(step for step in steps if isinstance(step, str))
    pairs = [f"{path_text((key,))} = {value_text(each)}" for key, each in value.items()]
    newline = _newline(text)
    return head + newline + newline.join([f"[[{name}]]", *pairs]) + tail


def append_tables(text: str, key: str, tables: list[Mapping[str, Any]]) -> str:
    """Return the text with more tables `[[key]]` at its end, or in its list if it is written as one."""
    place = scan(text).get((key,))
    if place is not None and place.kind == "array":
        for table in tables:
            text = append_entry(text, key, table)
        return text
    newline = _newline(text)
    added = "\n".join(job_text({key: [table]}) for table in tables)
    return text.rstrip() + newline * 2 + added.replace("\n", newline)


def _add(text: str, places: Mapping[Path, Place], steps: Path, value: Any) -> str:
    for length in range(len(steps) - 1, -1, -1):
        place, rest = places.get(steps[:length]), steps[length:]
        if place is None or place.kind == "dotted":
            continue
        if place.kind not in ("table", "inline") or any(isinstance(step, int) for step in rest):
            break
        pair = f"{path_text(rest)} = {value_text(value)}"
        return _into_inline(text, place, pair) if place.kind == "inline" else _into_table(text, place, pair)
    raise KeyError(f"there is no table for {path_text(steps)}")


def _into_inline(text: str, place: Place, pair: str) -> str:
    inside = text[place.start + 1 : place.end - 1].rstrip()
    new = f"{inside}, {pair} }}" if inside.strip() else f" {pair} }}"
    return text[: place.start + 1] + new + text[place.end :]


def _into_table(text: str, place: Place, pair: str) -> str:
    newline = _newline(text)
    if not place.end:  # the top of a text without a key of its own
        return f"{pair}{newline}{text}"
    end = text.find("\n", place.end)
    if end < 0:
        return f"{text}{newline}{pair}{newline}"
    return f"{text[: end + 1]}{pair}{newline}{text[end + 1 :]}"


def _indent(text: str, at: int) -> str:
    line = text[text.rfind("\n", 0, at) + 1 : at]
    return line[: len(line) - len(line.lstrip())]


def _newline(text: str) -> str:
    return "\r\n" if "\r\n" in text else "\n"
