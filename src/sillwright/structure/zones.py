"""Heights at which both rows of fasteners may stand: where ledger and band joist both allow them.

A band joist is often not level while the ledger is: the zones are taken at every place along the wall.
Heights z are from the job's datum, x along the ledger from its left end, all in inches.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from sillwright.errors import BadInput, Fault
from sillwright.structure.given import need_positive
from sillwright.structure.ledger import Distances
from sillwright.structure.tables import refuse


@dataclass(frozen=True, slots=True, kw_only=True)
class BandAt:
    """The band joist at one place; straight lines between places."""

    x: float
    bottom: float
    top: float

    def __post_init__(self) -> None:
        need_positive(band_depth=self.top - self.bottom)


@dataclass(frozen=True, slots=True, kw_only=True)
class RowZone:
    """Least and greatest heights of the two rows at one place."""

    x: float
    low: tuple[float, float]
    high: tuple[float, float]
    reason: str = ""
    """Why two rows do not fit here; empty where they do."""

    @property
    def fits(self) -> bool:
        """Tell whether both rows have a place."""
        return not self.reason


@dataclass(frozen=True, slots=True, kw_only=True)
class Ledger:
    """A level ledger: its top edge, its depth, and the distances that hold in it and in the band."""

    top: float
    depth: float
    in_ledger: Distances
    in_band: Distances

    def __post_init__(self) -> None:
        need_positive(ledger_depth=self.depth)


@dataclass(frozen=True, slots=True, kw_only=True)
class StepRange:
    """How high and how low the ledger's top may lie so that both rows fit everywhere."""

    lowest_top: float
    highest_top: float

    @property
    def possible(self) -> bool:
        """Tell whether any height does."""
        return self.lowest_top <= self.highest_top + 1e-9

    def largest_step(self, level: float) -> float:
        """Return the largest step from a level (a floor, a threshold) down to the ledger's top [in]."""
        return level - self.lowest_top


def band_at(band: Sequence[BandAt], x: float) -> BandAt:
    """Return the band joist at a place: on the straight line between its stations, level beyond them."""
    _in_order(band)
    if x <= band[0].x or len(band) == 1:
        return BandAt(x=x, bottom=band[0].bottom, top=band[0].top)
    for a, b in pairwise(band):
        if x <= b.x:
            t = (x - a.x) / (b.x - a.x)
            return BandAt(x=x, bottom=a.bottom + (b.bottom - a.bottom) * t, top=a.top + (b.top - a.top) * t)
    return BandAt(x=x, bottom=band[-1].bottom, top=band[-1].top)


def row_zone(ledger: Ledger, band: BandAt) -> RowZone:
    """Return where the two rows may stand at one place.

    Low row: above ledger bottom + 3/4 and band bottom + 2, under ledger top - 5-1/2 (6-1/2, 7-1/2) and band
    top - 3/4. High row: 1-5/8 to 5 in above it, under ledger top - 2 and band top - 3/4.

    Source: IRC 2018 Table R507.9.1.3(2) and figure; the numbers come with `Distances`
    """
    led, ban = ledger.in_ledger, ledger.in_band
    under_band = band.top - ban.top_edge
    low_min = max(ledger.top - ledger.depth + led.bottom_edge, band.bottom + ban.bottom_edge)
    low_max = min(ledger.top - led.low_row_from_top, under_band)
    high_max = min(ledger.top - led.top_edge, under_band, low_max + min(led.rows_most, ban.rows_most))
    apart = max(led.rows_least, ban.rows_least)
    low_max = min(low_max, high_max - apart)
    reason = ""
    if low_min > low_max + 1e-9:
        reason = (
            f"the low row would have to be above {low_min:g} and under {low_max:g}: ledger and band joist "
            "overlap too little for two rows"
        )
    return RowZone(x=band.x, low=(low_min, low_max), high=(low_min + apart, high_max), reason=reason)


def zones(ledger: Ledger, band: Sequence[BandAt], *, length: float) -> tuple[RowZone, ...]:
    """Return the zone at both ends and at every station between; linear limits, so these are enough."""
    need_positive(length=length)
    places = sorted({0.0, length, *(b.x for b in band if 0.0 < b.x < length)})
    return tuple(row_zone(ledger, band_at(band, x)) for x in places)


def step_range(ledger: Ledger, band: Sequence[BandAt], *, length: float) -> StepRange:
    """Return the heights of the ledger's top at which both rows fit along the wall; its own top is ignored.

    Lowest: band bottom + 2 + the greater of the low row's distance and rows + 2. Highest: the low row 3/4
    above the ledger's bottom, with the high row 3/4 under the band's top. The worst place sets each.

    Raises: OutOfRange: the band joist is too shallow for two rows at any height
    """
    led, ban = ledger.in_ledger, ledger.in_band
    apart = max(led.rows_least, ban.rows_least)
    rise = max(led.low_row_from_top, apart + led.top_edge)
    bands = [band_at(band, zone.x) for zone in zones(ledger, band, length=length)]
    shallow = min(b.top - b.bottom for b in bands)
    if shallow < ban.bottom_edge + apart + ban.top_edge - 1e-9:
        needed = ban.bottom_edge + apart + ban.top_edge
        raise refuse(f"a band joist {shallow:g} in deep has no room for two rows, which need {needed:g} in")
    drop = ledger.depth - led.bottom_edge - ban.top_edge - apart
    return StepRange(
        lowest_top=max(b.bottom for b in bands) + ban.bottom_edge + rise,
        highest_top=min(b.top for b in bands) + drop,
    )


def failing(ledger: Ledger, band: Sequence[BandAt], *, length: float) -> tuple[tuple[float, float], ...]:
    """Return the stretches of wall in which two rows do not fit, from x to x, to 1/8 in."""
    steps = max(1, round(length * 8))
    bad = [not row_zone(ledger, band_at(band, k * length / steps)).fits for k in range(steps + 1)]
    found: list[tuple[float, float]] = []
    start: int | None = None
    for k, wrong in enumerate([*bad, False]):
        if wrong and start is None:
            start = k
        elif not wrong and start is not None:
            found.append((start * length / steps, (k - 1) * length / steps))
            start = None
    return tuple(found)


def _in_order(band: Sequence[BandAt]) -> None:
    if not band or any(a.x >= b.x for a, b in pairwise(band)):
        raise BadInput(
            Fault("band", "its places are missing or not in order.", "Give them from left to right.")
        )
