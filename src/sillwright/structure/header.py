"""A header by calculation: bending, shear, deflection, and bearing on its jack studs.

For your engineer. Loads are given for one foot of header. Sources: NDS 2018 3.3 to 3.10; ASCE 7 load
combinations D, D+L, D+S, D+0.75(L+S).
"""

from __future__ import annotations

from dataclasses import dataclass

from sillwright.structure.given import need_not_negative, need_positive
from sillwright.structure.members import LineLoad, MemberResult, simple_span
from sillwright.structure.tables import refuse
from sillwright.structure.timber import Service, adjusted, section

JACK = 1.5
"""Bearing length that one jack stud gives [in]."""
MOST_JACKS = 4
DEFLECTION = 240.0
"""Live load deflection of a header: span over this (IRC 2018 Table R301.7, all other members)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class HeaderLoads:
    """Loads on one foot of header [lbf/ft]."""

    dead_plf: float
    snow_plf: float = 0.0
    floor_live_plf: float = 0.0

    def __post_init__(self) -> None:
        need_not_negative(dead_plf=self.dead_plf, snow_plf=self.snow_plf, floor_live_plf=self.floor_live_plf)
        need_positive(load_plf=self.dead_plf + self.snow_plf + self.floor_live_plf)

    def combinations(self) -> tuple[tuple[str, LineLoad], ...]:
        """Return each combination with the duration whose factor it takes: its shortest load's."""
        d, s, f = self.dead_plf, self.snow_plf, self.floor_live_plf
        every = (
            ("permanent", LineLoad(live_plf=0.0, dead_plf=d) if d else None),
            ("ten_years_live", LineLoad(live_plf=f, dead_plf=d) if f else None),
            ("two_months_snow", LineLoad(live_plf=s, dead_plf=d) if s else None),
            ("two_months_snow", LineLoad(live_plf=0.75 * (f + s), dead_plf=d) if s and f else None),
        )
        return tuple((duration, load) for duration, load in every if load)


@dataclass(frozen=True, slots=True, kw_only=True)
class HeaderResult:
    """The header's checks under its worst combination, and the jack studs its ends need."""

    result: MemberResult
    duration: str
    jacks: int
    note: str = "for your engineer"


def header(size: str, *, species: str, opening: float, loads: HeaderLoads, jacks: int = 1) -> HeaderResult:
    """Check a header over an opening; it spans between the middles of its bearings.

    Args: opening: clear, between the jack studs [in]; jacks: at each end
    Raises: BadInput: a value that cannot be; OutOfRange: no number of jacks up to 4 bears it
    """
    need_positive(opening=opening, jacks=jacks)
    tried = [
        (duration, _under(size, species=species, opening=opening, load=load, duration=duration, jacks=jacks))
        for duration, load in loads.combinations()
    ]
    duration, worst = max(tried, key=lambda pair: pair[1].governing.use)
    return HeaderResult(
        result=worst, duration=duration, jacks=_jacks(size, species=species, opening=opening, loads=loads)
    )


def _under(
    size: str, *, species: str, opening: float, load: LineLoad, duration: str, jacks: int
) -> MemberResult:
    ply = section(size)
    service = Service(duration=duration, repetitive=ply.plies >= 3)
    return simple_span(
        ply,
        adjusted(species, size=ply.size, service=service),
        span=opening + JACK * jacks,
        load=load,
        bearing_length=JACK * jacks,
        deflection_ratio=DEFLECTION,
    )


def _jacks(size: str, *, species: str, opening: float, loads: HeaderLoads) -> int:
    for jacks in range(1, MOST_JACKS + 1):
        checks = [
            check
            for duration, load in loads.combinations()
            for check in _under(
                size, species=species, opening=opening, load=load, duration=duration, jacks=jacks
            ).checks
            if check.limit == "bearing"
        ]
        if all(check.use <= 1.0 for check in checks):
            return jacks
    raise refuse(f"a {size} header over {opening:g} in crushes even on {MOST_JACKS} jack studs at each end")
