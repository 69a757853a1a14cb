"""One value taken out of a TOML text; every other character, comments too, stays as it was."""

from __future__ import annotations

import re

from sillwright.job.scan import Path, Place, path_of, scan

_GAP = re.compile(r"(?:[ \t\r\n]|#[^\n]*)*")
_HEADER = re.compile(r"[ \t]*\[")


def remove_value(text: str, path: str) -> str:
    """Return the text without one value, one entry of a list, or one table under its header.

    Args:    path: such as `opening[0].width.middle` or `setup[0].series[3]`
    Raises:  KeyError: there is nothing at the path, or it is only part of longer keys
    """
    steps = path_of(path)
    places = scan(text)
    place = places.get(steps)
    if place is None or not steps or place.kind in ("dotted", "tables"):
        raise KeyError(f"{path} is nothing that can be taken out alone")
    if place.kind == "table":
        return _without_table(text, places, steps)
    around = places.get(steps[:-1])
    if isinstance(steps[-1], int):
        return _without_entry(text, place.start, place.end)
    key = _key_start(text, place)
    if around is not None and around.kind == "inline":
        return _without_entry(text, key, place.end)
    parents = (places.get(steps[:n]) for n in range(len(steps) - 1, 0, -1))
    inline = next((each for each in parents if each is not None and each.kind != "dotted"), None)
    if inline is not None and inline.kind == "inline":  # a dotted key inside braces
        return _without_entry(text, key, place.end)
    return _without_line(text, key, place.end)


def _key_start(text: str, place: Place) -> int:
    """Return where the key of a value begins: after the line's start, a comma or a brace."""
    at = text.rindex("=", 0, place.start)
    while at > 0 and text[at - 1] not in "\n,{":
        at -= 1
    return at + len(text[at:]) - len(text[at:].lstrip(" \t"))


def _without_entry(text: str, start: int, end: int) -> str:
    """Take out an entry with the comma that parts it from the next, or from the one before."""
    after = _GAP.match(text, end)
    follows = after.end() if after else end
    if text[follows] == ",":
        head, tail = text[:start], text[end:follows] + text[follows + 1 :]
        return _joined(head, tail)
    before = text[:start].rstrip()
    if before.endswith(","):
        return before[:-1] + text[end:]
    return _joined(text[:start], text[end:])


def _joined(head: str, tail: str) -> str:
    """Join what was left and right of an entry; a line that is now empty goes."""
    line = head[head.rfind("\n") + 1 :]
    rest, newline, more = tail.partition("\n")
    if not line.strip() and newline:
        return head[: len(head) - len(line)] + (f"{line}{rest.lstrip()}\n{more}" if rest.strip() else more)
    return head + tail.lstrip(" \t")


def _without_line(text: str, start: int, end: int) -> str:
    """Take out `key = value`; a comment behind it keeps its line."""
    rest, newline, more = text[end:].partition("\n")
    head = text[:start].rstrip(" \t")
    return head + (f"{rest.lstrip()}{newline}{more}" if rest.strip() else more)


def _without_table(text: str, places: dict[Path, Place], steps: Path) -> str:
    """Take out a table from its header to the next header, comments above that one left standing."""
    own = [place for path, place in places.items() if path[: len(steps)] == steps]
    start = text.rfind("\n", 0, places[steps].start) + 1
    end = text.find("\n", max(place.end for place in own))
    tail = "" if end < 0 else text[end + 1 :]
    return text[:start] + tail.lstrip("\r\n")
