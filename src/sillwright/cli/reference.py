"""The page on commands, written from their own help."""

from __future__ import annotations

import io
import re
import sys
from pathlib import Path

from rich.console import Console

from sillwright.cli.commands import app

_HEAD = """\
# Commands

This page is written from the program's own help (`python -m sillwright.cli.reference docs/cli.md`).

| exit code | means |
| --- | --- |
| 0 | done, whatever was found about the wall |
| 2 | what was given cannot be used: command, job file, reading, a load beyond a table; told with what to do |
| 1 | anything else: a folder that cannot be written, a fault of the program |

What was asked for goes to standard output, faults to standard error. Colours are left out when the output
is not a terminal or `NO_COLOR` is set. A folder is written whole or not at all; nothing is written over
that is not an earlier plan of ours.
"""


def page() -> str:
    """Return the page as Markdown."""
    names = sorted(name for name in app if not name.startswith("-"))
    parts = [_help()] + [f"## sillwright {name}\n\n{_help(name)}" for name in names]
    return "\n".join([_HEAD, *parts])


def _help(*command: str) -> str:
    """Return the help of a command as it shows on a wide terminal."""
    stream = io.StringIO()
    app.help_print([*command], console=Console(file=stream, width=110, no_color=True))
    text = re.sub(r"[ \t]+$", "", stream.getvalue(), flags=re.MULTILINE)
    return f"```\n{text.strip()}\n```\n"


if __name__ == "__main__":
    Path(sys.argv[1]).write_text(page(), encoding="utf-8")
