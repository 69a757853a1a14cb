"""The opening's own checks: safety glazing, escape, falls, landing, stair, guard, header, heat, fire.

From `OpeningFacts` (None is unknown) and a rule book to findings with value, limit and source, by the engine
of `rules`. Every check is in `CHECKS`: data, and one small function beside the clause it applies. Knows
nothing of readings, pads or drawings.
"""

from sillwright.opening.checks import CHECKS, check_opening, examine_opening
from sillwright.opening.escape import clear_area_sqft, is_grade_floor
from sillwright.opening.facts import OpeningFacts
from sillwright.opening.guard import largest_drop

__all__ = [
    "CHECKS",
    "OpeningFacts",
    "check_opening",
    "clear_area_sqft",
    "examine_opening",
    "is_grade_floor",
    "largest_drop",
]
