"""The wall as a network: which unknowns there are, and what each reading says of them.

Unknown are the height and tilt of every laser set-up, the heights of marks and other points, and for every
opening the sill (front and back edge), the head, both jacks at three or more heights, and how far the
jacks stand in or out. Old framing is assumed straight within generous limits (`assume` in the job file);
those assumptions enter as observations of their own, never as facts.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from sillwright.survey.frame import Frame
from sillwright.survey.observation import Observation, Profile, Unknowns


@dataclass(slots=True, kw_only=True)
class OpeningNet:
    """Profiles of one opening; None where nothing was read."""

    name: str
    frame: Frame
    sill: Profile
    sill_inner: Profile | None = None
    head: Profile | None = None
    head_inner: Profile | None = None
    left: Profile | None = None
    right: Profile | None = None
    left_inner: Profile | None = None
    right_inner: Profile | None = None
    left_out: Profile | None = None
    """How far in the left jack stands, by height above the sill (y)."""
    right_out: Profile | None = None
    thickness: dict[str, int] = field(default_factory=dict)
    level_known: bool = True
    position_known: bool = True


@dataclass(slots=True, kw_only=True)
class Network:
    """All unknowns and observations of a wall."""

    unknowns: Unknowns
    observations: list[Observation]
    openings: dict[str, OpeningNet]
    heights: list[int]
    tilts: list[int]
    stands: list[float]
    """Where each set-up stood along the wall [in]."""
    lasers: list[list[tuple[int, float]]]
    """Set-ups of one laser, with -1 where it was turned round against the first."""
    marks: dict[str, int | None]
    """Index of each mark's height; None for the datum, z = 0."""
    points: list[tuple[str, float, int]]
    jumps: dict[Knock, tuple[int, int | None]]
    """Indexes of each knock's change of height and of slope."""
    datum: str


@dataclass(frozen=True, slots=True)
class Knock:
    """A set-up disturbed between two shots of its series, numbered from 0."""

    setup: int
    after: int
    tilted: bool = False
    """The beam's slope changed too."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Verdicts:
    """What has been decided about readings so far."""

    excluded: frozenset[str] = frozenset()
    widened: Mapping[str, float] = field(default_factory=dict)
    """Readings kept with a larger standard deviation [in], by id."""
    knocks: tuple[Knock, ...] = ()
    distrusted: frozenset[int] = frozenset()
    """Set-ups of a laser whose stated error of level is not believed."""
