"""What may be asked: checks of what a person gives, each fault with its place and what to do."""

from __future__ import annotations

from collections.abc import Iterable
from difflib import get_close_matches
from math import isfinite

from sillwright.errors import BadInput, Fault


def need_positive(**values: float) -> None:
    """Raise `BadInput` with every value that is not a finite number above 0."""
    _need({name: value for name, value in values.items() if not (isfinite(value) and value > 0.0)}, "above 0")


def need_not_negative(**values: float) -> None:
    """Raise `BadInput` with every value that is not a finite number of 0 or more."""
    _need(
        {name: value for name, value in values.items() if not (isfinite(value) and value >= 0.0)}, "0 or more"
    )


def need_one_of(known: Iterable[object], **values: object) -> None:
    """Raise `BadInput` for every value that is none of the known words, naming them and the nearest."""
    words = [str(word) for word in known]
    faults = []
    for name, value in values.items():
        if str(value) not in words:
            near = get_close_matches(str(value), words, n=1)
            hint = f"Did you mean {near[0]}?" if near else ""
            faults.append(Fault(name, f"{value} is not known here; known: {', '.join(words)}.", hint))
    if faults:
        raise BadInput(*faults)


def _need(wrong: dict[str, float], limit: str) -> None:
    if wrong:
        raise BadInput(
            *(
                Fault(name, f"{value:g} cannot be used.", f"Give a number {limit}.")
                for name, value in wrong.items()
            )
        )
