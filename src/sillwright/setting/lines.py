"""What each candidate level line would cost in one opening: pads, pieces, planing, risk.

For a given line everything at a bearing point follows: sill below it is padded, sill above it planed. So the
choice of a line is the choice of one row of these tables, and the MILP chooses rows together.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.special import ndtr

from sillwright.job import Kit, Tolerances
from sillwright.lengths import Unit, from_unit
from sillwright.setting.bearing import Bearings
from sillwright.setting.padding import Padding, padding
from sillwright.setting.rates import rates
from sillwright.setting.room import heads_over
from sillwright.setting.stock import Stock
from sillwright.survey import Wall

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]

MARKS = {"in": 1 / 32, "mm": from_unit(1, "mm")}
"""Lines are multiples of this above the datum, so that a tape can mark them [in]."""
FINE_MARKS = {"in": 1 / 128, "mm": from_unit(0.25, "mm")}
"""Where no mark serves: the least that a sharp pencil can set off [in]; common practice, no source."""
ABOVE = 0.5
"""Lines are tried up to the highest sill, two of the thickest shims and this [in]."""


@dataclass(frozen=True, slots=True, kw_only=True)
class HeadRoom:
    """Lines that leave a unit its head clearance, by the places of the head over it (h,)."""

    highest: Floats
    """Line at which the least clearance is exactly met at each place [in]."""
    sd: Floats
    lowest: float
    """Line below which the most clearance is exceeded somewhere [in]; minus infinity: not asked."""

    @property
    def highest_line(self) -> float:
        """Return the highest line of all; infinite where no head was read [in]."""
        return float(self.highest.min(initial=np.inf))

    def risk(self, lines: Floats) -> tuple[Floats, Floats]:
        """Return the chance (l,) that head room lacks: at the weakest place, and a bound over all."""
        if not len(self.highest):
            return np.zeros(len(lines)), np.zeros(len(lines))
        each = ndtr((lines[:, None] - self.highest) / np.maximum(self.sd, 1e-9))
        return each.max(axis=1), np.minimum(each.sum(axis=1), 1.0)


@dataclass(frozen=True, slots=True, kw_only=True)
class LineCosts:
    """Costs of one opening for each candidate line (l,), in minutes."""

    bearings: Bearings
    lines: Floats
    terms: dict[str, Floats]
    """Minutes by name of the objective's part."""
    counts: dict[str, Ints]
    """Pads, pieces and planed runs."""
    padding: Padding
    planed: NDArray[np.bool_]
    """Is the outer (first row) and the inner edge planed (e, l)."""
    made: NDArray[np.bool_]
    """The stock makes every pad."""
    feasible: NDArray[np.bool_]

    @property
    def minutes(self) -> Floats:
        """Return the sum of all parts (l,)."""
        return np.asarray(sum(self.terms.values()))


def head_room(wall: Wall, kit: Kit, bearings: Bearings) -> HeadRoom:
    """Return the lines that leave a unit its head clearance.

    The height of a unit not yet ordered follows from the line, so it does not bound it.
    """
    unit = bearings.unit
    over = heads_over(wall, bearings)
    none = np.zeros(0)
    if not len(over.z) or not unit.ordered:
        return HeadRoom(highest=none, sd=none, lowest=-np.inf)
    used = kit.stack_above_line + unit.frame_height
    most = unit.most_head_clearance
    lowest = -np.inf if most is None else float(over.z.max()) - used - most
    return HeadRoom(highest=over.z - used - unit.least_head_clearance, sd=over.sd, lowest=lowest)


def candidate_lines(
    groups: list[list[Bearings]], kit: Kit, tolerances: Tolerances, *, unit: Unit, far: bool = False
) -> Floats:
    """Return the lines worth trying, on the tape's marks above the datum.

    Each group of openings shares a line; those of a row that may step are groups of one. `far` tries lines as
    high as pads can be built, where only a head line could ask for them.
    """
    spans = [_marks(*_span(borne, kit, tolerances, far=far), MARKS[unit]) for borne in groups]
    return np.unique(np.concatenate(spans)) * MARKS[unit]


def _marks(low: float, high: float, mark: float) -> Floats:
    return np.arange(np.ceil(low / mark - 1e-6), np.floor(high / mark + 1e-6) + 1.0) + 0.0


def finer_lines(
    groups: list[list[Bearings]],
    kit: Kit,
    tolerances: Tolerances,
    rooms: list[HeadRoom],
    tops: list[float],
    *,
    unit: Unit,
) -> Floats:
    """Return lines between the tape's marks too, for a row that no mark serves: fine marks and exact bounds.

    `tops` are lines that a head line would ask for [in].
    """
    spans = [_span(borne, kit, tolerances, far=True) for borne in groups]
    borne = [b for group in groups for b in group]
    mark = FINE_MARKS[unit]
    grid = [_marks(low, high, mark) * mark for low, high in spans]
    exact = [b.highest - below(kit, tolerances) for b in borne]
    exact += [b.lowest + kit.largest_pad + tolerances.pad for b in borne]
    exact += [room.highest_line for room in rooms] + tops
    bounds = [v for v in exact if any(low - 1e-9 <= v <= high + 1e-9 for low, high in spans)]
    return np.unique(np.round(np.concatenate([*grid, bounds]), 9))


def _span(borne: list[Bearings], kit: Kit, tolerances: Tolerances, *, far: bool) -> tuple[float, float]:
    highest = [b.highest for b in borne]
    thickest = max(shim.thickness for shim in kit.shims)
    high = min(b.lowest for b in borne) + kit.largest_pad + tolerances.pad
    if not far:
        high = min(high, max(highest) + 2.0 * thickest + ABOVE)
    return min(highest) - below(kit, tolerances), high


def below(kit: Kit, tolerances: Tolerances) -> float:
    """Return how far a line may lie below the highest sill: by what may be planed, or what may stand [in]."""
    return max(kit.planing_max, tolerances.pad)


def line_costs(
    b: Bearings, lines: Floats, *, kit: Kit, tolerances: Tolerances, stock: Stock, room: HeadRoom
) -> LineCosts:
    """Return what each line costs in one opening."""
    pads = padding(lines, front=b.front, back=b.back, stock=stock, tolerance=tolerances.pad)
    edges = [sill for sill in (b.along_front, b.along_back) if sill is not None]
    cut = [_planing(b.along, sill, lines, tolerances.pad) for sill in edges]
    runs, length, depth = (sum(part[k] for part in cut) for k in range(3))
    deepest = np.max([part[2] for part in cut], axis=0)
    padded = (pads.front > 0) | (pads.back > 0)
    counts = {
        "pads": padded.sum(axis=1),
        "pieces": np.where(padded, pads.pieces, 0).sum(axis=1),
        "runs": np.asarray(runs),
    }
    weakest, any_place = room.risk(lines)
    made = np.asarray(pads.made.all(axis=1))
    feasible = made & (deepest <= kit.planing_max + 1e-9) & (lines <= room.highest_line + 1e-9)
    lowest = float(lines[feasible].min(initial=np.inf))
    back_miss = 0.0 if b.back is None else np.abs(pads.back_miss)
    quantity = {
        "pad": counts["pads"],
        "piece": counts["pieces"],
        "plane_run": runs,
        "plane_inch": length,
        "plane_depth": depth,
        "miss": (np.abs(pads.front_miss) + back_miss).sum(axis=1),
        "misfit": weakest,
        "unsure": any_place > 1.0 - tolerances.fit_probability,
        "lift": np.maximum(lines - lowest, 0.0) if np.isfinite(lowest) else np.zeros(len(lines)),
        "loose": lines < room.lowest - 1e-9,
    }
    minute = rates()
    terms = {name: minute[name] * np.asarray(amount, dtype=np.float64) for name, amount in quantity.items()}
    return LineCosts(
        bearings=b,
        lines=lines,
        terms=terms,
        counts=counts,
        padding=pads,
        planed=np.array([part[0] > 0 for part in cut]),
        made=made,
        feasible=feasible,
    )


def _planing(along: Floats, sill: Floats, lines: Floats, tolerance: float) -> tuple[Ints, Floats, Floats]:
    """Return, for each line: stretches of one edge to plane, their length, and the deepest cut.

    Each place stands for half the way to its neighbours.
    """
    half = np.diff(along) / 2.0
    reach = np.append(half, 0.0) + np.append(0.0, half)
    over = sill[None, :] - lines[:, None]
    high = over > tolerance + 1e-9
    starts = high.copy()
    starts[:, 1:] &= ~high[:, :-1]
    return starts.sum(axis=1), high @ reach, np.where(high, over, 0.0).max(axis=1)
