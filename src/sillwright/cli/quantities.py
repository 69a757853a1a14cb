"""Lengths and loads as they are typed after an option: read, held against their limits, faults collected."""

from __future__ import annotations

import math
import re
from collections.abc import Callable
from dataclasses import dataclass, field

from sillwright.errors import BadInput, Fault
from sillwright.lengths import Unit, parse

FEET = "Write feet and inches, such as 11, 11 ft or 11' 6\"."
INCHES = 'Write inches, such as 16, 9 1/4 or 9 1/4".'
LOAD = "Write pounds to the square foot, such as 40 or 40 psf."
MILLIMETRES = "Write millimetres, such as 38 or 12.5, or inches with their mark: 1 1/2 in."
FORCE = "Write pounds, such as 300 or 300 lbf, or 1.3 kN."
LBF = {"": 1.0, "lb": 1.0, "lbs": 1.0, "lbf": 1.0, "n": 1.0 / 4.448222, "kn": 1.0 / 4.448222e-3}
"""NIST SP 811 (2008), app. B.8."""
_FORCE = re.compile(r"\s*([+-]?(?:\d+\.?\d*|\.\d+))\s*(lbf|lbs?|k?N)?\s*", re.IGNORECASE)
_LOAD = re.compile(r"\s*([+-]?(?:\d+\.?\d*|\.\d+))\s*(psf)?\s*", re.IGNORECASE)


def feet(text: str) -> float:
    """Return a length in feet; a bare number is feet.

    Raises:  BadInput: not a length
    """
    inches = _length(text, FEET)
    return inches if _bare(text) else inches / 12.0


def inches(text: str) -> float:
    """Return a length in inches; a bare number is inches.

    Raises:  BadInput: not a length
    """
    return _length(text, INCHES)


def millimetres(text: str) -> float:
    """Return a length in inches; a bare number is millimetres.

    Raises:  BadInput: not a length
    """
    return _length(text, MILLIMETRES, unit="mm")


def lbf(text: str) -> float:
    """Return a force in pounds.

    Raises:  BadInput: not a number, or with another unit
    """
    found = _FORCE.fullmatch(text)
    if found is None:
        raise BadInput(Fault("", f"'{text}' is not a force.", FORCE))
    return float(found[1]) * LBF[(found[2] or "").lower()]


def psf(text: str) -> float:
    """Return a load in pounds to the square foot.

    Raises:  BadInput: not a number, or with another unit
    """
    found = _LOAD.fullmatch(text)
    if found is None:
        raise BadInput(Fault("", f"'{text}' is not a load.", LOAD))
    return float(found[1])


def _length(text: str, advice: str, *, unit: Unit = "in") -> float:
    try:
        said = parse(text, unit=unit)
    except BadInput as error:
        raise BadInput(*(Fault("", fault.what, advice) for fault in error.faults)) from None
    if said.spread:
        raise BadInput(Fault("", f"'{text}' is a reading; here a plain length is needed.", advice))
    return said.value


def _bare(text: str) -> bool:
    """Tell whether a length has no unit: it then says something else, or nothing, on a metric tape."""
    try:
        return abs(parse(text).value - parse(text, unit="mm").value) > 1e-9
    except BadInput:
        return True


@dataclass(slots=True)
class Options:
    """Reads options one by one and keeps every fault, so that all are told at once."""

    faults: list[Fault] = field(default_factory=list)

    def take(
        self, read: Callable[[str], float], option: str, text: str, *, above: float = -math.inf, zero: bool
    ) -> float:
        """Return an option's value, or nan with its fault kept.

        Args:    zero: whether 0 may stand; above: it must not be below this
        """
        try:
            value = read(text)
        except BadInput as error:
            self.faults += [Fault(option, fault.what, fault.advice) for fault in error.faults]
            return math.nan
        if value < above or (value == 0 and not zero):
            limit = "0 or more" if zero else "above 0"
            self.faults.append(Fault(option, f"{text} cannot be used.", f"Give a number {limit}."))
            return math.nan
        return value

    def fault(self, option: str, what: str, advice: str) -> None:
        """Keep a fault of an option."""
        self.faults.append(Fault(option, what, advice))

    def done(self) -> None:
        """Raise every fault kept.

        Raises:  BadInput: there is one
        """
        if self.faults:
            raise BadInput(*self.faults)
