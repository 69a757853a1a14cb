"""What a survey tells: frozen results, all lengths in inches, standard deviations 1 sigma."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from sillwright.quantity import Inches

Side = Literal["left", "right"]
Edge = Literal["outer", "inner"]


@dataclass(frozen=True, slots=True, kw_only=True)
class ReadingResult:
    """One reading against the adjusted wall."""

    id: str
    path: str
    """Place in the job file."""
    label: str
    kind: str
    opening: str | None
    observed: Inches
    adjusted: Inches
    """What the adjusted wall says the reading should be."""
    residual: Inches
    """Adjusted minus observed."""
    sd: Inches
    redundancy: float
    """Share of an error that would show in its residual; 0: nothing checks it."""
    w: float | None
    """Standardised residual."""
    detectable: Inches | None
    """Least error the rest would show (alpha 0.001, power 0.80); None: nothing checks it."""
    status: Literal["used", "doubtful", "set aside"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Suspect:
    """A reading that contradicts the others."""

    id: str
    reading: str
    path: str
    label: str
    observed: Inches
    error: Inches
    """Probable error, observed minus true."""
    would_be: Inches
    """What the reading would be if the suspicion is right."""
    would_be_sd: Inches
    w: float
    cannot_tell_from: tuple[str, ...]
    """Ids of readings that would explain the contradiction as well."""
    against_assumption: bool
    """Only an assumption about old framing speaks against it: the framing may really be so."""
    action: Literal["set aside", "kept in doubt"]
    sentence: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Disturbed:
    """A laser set-up that was knocked in mid-series."""

    id: str
    setup: int
    """Number of the set-up, from 1."""
    name: str
    path: str
    after: str
    """Label of the last shot before the knock."""
    before: str
    """Label of the first shot after it."""
    after_path: str
    before_path: str
    rose: Inches
    """How much the beam rose."""
    rose_sd: Inches
    set_aside: tuple[str, ...]
    """Ids of shots that may lie on either side."""
    also_explained_by: tuple[str, ...]
    """Ids of single readings that, if wrong, would explain it as well."""
    action: Literal["corrected", "refused"]
    sentence: str


@dataclass(frozen=True, slots=True, kw_only=True)
class LaserCheck:
    """Whether a laser's beam is level, as far as its set-ups tell."""

    id: str
    setups: tuple[int, ...]
    slope_mm_per_m: float
    slope_sd_mm_per_m: float
    stated_mm_per_m: float
    verdict: Literal["within its statement", "out of true", "not checked"]
    sentence: str


@dataclass(frozen=True, slots=True, kw_only=True)
class SetUpResult:
    """Height and slope of the beam of one set-up."""

    number: int
    name: str
    height: Inches
    height_sd: Inches
    slope_mm_per_m: float
    slope_sd_mm_per_m: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Level:
    """An adjusted height at one place along the wall: a mark, a floor, a band joist."""

    name: str
    x: Inches
    z: Inches
    sd: Inches


@dataclass(frozen=True, slots=True, kw_only=True)
class Station:
    """One adjusted point of a sill, head or jack."""

    at: Inches
    """Where: x along the wall for sills and heads, height above the sill for jacks."""
    value: Inches
    """z for sills and heads, x for jacks, y (in) for faces."""
    sd: Inches
    measured: bool
    """Readings say more about it than assumptions do."""


@dataclass(frozen=True, slots=True, kw_only=True)
class OpeningShape:
    """The adjusted shape of one opening; empty where nothing was read."""

    name: str
    left: Inches
    right: Inches
    height: Inches
    level_known: bool
    position_known: bool
    sill_outer: tuple[Station, ...]
    sill_inner: tuple[Station, ...]
    head_outer: tuple[Station, ...]
    head_inner: tuple[Station, ...]
    left_jack: tuple[Station, ...]
    right_jack: tuple[Station, ...]
    left_face: tuple[Station, ...]
    right_face: tuple[Station, ...]
    wall_thickness: dict[str, Station]
    low_end: Side | None
    """End at which the sill is lower; None: no telling."""
    sill_drop: Inches
    """Left end less right end of the sill, outer edge."""
    sill_drop_sd: Inches
    sill_crown: Inches
    """Highest rise of the sill above the line of its ends; negative: a dip."""
    head_sag: Inches | None
    """Deepest fall of the head below the line of its ends."""
    fall_outward: Inches | None
    """Mean height of the inner less the outer sill edge; negative: the sill falls into the house."""
    cross_leg: Inches | None
    """Gap of crossed strings: positive when the bottom-left to top-right string lies further in."""
    cross_leg_sd: Inches | None
    not_determined: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class WallPlane:
    """Plumb and twist of the wall's face over its jacks."""

    lean_in_per_ft: float
    """Mean lean into the house [in per foot of height], in a metric job too."""
    lean_sd_in_per_ft: float
    twist_in_per_ft: float
    """Lean at the right end of the row less lean at the left end [in per foot of height]."""


@dataclass(frozen=True, slots=True, kw_only=True)
class GlobalTest:
    """Do the readings fit together as well as their standard deviations say."""

    statistic: float
    """v'Pv."""
    dof: float
    limit: float
    """Chi-square value not exceeded with the stated probability."""
    tail: float
    """Chance of a larger statistic when the standard deviations are right."""
    passed: bool
    """The statistic is within its limit."""


@dataclass(frozen=True, slots=True, kw_only=True)
class NextReading:
    """A reading not yet taken, and what it would do for the decision at hand."""

    label: str
    opening: str | None
    decision: str
    sd_now: Inches
    sd_then: Inches
    reduction: float
    """Share of the standard deviation that goes."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Survey:
    """Everything the readings tell about the wall."""

    datum: str
    readings: tuple[ReadingResult, ...]
    suspects: tuple[Suspect, ...]
    disturbed: tuple[Disturbed, ...]
    lasers: tuple[LaserCheck, ...]
    setups: tuple[SetUpResult, ...]
    marks: tuple[Level, ...]
    points: tuple[Level, ...]
    openings: tuple[OpeningShape, ...]
    plane: WallPlane | None
    global_test: GlobalTest | None
    critical_w: float
    not_determined: tuple[str, ...]
