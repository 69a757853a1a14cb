"""How lengths of a plan read on drawings and pages: the job's unit, a tape's graduations, ± at 95 %.

Nothing is computed here but the last rounding before the eye; a ± is rounded up, so that it never reads
smaller than it is.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from sillwright.lengths import Unit, from_unit, show, to_unit

SD_TO_95 = 1.96
"""Standard normal quantile of 0.975, two-sided 95 %. NIST/SEMATECH e-Handbook 1.3.6.7.1 (from memory)."""
_PLACE: dict[Unit, float] = {"in": 1 / 16, "mm": 1.0}
_FINE: dict[Unit, float] = {"in": 1 / 32, "mm": 0.5}
_SPREAD: dict[Unit, float] = {"in": 1 / 32, "mm": 0.1}


@dataclass(frozen=True, slots=True)
class Figures:
    """Writes lengths [in] the way a job's people read them."""

    unit: Unit

    def place(self, length: float) -> str:
        """Return a position or size to a tape's mark: 1/16 in or 1 mm."""
        return show(length, unit=self.unit, graduation=_PLACE[self.unit])

    def fine(self, length: float) -> str:
        """Return a thickness or clearance to 1/32 in or half a millimetre."""
        return _whole(show(length, unit=self.unit, graduation=_FINE[self.unit]))

    def signed(self, length: float) -> str:
        """Return a difference to 1/32 in or half a millimetre, with its sign."""
        text = self.fine(length)
        return text if text.startswith("-") or text == "0" else f"+{text}"

    def band(self, sd: float) -> str:
        """Return ± at 95 % of a standard deviation [in], rounded up to 1/32 in or 0.1 mm."""
        step = from_unit(_SPREAD[self.unit], self.unit)
        up = math.ceil(SD_TO_95 * sd / step - 1e-6) * step
        return f"±{_whole(show(up, unit=self.unit, graduation=_SPREAD[self.unit]))}"

    def close_band(self, sd: float) -> str:
        """Return ± at 95 % of a standard deviation [in] in decimals, to compare two that are close."""
        return f"±{self.decimal(SD_TO_95 * sd)}"

    def decimal(self, length: float) -> str:
        """Return a small length in decimals of the unit: thousandths of an inch, tenths of a millimetre."""
        text = f"{to_unit(length, self.unit):.{3 if self.unit == 'in' else 2}f}"
        return "0" if not text.strip("-0.") else text

    def size(self, width: float, height: float) -> str:
        """Return width x height."""
        return f"{self.place(width)} × {self.place(height)}"

    @property
    def mark(self) -> str:
        """The unit's word after a number."""
        return self.unit


def _whole(text: str) -> str:
    return text.removesuffix(".0")


def chance(probability: float) -> str:
    """Return a probability as people say it, never as a certainty: 97 %, 99.7 %, above 99.9 %."""
    if probability > 0.9995:
        return "above 99.9 %"
    if probability < 0.001:
        return "below 0.1 %"
    digits = 1 if probability > 0.985 or probability < 0.015 else 0
    return f"{_whole(f'{100 * probability:.{digits}f}')} %"
