"""The model code at a door: how far floor and landing may lie below the threshold, and the landing itself.

Every limit is that of the rule book given; without one, that of the 2018 edition.
"""

from __future__ import annotations

from itertools import pairwise
from math import ceil
from typing import Literal

from sillwright.errors import OutOfRange
from sillwright.heights.limits import Limit, limit, the_limit
from sillwright.rules import RuleBook

Side = Literal["inside", "outside"]
_ROUNDING = 1e-9


def most_drop(*, egress: bool, side: Side, swings_over: bool, book: RuleBook | None = None) -> Limit:
    """Return how far floor or landing may lie below the top of the threshold [in].

    Args:    egress: the required egress door; side: of the wall; swings_over: the door swings over that side
    Source:  IRC 2018, R311.3.1 (required egress door), R311.3.2 (others). Whether another door may swing over
             a drop is read both ways; the text itself does not forbid it.
    """
    if not egress:
        return the_limit("threshold.other", book)
    high = side == "outside" and not swings_over
    return the_limit("threshold.egress_no_swing" if high else "threshold.egress", book)


def guard_needed(profile: tuple[tuple[float, float], ...], *, book: RuleBook | None = None) -> bool:
    """Say whether the drop beside a walking surface needs a guard.

    Args:    profile: distance out from the edge and drop there, both [in], going out; straight between,
             and the last drop holds beyond the last place
    Source:  IRC 2018, R312.1.1: more than 30 in at any point within 36 in out from the edge
    """
    within, most = limit("guard.drop_within", book), limit("guard.drop", book)
    near = [drop for out, drop in profile if out <= within]
    for (out, drop), (further, deeper) in pairwise(profile):
        if out <= within < further:
            near.append(drop + (deeper - drop) * (within - out) / (further - out))
    return any(drop > most + _ROUNDING for drop in near)


def even_risers(rise: float, *, book: RuleBook | None = None) -> tuple[int, float]:
    """Return how many equal risers a height needs, and the height of each [in].

    Args:    rise: from the lower to the upper walking surface, at least 0 [in]
    Raises:  OutOfRange: rise is negative
    Source:  IRC 2018, R311.7.5.1: 7 3/4 in at most
    """
    if rise < 0:
        raise OutOfRange(f"a rise of {rise:g} in goes down; give the upper surface less the lower one")
    count = max(1, ceil(rise / limit("stair.riser", book) - _ROUNDING))
    return count, rise / count
