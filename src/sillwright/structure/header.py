"""A header by calculation: bending, shear, deflection, and bearing on its jack studs.

For your engineer. Loads are given for one foot of header. Sources: NDS 2018 3.3 to 3.10; ASCE 7 load
combinations D, D+L, D+S, D+0.75(L+S).
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace

from sillwright.errors import OutOfRange
from sillwright.structure.given import need_not_negative, need_positive
from sillwright.structure.header_table import HeaderLoad, header_sizes
from sillwright.structure.member_sheet import Member, stability_of
from sillwright.structure.members import LineLoad, MemberResult
from sillwright.structure.tables import refuse
from sillwright.structure.timber import Service, adjusted, section
from sillwright.structure.worked import NOTE

JACK = 1.5
"""Bearing length that one jack stud gives [in]."""
MOST_JACKS = 4
DEFLECTION = 240.0
"""Live load deflection of a header: span over this (IRC 2018 Table R301.7, all other members)."""
ROOF_DEAD_PSF, FLOOR_DEAD_PSF, FLOOR_LIVE_PSF, WALL_PLF = 15.0, 10.0, 40.0, 80.0
"""Taken by the calculation; dead loads and the wall over the opening: common practice, no source."""
LEAST_ROOF_PSF = 20.0
"""Roof live load, where snow is less."""
ROOF_SNOW = 0.7
"""Of the ground snow, on a roof neither sheltered nor cold, without drift (ASCE 7, 7.3, from memory)."""
OVERHANG_FT = 2.0
"""Of the roof beyond the wall; common practice, no source."""
FLOOR_SHARE = {
    "roof_ceiling": 0.0,
    "roof_ceiling_one_center_bearing_floor": 0.25,
    "roof_ceiling_one_clear_span_floor": 0.5,
}
"""Of the building's width, what one wall carries of the floor."""
SPECIES = ("douglas_fir_larch", "hem_fir", "southern_pine", "spruce_pine_fir")
"""Woods of the code's header table."""


@dataclass(frozen=True, slots=True, kw_only=True)
class HeaderLoads:
    """Loads on one foot of header [lbf/ft]."""

    dead_plf: float
    snow_plf: float = 0.0
    floor_live_plf: float = 0.0

    def __post_init__(self) -> None:
        need_not_negative(dead_plf=self.dead_plf, snow_plf=self.snow_plf, floor_live_plf=self.floor_live_plf)
        need_positive(load_plf=self.dead_plf + self.snow_plf + self.floor_live_plf)

    def combinations(self) -> tuple[tuple[str, str, LineLoad], ...]:
        """Return each combination, the duration whose factor it takes (its shortest load's), and its load."""
        d, s, f = self.dead_plf, self.snow_plf, self.floor_live_plf
        every = (
            ("D", "permanent", LineLoad(live_plf=0.0, dead_plf=d) if d else None),
            ("D + L", "ten_years_live", LineLoad(live_plf=f, dead_plf=d) if f else None),
            ("D + S", "two_months_snow", LineLoad(live_plf=s, dead_plf=d) if s else None),
            (
                "D + 0.75 (L + S)",
                "two_months_snow",
                LineLoad(live_plf=0.75 * (f + s), dead_plf=d) if s and f else None,
            ),
        )
        return tuple((name, duration, load) for name, duration, load in every if load)


@dataclass(frozen=True, slots=True, kw_only=True)
class HeaderResult:
    """The header's checks under its worst combination, and the jack studs its ends need."""

    member: Member
    combination: str
    result: MemberResult
    jacks: int
    note: str = NOTE


def header_loads(load: HeaderLoad) -> HeaderLoads:
    """Return the loads on a foot of header that the calculation takes for what stands on its wall.

    Roof over half the building's width and an eave, floor by its share of the width, a wall where there is a
    floor; snow at least the roof's live load.
    """
    roof_ft, floor_ft = roof_width_ft(load), floor_width_ft(load)
    return HeaderLoads(
        dead_plf=ROOF_DEAD_PSF * roof_ft + FLOOR_DEAD_PSF * floor_ft + (WALL_PLF if floor_ft else 0.0),
        snow_plf=roof_snow_psf(load) * roof_ft,
        floor_live_plf=FLOOR_LIVE_PSF * floor_ft,
    )


def roof_width_ft(load: HeaderLoad) -> float:
    """Return the width of roof that one wall carries [ft]."""
    return load.building_width_ft / 2.0 + OVERHANG_FT


def floor_width_ft(load: HeaderLoad) -> float:
    """Return the width of floor that one wall carries [ft]."""
    return load.building_width_ft * FLOOR_SHARE[load.supports]


def roof_snow_psf(load: HeaderLoad) -> float:
    """Return the snow on the roof, at least its live load [lbf/ft2]."""
    return max(ROOF_SNOW * load.ground_snow_psf, LEAST_ROOF_PSF)


def header(
    size: str,
    *,
    species: str,
    opening: float,
    loads: HeaderLoads,
    jacks: int | None = None,
    top_braced: bool = True,
) -> HeaderResult:
    """Check a header over an opening; it spans between the middles of its bearings.

    Args: opening: clear, between the jack studs [in]; jacks: at each end; None: as many as it needs;
        top_braced: its top edge is held, not so under cripples
    Raises: BadInput: a value that cannot be; OutOfRange: no number of jacks up to 4 bears it
    """
    need_positive(opening=opening)
    needed = _jacks(size, species=species, opening=opening, loads=loads)
    standing = needed if jacks is None else jacks
    need_positive(jacks=standing)
    tried = [
        (name, _under(size, species=species, opening=opening, load=load, duration=duration, jacks=standing))
        for name, duration, load in loads.combinations()
    ]
    if not top_braced:
        tried = [(name, _not_held(member)) for name, member in tried]
    name, member = max(tried, key=lambda each: each[1].result().governing.use)
    return HeaderResult(member=member, combination=name, result=member.result(), jacks=needed)


def weakest_header(
    size: str,
    *,
    species: Iterable[str],
    opening: float,
    loads: HeaderLoads,
    jacks: int | None = None,
    top_braced: bool = True,
) -> HeaderResult:
    """Return a header's checks in the wood, of several, that is used most, on the jacks that any needs."""
    woods = tuple(species)
    needed = max(_jacks(size, species=each, opening=opening, loads=loads) for each in woods)
    found = [
        header(
            size,
            species=each,
            opening=opening,
            loads=loads,
            jacks=jacks or needed,
            top_braced=top_braced,
        )
        for each in woods
    ]
    return replace(max(found, key=lambda each: each.result.governing.use), jacks=needed)


def least_by_calculation(
    *, species: Iterable[str], opening: float, loads: HeaderLoads, top_braced: bool = True
) -> HeaderResult:
    """Return the header of least wood whose every check passes on the jack studs that it needs.

    Raises:  OutOfRange: none of the table's sizes carries it
    """
    woods = tuple(species)
    for size in header_sizes():
        try:
            found = weakest_header(size, species=woods, opening=opening, loads=loads, top_braced=top_braced)
        except OutOfRange:  # it crushes on any number of jack studs: the next size may not
            continue
        if found.result.passes:
            return found
    raise refuse(f"no header of {', '.join(header_sizes())} carries it over {opening:g} in")


def _under(size: str, *, species: str, opening: float, load: LineLoad, duration: str, jacks: int) -> Member:
    ply = section(size)
    service = Service(duration=duration, repetitive=ply.plies >= 3)
    return Member(
        section=ply,
        species=species,
        service=service,
        strength=adjusted(species, size=ply.size, service=service),
        load=load,
        span=opening + JACK * jacks,
        bearing_length=JACK * jacks,
        deflection_ratio=DEFLECTION,
    )


def _not_held(member: Member) -> Member:
    """Return a header with its top edge held at the ends only.

    Raises: OutOfRange: too slender
    """
    held = stability_of(member.section, member.strength, unsupported=member.span)
    strength = adjusted(
        member.species, size=member.section.size, service=member.service, stability=held.factor
    )
    return replace(member, strength=strength, stability=held)


def _jacks(size: str, *, species: str, opening: float, loads: HeaderLoads) -> int:
    for jacks in range(1, MOST_JACKS + 1):
        found = [
            check
            for _, duration, load in loads.combinations()
            for check in _under(
                size, species=species, opening=opening, load=load, duration=duration, jacks=jacks
            )
            .result()
            .checks
            if check.limit == "bearing"
        ]
        if all(check.use <= 1.0 for check in found):
            return jacks
    raise refuse(f"a {size} header over {opening:g} in crushes even on {MOST_JACKS} jack studs at each end")
