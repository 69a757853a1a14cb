"""The way of water in one sentence, in the job's unit."""

from __future__ import annotations

from itertools import groupby

from sillwright.lengths import Unit, show
from sillwright.water.ways import Step, Way

LEAST = 1.0 / 64
"""Less bond than this on a stretch is not told [in]."""
_GRADUATION: dict[Unit, float] = {"in": 1 / 16, "mm": 1.0}


def sentence(way: Way, units: Unit) -> str:
    """Return how water gets to a place: where it comes in, what it runs under, what it reaches."""
    layers = [
        _layer(under, list(steps), units) for under, steps in groupby(way.steps, lambda step: step.under)
    ]
    reached = "into the" if way.goal.startswith("room") else "onto the"
    return f"{', '.join([f'From {way.start}', *layers])}, {reached} {way.goal}."


def _layer(under: str | None, steps: list[Step], units: Unit) -> str:
    """Return one layer: all that water crosses under the same piece."""
    faces = list(dict.fromkeys(step.facet_words for step in steps))
    if under is None:
        return f"in the open over the {' and the '.join(faces)}"
    bond = sum(step.bond_in for step in steps)
    held = show(bond, unit=units, graduation=_GRADUATION[units], mark=True)
    said = f" ({held} of bond)" if bond >= LEAST else ""
    return f"under the {under}{said}" if faces == ["wall"] else f"under the {under} on the {faces[-1]}{said}"
