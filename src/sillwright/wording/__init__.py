"""Every English text that the store, the server and their commands say to people, in one file.

`say("photo.too_large", most="20 MB")` fills the text of that name in `words.toml`. Another language is
another file with the same names. What the plan itself says (findings, acts) is worded where it is found.
"""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from functools import cache
from importlib.resources import files
from typing import Any

from sillwright.errors import Fault

__all__ = ["fault", "say", "section"]


@cache
def _words() -> Mapping[str, Any]:
    text = files("sillwright.wording").joinpath("words.toml").read_text(encoding="utf-8")
    return tomllib.loads(text)


def _at(name: str) -> Any:
    here: Any = _words()
    for step in name.split("."):
        here = here[step]
    return here


def say(name: str, /, **given: object) -> str:
    """Return the text of a name with what is given put in.

    Raises:  KeyError: there is no such text, or it asks for something that was not given
    """
    text = _at(name)
    if not isinstance(text, str):
        raise KeyError(name)
    return text.format(**given)


def fault(name: str, /, where: str = "", **given: object) -> Fault:
    """Return a fault whose words are `what` and `fix` under a name."""
    return Fault(where, say(f"{name}.what", **given), say(f"{name}.fix", **given))


def section(name: str, /) -> Mapping[str, Any]:
    """Return all texts under a name, as they stand."""
    found: Mapping[str, Any] = _at(name)
    return found
