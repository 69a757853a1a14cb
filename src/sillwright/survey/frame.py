"""Where things roughly are in one opening: the places at which readings were taken.

These are coordinates of stations, not results: an error of an inch here moves an adjusted value by
thousandths. They are medians of what was read, so that one gross mistake does not shift them.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from statistics import median

from sillwright.job import Job, Opening, Readings, Shot
from sillwright.survey.observation import merge

UP = ("bottom", "middle", "top")
ACROSS = ("left", "centre", "right")


@dataclass(frozen=True, slots=True, kw_only=True)
class Frame:
    """Rough size and place of an opening, and the places of its usual readings [in]."""

    left: float
    right: float
    height: float
    near: float
    has_jacks: bool
    """Something was taped that tells the width."""
    position_known: bool
    """A jack was taped from the wall mark."""

    @property
    def across(self) -> tuple[float, float, float]:
        """Where heights are taped: near the left jack, centre, near the right jack."""
        return self.left + self.near, (self.left + self.right) / 2.0, self.right - self.near

    @property
    def up(self) -> tuple[float, float, float]:
        """Where widths are taped, above the sill: bottom, middle, top."""
        return self.near, self.height / 2.0, self.height - self.near

    def top_of(self, over_height: float) -> float:
        """Return the upper end of a lean read over a height from the bottom place; the top place if close."""
        top = self.near + over_height
        return self.up[2] if abs(top - self.up[2]) < 2.0 else top

    def stations_up(self, extra: Sequence[float]) -> tuple[float, ...]:
        """Return the heights at which a jack has unknowns: the three places and those of a plumb line."""
        apart = [h for h in extra if all(abs(h - own) > 3.0 for own in self.up)]
        return merge([*self.up, *apart], within=0.0)


def frame_of(job: Job, opening: Opening, shots: Iterable[Shot], *, excluded: frozenset[str]) -> Frame:
    """Return the rough frame of an opening from its readings, those in `excluded` left out."""
    name = opening.name
    widths = _values(
        excluded,
        *((getattr(opening.width, w), f"{name}.width.{w}") for w in UP),
        *((getattr(opening.width_inner, w), f"{name}.width_inner.{w}") for w in UP),
    )
    heights = _values(
        excluded,
        *((getattr(opening.height, h), f"{name}.height.{h}") for h in ACROSS),
        *((getattr(opening.height_inner, h), f"{name}.height_inner.{h}") for h in ACROSS),
    )
    left = _values(excluded, (opening.left_jack_x, f"{name}.left_jack_x"))
    right = _values(excluded, (opening.right_jack_x, f"{name}.right_jack_x"))
    places = [s.x for s in shots if s.x is not None]
    unit = next((u for u in job.unit if u.opening == name), None)
    width = median(widths) if widths else median(right) - median(left) if left and right else None
    height = (
        median(heights) if heights else _shot_height(job, name) or (unit.frame_height + 1.0 if unit else 80.0)
    )
    span = max(places) - min(places) if places else 0.0
    guess = width or (unit.frame_width + 1.0 if unit else span + 4.0 if span > 8.0 else 36.0)
    return Frame(
        left=(x := _left(left, right, width=guess, places=places)),
        right=x + guess,
        height=height,
        near=min(opening.near, guess / 4.0, height / 4.0),
        has_jacks=width is not None,
        position_known=bool(left or right),
    )


def _left(left: list[float], right: list[float], *, width: float, places: list[float]) -> float:
    """Return the left jack's place; where the two running readings disagree, the one its shots fit."""
    by_left, by_right = (median(left) if left else None), (median(right) - width if right else None)
    centre = (min(places) + max(places)) / 2.0 if places else None
    candidates = [x for x in (by_left, by_right) if x is not None]
    if not candidates:
        return centre - width / 2.0 if centre is not None else 0.0
    if len(candidates) == 1 or centre is None or abs(candidates[0] - candidates[1]) < 0.5:
        return sum(candidates) / len(candidates)
    return min(candidates, key=lambda x: abs(x + width / 2.0 - centre))


def _shot_height(job: Job, name: str) -> float | None:
    """Return head less sill from the shots of one set-up, where both were shot."""
    found = []
    for setup in job.setup:
        sill = [s.down[0].value for s in setup.series if s.sill == name]
        head = [s.down[0].value for s in setup.series if s.head == name]
        if sill and head:
            found.append(median(sill) - median(head))
    return median(found) if found else None


def _values(excluded: frozenset[str], *sources: tuple[Readings | None, str]) -> list[float]:
    found = []
    for readings, name in sources:
        for k, reading in enumerate(readings or ()):
            ident = name if len(readings or ()) == 1 else f"{name}.{k + 1}"
            if ident not in excluded:
                found.append(reading.value)
    return found
