"""How surely a unit fits: the chance that it finds all the room it needs, at once."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.special import ndtr

from sillwright.job import Kit, UnitToSet
from sillwright.setting.bearing import Bearings
from sillwright.setting.model import Clearance, Fit
from sillwright.setting.room import Meeting, stack_height
from sillwright.survey import Terms, plus, probability_all_above

Floats = NDArray[np.float64]

RARE = 1e-8
"""Chance to fail below which a need is left out of the joint chance, if it is not the weakest."""
HOPELESS = 1.0 - 1e-7
"""Chance of the weakest need alone to fail, above which it is the answer: all hold even less often."""
POINTS = 1024
"""Lattice points: within 1e-4 of 60,000 points for the examples of this project."""
MOST = 40
"""Needs judged together, the weakest first."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Needs:
    """Rooms that must all be at least nothing (k,), wherever along its opening a unit fits best.

    A plumb frame of width w with clearance c on both sides fits where every right-hand point of the opening
    is at least w + 2c from every left-hand point; so crossed, leaning and bowed jacks count with each other.
    """

    meeting: Meeting
    rows: Floats
    """Coefficients over the meeting points (k, m)."""
    constant: Floats
    what: tuple[str, ...]

    @property
    def mean(self) -> Floats:
        """Return the expected room of each need (k,) [in]."""
        return np.asarray(self.rows @ self.meeting.mean + self.constant)

    @property
    def covariance(self) -> Floats:
        """Return the covariance of the needs (k, k) [in2]."""
        return np.asarray(self.rows @ self.meeting.covariance @ self.rows.T)

    def form(self, k: int) -> Terms:
        """Return one need as a linear form over the wall's unknowns, without its constant."""
        used = np.flatnonzero(self.rows[k])
        return plus(*((float(self.rows[k, i]), self.meeting.forms[i]) for i in used))

    def weakest(self) -> int:
        """Return which need is most likely to fail; of equals the first."""
        return int(np.argmax(_failing(self.mean, self.covariance) - 1e-12 * np.arange(len(self.constant))))


def needs(found: Meeting, kit: Kit, unit: UnitToSet, *, line: float, trimmed: float) -> Needs:
    """Return all that a unit needs to fit on a line, with so much cut off its jacks [in]."""
    rows: list[tuple[int, int | None]] = [(r, l) for l, _ in found.left for r, _ in found.right]  # noqa: E741
    what = [
        f"width, left jack {low} to right jack {high}" for _, low in found.left for _, high in found.right
    ]
    taken = unit.frame_width + 2.0 * unit.least_side_clearance - trimmed
    constant = [-taken] * len(rows)
    for (i, where), sill in zip(found.head, found.head_sill, strict=True):
        # the unit stands on pads of known thickness over the sill as it is, so head less sill counts
        rows.append((i, None))
        what.append(f"head room {where}")
        constant.append(float(sill) - line - unit.frame_height - stack_height(kit, unit))
    matrix = np.zeros((len(rows), len(found.mean)))
    for k, (plus_one, minus_one) in enumerate(rows):
        matrix[k, plus_one] = 1.0
        if minus_one is not None:
            matrix[k, minus_one] -= 1.0
    return Needs(meeting=found, rows=matrix, constant=np.array(constant), what=tuple(what))


def odds(asked: Needs) -> float:
    """Return the probability that all needs are met at once."""
    mean, covariance = asked.mean, asked.covariance
    failing = _failing(mean, covariance)
    order = np.argsort(-failing, kind="stable")[:MOST]
    if failing[order[0]] > HOPELESS:
        return float(1.0 - failing[order[0]])
    kept = np.sort([k for n, k in enumerate(order) if n == 0 or failing[k] > RARE])
    block = covariance[np.ix_(kept, kept)]
    found = probability_all_above(mean[kept], block, np.zeros(len(kept)), points=POINTS)
    return min(max(found, 0.0), 1.0)


def fit(asked: Needs, *, probability: float | None = None) -> Fit | None:
    """Return how surely a unit fits; None where nothing is determined.

    `probability` spares the joint chance where it is known already.
    """
    if not asked.what:
        return None
    chance = odds(asked) if probability is None else probability
    known = (("room at the sides", asked.meeting.left), ("head room", asked.meeting.head))
    missing = tuple(what for what, points in known if not points)
    return Fit(probability=chance, governed_by=asked.what[asked.weakest()], not_determined=missing)


def _failing(mean: Floats, covariance: Floats) -> Floats:
    """Return the chance of each room to be less than nothing (k,)."""
    sd = np.sqrt(np.maximum(np.diag(covariance), 0.0))
    return np.asarray(ndtr(-mean / np.maximum(sd, 1e-12)))


def clearances(
    found: Meeting, unit: UnitToSet, kit: Kit, *, left: float | None, line: float, trimmed: dict[str, float]
) -> dict[str, Clearance]:
    """Return the least room on each side of a unit in its place, with its standard deviation and place.

    Args: left: left side of the frame along the wall; None: not known [in]
    """
    rooms: dict[str, list[tuple[float, int, str]]] = {"left": [], "right": [], "head": []}
    if left is not None:
        cut_left, cut_right = trimmed.get("left", 0.0), trimmed.get("right", 0.0)
        rooms["left"] = [(left + cut_left - found.mean[i], i, where) for i, where in found.left]
        right = left + unit.frame_width
        rooms["right"] = [(found.mean[i] + cut_right - right, i, where) for i, where in found.right]
    used = line + kit.stack_above_line + unit.frame_height
    rooms["head"] = [
        (found.mean[i] + sill - used, i, where)
        for (i, where), sill in zip(found.head, found.head_sill, strict=True)
    ]
    result = {}
    for side, points in rooms.items():
        if points:
            least, index, where = min(points, key=lambda point: round(point[0], 9))
            result[side] = Clearance(
                least=float(least), sd=found.sd(index), where=where, demanded=demanded(unit, side)
            )
    return result


def demanded(unit: UnitToSet, side: str) -> float:
    """Return the clearance a unit asks for on a side [in]."""
    return unit.least_head_clearance if side == "head" else unit.least_side_clearance


def governing_form(found: Meeting, kit: Kit, bearings: Bearings, *, line: float) -> tuple[Terms, str]:
    """Return the need most likely to fail, as a linear form over the wall's unknowns and in words."""
    asked = needs(found, kit, bearings.unit, line=line, trimmed=0.0)
    k = asked.weakest()
    return asked.form(k), asked.what[k]
