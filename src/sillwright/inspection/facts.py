"""What the job, the adjusted wall and the setting plan say about a deck: places, doors, what was not said."""

from __future__ import annotations

from dataclasses import dataclass

from sillwright.heights import Place, Swing
from sillwright.job import Deck, Job, UnitToSet
from sillwright.setting import Setting
from sillwright.setting.model import Line, UnitPosition
from sillwright.survey import Survey
from sillwright.survey.model import Level, OpeningShape

_BAND = ("band joist", "boundary joist", "rim joist", "rim board")
_FLOOR = ("finished floor",)
_GRADE = ("grade", "ground")


@dataclass(frozen=True, slots=True)
class Site:
    """A job with its deck, and what the readings and the setting plan made of its wall."""

    job: Job
    deck: Deck
    survey: Survey
    setting: Setting
    band: tuple[Place, ...]
    """Shots on top of the band joist, from left to right."""
    floor: tuple[Place, ...]
    """Shots on the finished floor."""
    grade: Place | None
    """Lowest ground: as stated, else as shot."""

    def line(self, opening: str) -> Line | None:
        """Return the level line of an opening."""
        lines = (line for row in self.setting.rows for line in row.lines)
        return next((line for line in lines if opening in line.openings), None)

    def position(self, opening: str) -> UnitPosition | None:
        """Return where a unit stands."""
        return next((unit for unit in self.setting.units if unit.opening == opening), None)

    def shape(self, opening: str) -> OpeningShape:
        """Return the adjusted shape of an opening."""
        return next(shape for shape in self.survey.openings if shape.name == opening)


def site_of(job: Job, deck: Deck, survey: Survey, setting: Setting) -> Site:
    """Return a job with its deck, its shots sorted by what their names speak of."""
    named, shots = deck.band_top, survey.points
    words = (named.lower(),) if named is not None else _BAND
    return Site(
        job,
        deck,
        survey,
        setting,
        band=_places(shots, words, whole=named is not None),
        floor=_places(shots, _FLOOR),
        grade=_grade(deck, shots),
    )


def _grade(deck: Deck, points: tuple[Level, ...]) -> Place | None:
    if deck.grade is not None:
        return Place(x=0.0, z=deck.grade, sd=0.25)  # stated, not shot: a hand's breadth
    shot = _places(points, _GRADE)
    return min(shot, key=lambda place: place.z) if shot else None


def _places(points: tuple[Level, ...], words: tuple[str, ...], *, whole: bool = False) -> tuple[Place, ...]:
    """Return the shots whose names speak of one of these words; of several at one x, the surest."""
    found: dict[float, Place] = {}
    for point in points:
        name = point.name.lower()
        if not any(name == word if whole else word in name for word in words):
            continue
        place = Place(x=point.x, z=point.z, sd=point.sd)
        if point.x not in found or place.sd < found[point.x].sd:
            found[point.x] = place
    return tuple(found[x] for x in sorted(found))


def swing(unit: UnitToSet) -> Swing | None:
    """Return which way a leaf goes: as stated, else by the words of its kind; None: no telling."""
    if unit.swing is not None:
        return unit.swing
    kind = unit.kind.lower()
    words: dict[Swing, tuple[str, ...]] = {
        "slides": ("slid",),
        "out": ("outswing", "out-swing", "swings out", "opening out", "opens out"),
        "in": ("inswing", "in-swing", "swings in", "opening in", "opens in"),
    }
    return next((way for way, said in words.items() if any(word in kind for word in said)), None)


def slug(name: str) -> str:
    """Return a name as it stands in ids: no spaces."""
    return name.replace(" ", "-")
