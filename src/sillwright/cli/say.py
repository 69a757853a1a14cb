"""Words on a terminal: wrapped to its width, coloured if it can and may be, plain when piped."""

from __future__ import annotations

import sys
import textwrap
from collections.abc import Iterable
from dataclasses import dataclass
from typing import Literal

Style = Literal["title", "heading", "stop", "fix", "watch", "plain"]

_COLOURS: dict[Style, str] = {
    "title": "bold",
    "heading": "bold",
    "stop": "bold red",
    "fix": "bold yellow",
    "watch": "bold blue",
    "plain": "",
}
_PIPED_WIDTH = 100
_LEAST_WIDTH = 24


@dataclass(frozen=True, slots=True)
class Words:
    """One paragraph; `lead` is a word or name before it that takes the style when there is one."""

    text: str
    style: Style = "plain"
    lead: str = ""
    indent: int = 0


def wrapped(words: Words, width: int) -> list[str]:
    """Return a paragraph as lines no wider than the terminal, hanging below its first word."""
    margin = " " * words.indent
    whole = f"{words.lead}  {words.text}" if words.lead else words.text
    hang = margin + " " * (len(words.lead) + 2 if words.lead and width > 60 else 2 if words.indent else 0)
    lines = textwrap.wrap(
        printable(whole),
        max(width, _LEAST_WIDTH),
        initial_indent=margin,
        subsequent_indent=hang,
        break_on_hyphens=False,
    )
    return lines or [""]


def printable(text: str) -> str:
    """Return a text without signs that would steer a terminal."""
    return "".join(each if each.isprintable() else " " for each in text)


def say(paragraphs: Iterable[Words]) -> None:
    """Print paragraphs to standard output."""
    from rich.console import Console  # noqa: PLC0415  help and faults do without it
    from rich.text import Text  # noqa: PLC0415

    console = Console(highlight=False, markup=False, emoji=False, soft_wrap=True)
    width = console.width if console.is_terminal else _PIPED_WIDTH
    with console.capture() as captured:
        for words in paragraphs:
            for n, line in enumerate(wrapped(words, width)):
                text = Text(line)
                if not words.lead:
                    text.stylize(_COLOURS[words.style])
                elif n == 0:
                    text.stylize(_COLOURS[words.style], words.indent, words.indent + len(words.lead))
                console.print(text, soft_wrap=True)
    sys.stdout.write(captured.get())  # in one piece, and faults of writing are ours to tell
