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


def drop_allowed(
    drop: float, *, egress: bool, side: Side, swings_over: bool, book: RuleBook | None = None
) -> bool:
    """Say whether a floor or landing may lie `drop` below the top of the threshold [in].

    Source:  IRC 2018, R311.3.1, R311.3.2
    """
    return drop <= most_drop(egress=egress, side=side, swings_over=swings_over, book=book).value + _ROUNDING


def landing_needed_outside(
    *, egress: bool, risers: int, door_over_stair: bool, book: RuleBook | None = None
) -> bool:
    """Say whether the exterior side needs a landing.

    Source:  IRC 2018, R311.3.2, exception: another exterior door with two risers or fewer, not over the stair
    """
    return egress or door_over_stair or risers > limit("landing.risers_without", book)


def landing_faults(
    *,
    door_width: float,
    landing_width: float,
    landing_length: float,
    fall_in_12: float,
    book: RuleBook | None = None,
) -> tuple[str, ...]:
    """Return what is wrong with a landing, by name; empty: nothing.

    Args:    door_width, landing_width, landing_length: in the direction of travel [in]; fall_in_12: fall over
             12 in [in]
    Source:  IRC 2018, R311.3: as wide as the door, 36 in long, sloped 1/4 in 12 at most
    """
    found = []
    if landing_width < door_width - _ROUNDING:
        found.append("landing_width")
    if landing_length < limit("landing.length", book) - _ROUNDING:
        found.append("landing_length")
    if fall_in_12 > limit("landing.slope", book) + _ROUNDING:
        found.append("landing_slope")
    return tuple(found)


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


def stair_faults(
    *, riser: float, tread: float, riser_spread: float, book: RuleBook | None = None
) -> tuple[str, ...]:
    """Return what is wrong with a flight of steps, by name; empty: nothing.

    Args:    riser: the tallest [in]; tread: the shortest [in]; riser_spread: tallest less lowest riser [in]
    Source:  IRC 2018, R311.7.5.1, R311.7.5.2
    """
    found = []
    if riser > limit("stair.riser", book) + _ROUNDING:
        found.append("riser")
    if tread < limit("stair.tread", book) - _ROUNDING:
        found.append("tread")
    if riser_spread > limit("stair.spread", book) + _ROUNDING:
        found.append("riser_spread")
    return tuple(found)


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
