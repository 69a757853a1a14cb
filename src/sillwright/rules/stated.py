"""Facts as they are stated: a field with its words, and what a stated value may be."""

from __future__ import annotations

import dataclasses
import math
import re
from collections.abc import Iterator
from typing import Any, Literal, get_args

from sillwright.errors import BadInput, Fault

Sign = Literal["from 0", "over 0", "either"]


def said(words: str, *, sign: Sign = "from 0", one_of: Any = None, form: tuple[str, str] = ("", "")) -> Any:
    """Return a fact of a facts dataclass: unknown unless given, with the words it is asked for in.

    Args:  sign: which numbers it may be; one_of: a Literal whose words it may be
           form: a pattern its text has, and an example of it
    """
    metadata = {"said": words, "sign": sign, "one_of": get_args(one_of), "form": form}
    return dataclasses.field(default=None, metadata=metadata)


def check_stated(facts: Any) -> None:
    """Check every stated fact of a facts dataclass.

    Raises:  BadInput: every fact that cannot be
    """
    fields = dataclasses.fields(facts)
    faults = [fault for each in fields if (fault := _fault(each, getattr(facts, each.name)))]
    if faults:
        raise BadInput(*faults)


def _fault(field: dataclasses.Field[Any], value: Any) -> Fault | None:
    if value is None:
        return None
    words, known, (pattern, example) = (field.metadata[key] for key in ("said", "one_of", "form"))
    if known and value not in known:
        return Fault(field.name, f"{words}: {value!r} is not known.", f"Known: {', '.join(known)}.")
    if pattern and not re.fullmatch(pattern, str(value)):
        return Fault(field.name, f"{words}: {value!r} cannot be read.", f"Write it as {example}.")
    wrong = next((what for number in _numbers(value) if (what := _wrong(number, field.metadata["sign"]))), "")
    advice = "Measure it again, or leave it out if unknown."
    return Fault(field.name, f"{words}: {wrong}.", advice) if wrong else None


def _numbers(value: Any) -> Iterator[float]:
    if isinstance(value, tuple):
        for each in value:
            yield from _numbers(each)
    elif isinstance(value, int | float) and not isinstance(value, bool):
        yield value


def _wrong(number: float, sign: Sign) -> str:
    if not math.isfinite(number):
        return f"{number} is no number to go by"
    if number < 0 and sign != "either":
        return f"{number:g} is less than 0"
    return "it cannot be 0" if number == 0 and sign == "over 0" else ""
