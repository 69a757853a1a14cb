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
from sillwright.setting.bearing import Bearings
from sillwright.setting.rates import rates
from sillwright.setting.stock import UNREACHED, Stock
from sillwright.survey import Wall, plus

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]


@dataclass(frozen=True, slots=True, kw_only=True)
class LineCosts:
    """Costs of one opening for each candidate line (l,), in minutes."""

    bearings: Bearings
    lines: Floats
    terms: dict[str, Floats]
    """Minutes by name of the objective's part."""
    counts: dict[str, Ints]
    """Pads, pieces and planed runs."""
    planed: NDArray[np.bool_]
    """Is the outer (first row) and the inner edge planed (e, l)."""
    feasible: NDArray[np.bool_]

    @property
    def minutes(self) -> Floats:
        """Return the sum of all parts (l,)."""
        return np.asarray(sum(self.terms.values()))


@dataclass(frozen=True, slots=True, kw_only=True)
class HeadRoom:
    """Room above a unit, before the line is known: head less demanded clearance, unit and stack."""

    highest_line: float
    """Line at which the head clearance is exactly met [in]; infinite where no head was read."""
    sd: float
    where: float
    """x of the governing place [in]."""


def head_room(wall: Wall, kit: Kit, bearings: Bearings) -> HeadRoom:
    """Return the highest line that leaves a unit its head clearance.

    The height of a unit not yet ordered follows from the line, so it does not bound it.
    """
    net, unit = bearings.net, bearings.unit
    heads = [h for h in (net.head, net.head_inner) if h is not None]
    if not heads or not unit.ordered:
        return HeadRoom(highest_line=float("inf"), sd=0.0, where=bearings.left)
    used = kit.stack_above_line + unit.frame_height + unit.least_head_clearance
    best = HeadRoom(highest_line=float("inf"), sd=0.0, where=0.0)
    for head in heads:
        ends = (bearings.left, bearings.left + unit.frame_width)
        inside = [s for s in head.stations if ends[0] < s < ends[1]]
        for x in (*ends, *inside):
            room = wall.value(head.at(x)) - used
            if room < best.highest_line:
                above_sill = plus((1.0, head.at(x)), (-1.0, net.sill.at(x)))
                best = HeadRoom(highest_line=room, sd=wall.sd(above_sill), where=x)
    return best


def candidate_lines(costed: list[Bearings], kit: Kit, rooms: list[HeadRoom], *, step: float) -> Floats:
    """Return the lines worth trying for openings that may share one: multiples of the stock's step.

    The exact bounds are added, so that a row with room for no multiple is not called impossible.
    """
    highest = max(_highest(b) for b in costed)
    low = min(_highest(b) for b in costed) - kit.planing_max
    high = min(min(_lowest(b) for b in costed) + kit.largest_pad, highest + 12.0 * step + 0.25)
    grid = np.arange(np.ceil(low / step - 1e-9), np.floor(high / step + 1e-9) + 1.0) * step
    exact = [highest - kit.planing_max, *(room.highest_line for room in rooms)]
    bounds = [value for value in exact if low - 1e-9 <= value <= high + 1e-9]
    return np.unique(np.round(np.concatenate([grid, bounds]), 9))


def _highest(b: Bearings) -> float:
    return float(max(b.along_front.max(), b.along_back.max() if b.along_back is not None else -np.inf))


def _lowest(b: Bearings) -> float:
    return float(min(b.front.min(), b.back.min() if b.back is not None else np.inf))


def line_costs(
    b: Bearings, lines: Floats, *, kit: Kit, tolerances: Tolerances, stock: Stock, room: HeadRoom
) -> LineCosts:
    """Return what each line costs in one opening."""
    front_steps, front_miss = steps_to(lines, b.front, stock.step)
    back = b.front if b.back is None else b.back
    back_steps, back_miss = steps_to(lines, back, stock.step)
    inside = (front_steps <= stock.steps) & (back_steps <= stock.steps)
    pieces = stock.pieces[np.minimum(front_steps, stock.steps), np.minimum(back_steps, stock.steps)].astype(np.int64)
    tolerance = max(tolerances.pad, stock.step / 2.0) + 1e-9
    built = inside & (pieces < UNREACHED) & (front_miss <= tolerance) & (back_miss <= tolerance)
    cut = [_planing(b.along, sill, lines, tolerances.pad) for sill in (b.along_front, b.along_back) if sill is not None]
    runs, length, depth = (sum(part[k] for part in cut) for k in range(3))
    deepest = np.max([part[2] for part in cut], axis=0)
    minute = rates()
    padded = (front_steps > 0) | (back_steps > 0)
    counts = {"pads": padded.sum(axis=1), "pieces": np.where(padded, pieces, 0).sum(axis=1), "runs": runs}
    terms = {
        "pad": minute["pad"] * counts["pads"],
        "piece": minute["piece"] * counts["pieces"],
        "plane_run": minute["plane_run"] * runs,
        "plane_inch": minute["plane_inch"] * length,
        "plane_depth": minute["plane_depth"] * depth,
        "miss": minute["miss"] * (front_miss + back_miss).sum(axis=1),
        "misfit": minute["misfit"] * (1.0 - _room_odds(lines, room)),
    }
    enough_room = lines <= room.highest_line + 1e-9
    planed = np.array([part[0] > 0 for part in cut])
    feasible = built.all(axis=1) & (deepest <= kit.planing_max + 1e-9) & enough_room
    return LineCosts(bearings=b, lines=lines, terms=terms, counts=counts, planed=planed, feasible=feasible)


def steps_to(lines: Floats, sill: Floats, step: float) -> tuple[Ints, Floats]:
    """Return the pad steps from sill to each line, and what they miss it by (l, p).

    Where the sill is above the line it will be planed to it: no pad, and nothing missed.
    """
    gap = lines[:, None] - sill[None, :]
    steps = np.maximum(np.rint(gap / step), 0.0)
    miss = np.where(gap < 0.0, 0.0, np.abs(gap - steps * step))
    return steps.astype(np.int64), miss


def _planing(along: Floats, sill: Floats, lines: Floats, tolerance: float) -> tuple[Ints, Floats, Floats]:
    """Return, for each line: stretches of one edge to plane, their length, and the deepest cut."""
    reach = np.gradient(along) if len(along) > 1 else np.array([8.0])
    over = sill[None, :] - lines[:, None]
    high = over > tolerance
    starts = high.copy()
    starts[:, 1:] &= ~high[:, :-1]
    return starts.sum(axis=1), high @ reach, np.where(high, over, 0.0).max(axis=1)


def _room_odds(lines: Floats, room: HeadRoom) -> Floats:
    if not np.isfinite(room.highest_line):
        return np.ones(len(lines))
    return np.asarray(ndtr((room.highest_line - lines) / max(room.sd, 1e-9)))
