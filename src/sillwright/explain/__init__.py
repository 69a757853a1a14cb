"""Why a number of the plan is what it is.

Takes a job, its plan and the id of anything in the plan (a pad, a reading, a unit, the level line, an act's
number) and gives the answer in words, the formula, what went into it with its ±, and the source. Ids that do
not exist are refused with the nearest that do. Computes nothing that anybody acts on: it shows what the plan
holds. Knows nothing of pages and commands.
"""

from sillwright.explain.catalogue import KINDS, explain, idents
from sillwright.explain.model import Explanation, Given
from sillwright.explain.sill import LEAST_SHOWN, TERMS, times, ways
from sillwright.explain.words import above, percent, tape

__all__ = [
    "KINDS",
    "LEAST_SHOWN",
    "TERMS",
    "Explanation",
    "Given",
    "above",
    "explain",
    "idents",
    "percent",
    "tape",
    "times",
    "ways",
]
