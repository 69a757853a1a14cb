"""A calculation in words for its reader, your engineer: every value with formula, inputs, limit and source.

One form for a job's plan and for the commands that need no job. The formulas are those of American standards,
so numbers stay in their units; a metric reader has metric units beside.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import ceil, floor

from sillwright.inspection.model import MEMORY
from sillwright.lengths import Unit, show
from sillwright.structure import Input, Sheet, Worked

METRIC = {
    "in": ("mm", 25.4),
    "ft": ("m", 0.3048),
    "lbf": ("kN", 4.448222e-3),
    "psi": ("MPa", 6.894757e-3),
    "psf": ("kPa", 0.04788026),
    "lbf/ft": ("kN/m", 0.01459390),
    "lbf/in": ("kN/m", 0.1751268),
    "sq ft": ("m²", 0.09290304),
    "in lbf": ("N m", 0.1129848),
}
"""NIST SP 811 (2008), app. B.8."""
_WHOLE = 100.0
"""From here on, a number is shown without decimals."""


@dataclass(frozen=True, slots=True, kw_only=True)
class EngineerInput:
    """What went into a value."""

    name: str
    text: str


@dataclass(frozen=True, slots=True, kw_only=True)
class EngineerValue:
    """One value of a calculation."""

    id: str
    what: str
    number: float
    unit: str
    """Of number and limit, as the formula has it; empty: none."""
    text: str
    """Number with its unit, and in metric units beside in a metric job."""
    limit: float | None
    limit_text: str
    """Empty: it is held against nothing."""
    use: float | None
    """Demand over capacity: more than 1 does not do."""
    used: str
    """The same in words: 87%, 109%: too much, too little; empty: nothing to say."""
    met: bool
    governs: bool
    formula: str
    inputs: tuple[EngineerInput, ...]
    source: str
    from_memory: bool
    """Something of its source was not read in print."""


@dataclass(frozen=True, slots=True, kw_only=True)
class EngineerSheet:
    """One part of the structure by calculation; no permission to build, and no check of the code."""

    id: str
    subject: str
    answer: str
    """Empty where there is none."""
    refused: str
    """Why there is no answer; empty: there is one."""
    values: tuple[EngineerValue, ...]
    taken: tuple[str, ...]
    """What is taken for granted."""
    note: str
    """For whom it is."""


def told(
    sheet: Sheet, *, ident: str, units: Unit, subject: str = "", taken: tuple[str, ...] = ()
) -> EngineerSheet:
    """Return a calculation in words.

    Args:    ident: of the sheet, its values' ids begin with it; subject: instead of the sheet's own; taken:
        what else was taken for granted
    """
    return EngineerSheet(
        id=ident,
        subject=subject or sheet.subject,
        answer=_answer(sheet, units),
        refused=sheet.refused,
        values=tuple(_value(each, sheet, ident, units) for each in sheet.values),
        taken=(*sheet.taken, *taken),
        note=sheet.note,
    )


def quantity(value: float, unit: str, *, units: Unit) -> str:
    """Return a number with its unit, and in metric units beside where the reader is metric."""
    plain = f"{_figure(value)} {unit}".strip()
    if units == "in" or unit not in METRIC:
        return plain
    name, factor = METRIC[unit]
    return f"{plain} ({_figure(value * factor)} {name})"


def _answer(sheet: Sheet, units: Unit) -> str:
    if not sheet.phrase:
        return sheet.verdict
    main = sheet.value(sheet.main)
    if main.unit == "in":
        text = _length(main.value, units, up=sheet.phrase.startswith("at least"))
    else:
        text = quantity(main.value, main.unit, units=units)
    return f"{sheet.phrase.format(text)}; {sheet.verdict}"


def _length(length: float, units: Unit, *, up: bool) -> str:
    """Return a length [in] to the mark of the tape below, or above, so that what is shown may stand."""
    mark = 1 / 16 if units == "in" else 1 / 25.4
    marks = ceil(length / mark - 1e-9) if up else floor(length / mark + 1e-9)
    return show(marks * mark, unit=units, mark=True)


def _value(each: Worked, sheet: Sheet, ident: str, units: Unit) -> EngineerValue:
    limit = ""
    if each.limit is not None:
        limit = f"{'at least' if each.at_least else 'at most'} {quantity(each.limit, each.unit, units=units)}"
    return EngineerValue(
        id=f"{ident}.{each.key}",
        what=each.what,
        number=each.value,
        unit=each.unit,
        text=quantity(each.value, each.unit, units=units),
        limit=each.limit,
        limit_text=limit,
        use=each.use,
        used=_used(each),
        met=each.met,
        governs=each.key == sheet.governs,
        formula=each.formula,
        inputs=tuple(_input(one, units) for one in each.inputs),
        source=each.source,
        from_memory=MEMORY in each.source,
    )


def _used(each: Worked) -> str:
    if each.use is None:
        return ""
    if each.at_least:
        return "" if each.met else "too little"
    return f"{100.0 * each.use:.0f}%" + ("" if each.met else ": too much")


def _input(given: Input, units: Unit) -> EngineerInput:
    text = given.value if isinstance(given.value, str) else quantity(given.value, given.unit, units=units)
    return EngineerInput(name=given.name, text=text)


def _figure(value: float) -> str:
    if abs(value) >= _WHOLE:
        return f"{value:,.0f}"
    return f"{value:.3f}".rstrip("0").rstrip(".") if abs(value) < 10.0 else f"{value:.4g}"
