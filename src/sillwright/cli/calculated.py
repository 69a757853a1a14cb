"""A calculation in words for a terminal: the answer, then each value with formula, inputs and source."""

from __future__ import annotations

from collections.abc import Iterator

from sillwright.cli.say import Words
from sillwright.inspection import EngineerSheet, EngineerValue

CALCULATE = "With --calculate the arithmetic is shown, for your engineer."


def calculated(sheet: EngineerSheet, *, values: bool = True) -> Iterator[Words]:
    """Yield one part of the structure by calculation.

    Args:    values: with every value, or the answer and what was taken alone
    """
    name = f"{sheet.subject[:1].upper()}{sheet.subject[1:]}"
    if sheet.refused:
        yield Words(f"{name}: no value; {sheet.refused}.", "stop", "STOP", 2)
    else:
        yield Words(f"{name}: {sheet.answer}.", indent=2)
    if values:
        for value in sheet.values:
            yield from _value(value)
    if sheet.taken:
        yield Words(f"Taken: {'; '.join(sheet.taken)}.", indent=2)


def _value(value: EngineerValue) -> Iterator[Words]:
    limit = f", {value.limit_text}" if value.limit_text else ""
    yield Words(f"{value.what}: {value.text}{limit}{judged(value)}", indent=4)
    given = "; ".join(f"{each.name} = {each.text}" for each in value.inputs)
    yield Words(". ".join(each for each in (value.formula, given, value.source) if each) + ".", indent=6)


def judged(value: EngineerValue) -> str:
    """Return how much of a capacity is used, that a limit is passed, that a value governs."""
    used = f" ({value.used})" if value.used else ""
    return used + (", governs" if value.governs else "")
