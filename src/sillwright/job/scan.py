"""Where each key of a TOML text stands: line, and first and last character of its value.

The text must be valid TOML 1.0 (`tomllib` has read it); the scanner only finds places in it.
"""

from __future__ import annotations

import re
import tomllib
from bisect import bisect_right
from collections.abc import Iterable
from typing import Literal, NamedTuple

Kind = Literal["value", "array", "inline", "table", "tables", "dotted"]
Path = tuple[str | int, ...]
"""Keys and 0-based indices from the top of the document down."""

_BLANK = re.compile(r"(?:[ \t\r\n]|#[^\n]*)*")
_SPACE = re.compile(r"[ \t]*")
_BARE_KEY = re.compile(r"[A-Za-z0-9_-]+")
_BARE_VALUE = re.compile(r"[^,\]}#\n]*")
_STRING = re.compile(
    r'"""(?:[^"\\]|\\.|"{1,2}(?!"))*"{3,5}'
    r"|'''(?:[^']|'{1,2}(?!'))*'{3,5}"
    r'|"(?:[^"\\\n]|\\.)*"'
    r"|'[^'\n]*'",
    re.DOTALL,
)
_STEP = re.compile(r'\[(\d+)\]|\.?([A-Za-z0-9_-]+)|\.?("(?:[^"\\]|\\.)*")')


class Place(NamedTuple):
    """Where a key's value stands in the text.

    A `table` runs from its header to the end of its last key; `tables` is an array of them; a `dotted` table
    exists only as part of longer keys.
    """

    line: int
    kind: Kind
    start: int
    end: int


def path_text(path: Iterable[str | int]) -> str:
    """Return a path as text: `opening[0].width.middle`."""
    text = ""
    for step in path:
        if isinstance(step, int):
            text += f"[{step}]"
        else:
            key = step if _BARE_KEY.fullmatch(step) else quoted(step)
            text += f".{key}" if text else key
    return text


def path_of(text: str) -> Path:
    """Return the path that `path_text` wrote; raises ValueError for anything else."""
    steps: list[str | int] = []
    at = 0
    while at < len(text):
        found = _STEP.match(text, at)
        if found is None:
            raise ValueError(f"{text!r} is not a path such as opening[0].width.middle")
        index, bare, quote = found.groups()
        steps.append(int(index) if index else bare or _unquoted(quote))
        at = found.end()
    return tuple(steps)


def quoted(text: str) -> str:
    """Return the text as a basic string of TOML, in double quotes on one line."""
    escapes = {'"': '\\"', "\\": "\\\\", "\n": "\\n", "\t": "\\t", "\r": "\\r"}
    return '"' + "".join(escapes.get(c) or (f"\\u{ord(c):04x}" if _control(c) else c) for c in text) + '"'


def _control(character: str) -> bool:
    return character < " " or character == "\x7f"


def _unquoted(text: str) -> str:
    value: str = tomllib.loads(f"key = {text}")["key"]
    return value


def scan(text: str) -> dict[Path, Place]:
    """Return the place of every table, array and value of a valid TOML text, in order; the top is `()`."""
    return _Scanner(text).run()


class _Scanner:
    def __init__(self, text: str) -> None:
        self.text = text
        self.at = 0
        self.newlines = [found.start() for found in re.finditer("\n", text)]
        self.places: dict[Path, Place] = {(): Place(1, "table", 0, 0)}
        self.counts: dict[Path, int] = {}
        self.base: Path = ()

    def run(self) -> dict[Path, Place]:
        self._skip(_BLANK)
        while self.at < len(self.text):
            if self.text[self.at] == "[":
                self._header()
            else:
                self._pair(self.base)
            self.places[self.base] = self.places[self.base]._replace(end=self.at)
            self._skip(_BLANK)
        return self.places

    def _skip(self, pattern: re.Pattern[str]) -> str:
        found = pattern.match(self.text, self.at)
        if found is None:
            raise ValueError("not a valid TOML text")
        self.at = found.end()
        return found[0]

    def _place(self, path: Path, kind: Kind, start: int) -> None:
        line = bisect_right(self.newlines, start - 1) + 1 if start else 1
        self.places[path] = Place(line, kind, start, self.at)

    def _header(self) -> None:
        start = self.at
        double = self.text.startswith("[[", start)
        self.at += 2 if double else 1
        keys = self._keys()
        self.at += 2 if double else 1
        path: Path = ()
        for key in keys[:-1]:
            path = self._inside((*path, key), start)
        path = (*path, keys[-1])
        if double:
            number = self.counts.get(path, 0)
            self.counts[path] = number + 1
            if not number:
                self._place(path, "tables", start)
            path = (*path, number)
        self._place(path, "table", start)
        self.base = path

    def _inside(self, path: Path, start: int) -> Path:
        """Return the path itself, or that of the last table of an array of tables."""
        if path in self.counts:
            return (*path, self.counts[path] - 1)
        if path not in self.places:
            self._place(path, "dotted", start)
        return path

    def _keys(self) -> list[str]:
        keys = []
        while True:
            self._skip(_SPACE)
            if self.text[self.at] in "\"'":
                keys.append(_unquoted(self._skip(_STRING)))
            else:
                keys.append(self._skip(_BARE_KEY))
            self._skip(_SPACE)
            if self.text[self.at] != ".":
                return keys
            self.at += 1

    def _pair(self, base: Path) -> None:
        start = self.at
        keys = self._keys()
        self.at += 1  # the equals sign
        self._skip(_SPACE)
        path = base
        for key in keys[:-1]:
            path = (*path, key)
            if path not in self.places:
                self._place(path, "dotted", start)
        self._value((*path, keys[-1]))

    def _value(self, path: Path) -> None:
        start = self.at
        first = self.text[start]
        kind: Kind = "value"
        if first == "[":
            kind = "array"
            self._place(path, kind, start)  # before what is inside, so that order is the text's
            self._array(path)
        elif first == "{":
            kind = "inline"
            self._place(path, kind, start)
            self._inline(path)
        elif first in "\"'":
            self._skip(_STRING)
        else:
            self.at = start + len(self._skip(_BARE_VALUE).rstrip())
        self._place(path, kind, start)

    def _array(self, path: Path) -> None:
        self.at += 1
        count = 0
        self._skip(_BLANK)
        while self.text[self.at] != "]":
            self._value((*path, count))
            count += 1
            self._comma(_BLANK)
        self.at += 1

    def _inline(self, path: Path) -> None:
        self.at += 1
        self._skip(_SPACE)
        while self.text[self.at] != "}":
            self._pair(path)
            self._comma(_SPACE)
        self.at += 1

    def _comma(self, space: re.Pattern[str]) -> None:
        self._skip(space)
        if self.text[self.at] == ",":
            self.at += 1
            self._skip(space)
