"""What a map of water shows of a place: verdict, bond, the weakest way; from the verdicts or from a plan."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from sillwright.drawing.figures import Figures
from sillwright.flashing import WaterPlan
from sillwright.water import Verdict, Water

_ORDER = (Verdict.OPEN, Verdict.HELD, Verdict.SHEDS)


@dataclass(frozen=True, slots=True, kw_only=True)
class Seen:
    """A place with its verdict at the design head."""

    place: str
    words: str
    verdict: Verdict
    bond: float | None
    """Least bond on the way [in]; None: no way."""
    way: tuple[tuple[str, tuple[tuple[float, float, float], ...]], ...]
    """The weakest way, a stretch for each face: the face, and points x, y inward, z [in]."""
    sentence: str

    @property
    def ref(self) -> str:
        """Return what a tap on the place opens."""
        return f"water.{self.place}"

    def told(self, figures: Figures) -> str:
        """Return the verdict in a word, with the bond that holds."""
        if self.verdict is Verdict.HELD:
            return f"held {figures.place(self.bond or 0.0)}"
        return str(self.verdict.value)


def seen_in_water(water: Water) -> tuple[Seen, ...]:
    """Return the places of verdicts."""
    return tuple(
        Seen(
            place=each.place,
            words=each.words,
            verdict=each.at_head,
            bond=each.bond_in,
            way=tuple((step.facet, step.points) for step in each.way.steps) if each.way else (),
            sentence=each.way.sentence if each.way else "",
        )
        for each in water.places
    )


def seen_in_plan(plan: WaterPlan) -> tuple[Seen, ...]:
    """Return the places of a water plan."""
    return tuple(
        Seen(
            place=each.place,
            words=each.words,
            verdict=Verdict(each.at_head),
            bond=each.bond,
            way=tuple((step.facet, step.points) for step in each.steps),
            sentence=each.way,
        )
        for each in plan.places
    )


def weakest(places: Iterable[Seen]) -> Seen | None:
    """Return the place that water gets to most easily; None: they all shed."""
    wet = [each for each in places if each.verdict is not Verdict.SHEDS]
    return min(wet, key=_ease, default=None)


def worst(places: Iterable[Seen]) -> Seen | None:
    """Return the place with the worst verdict, of those alike the one with the least bond; None: no place."""
    return min(places, key=_ease, default=None)


def _ease(place: Seen) -> tuple[int, float]:
    return _ORDER.index(place.verdict), place.bond or 0.0


def of_opening(places: Iterable[Seen], opening: str) -> list[Seen]:
    """Return the places of an opening: its returns, the wall round it, the room behind it."""
    return [each for each in places if each.place.removeprefix("room.").startswith(f"{opening}.")]
