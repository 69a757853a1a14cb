"""A header by calculation, value by value: what stands on it, its strengths, what it comes to.

For your engineer. Sources: NDS 2018 3.3 to 3.10; ASCE 7 load combinations.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from sillwright.errors import OutOfRange
from sillwright.structure.given import need_positive
from sillwright.structure.header import (
    FLOOR_DEAD_PSF,
    FLOOR_LIVE_PSF,
    LEAST_ROOF_PSF,
    OVERHANG_FT,
    ROOF_DEAD_PSF,
    ROOF_SNOW,
    SPECIES,
    WALL_PLF,
    HeaderResult,
    floor_width_ft,
    header_loads,
    least_by_calculation,
    roof_snow_psf,
    roof_width_ft,
    weakest_header,
)
from sillwright.structure.header_table import HeaderLoad
from sillwright.structure.member_sheet import checks, strengths
from sillwright.structure.timber import wood
from sillwright.structure.worked import Sheet, Worked, inputs

LOADS = "ASCE 7 load combinations; dead loads, eave and wall: common practice, no source"
SNOW = "ASCE 7, 7.3 (from memory)"
TOP_HELD = "the top edge is held along its length"
TOP_NOT_HELD = "the top edge is held at the ends only; the code's table takes 0.70 of its span instead"


@dataclass(frozen=True, slots=True, kw_only=True)
class HeaderCase:
    """A header to be calculated."""

    load: HeaderLoad
    """What stands on its wall, as the code's table asks."""
    opening: float
    """Clear, between the jack studs [in]."""
    size: str | None = None
    """Such as 2-2x10; None: the least that carries it."""
    species: tuple[str, ...] = SPECIES
    """The wood, or those it may be: the one used most is shown."""
    jacks: int | None = None
    """Jack studs at each end; None: as many as it needs."""

    def __post_init__(self) -> None:
        need_positive(opening=self.opening)


def header_sheet(case: HeaderCase) -> Sheet:
    """Return a header by calculation, or the loads on it and why no header of the table's sizes carries them.

    Raises:  BadInput: a size, species or number that cannot be
    """
    subject = f"header {case.size}" if case.size else "least header"
    loads = tuple(_loads(case))
    taken = (_taken(), TOP_HELD if case.load.top_braced else TOP_NOT_HELD)
    try:
        found = _found(case)
    except OutOfRange as error:
        return Sheet(subject=subject, values=loads, refused=str(error), taken=taken)
    member, worst = found.member, found.result.governing
    least = ", the weakest of the woods it may be" if len(case.species) > 1 else ""
    jacks = f"{found.jacks} jack stud{'' if found.jacks == 1 else 's'} at each end"
    needs = "needs" if case.jacks is not None and case.jacks < found.jacks else "with"
    return Sheet(
        subject=subject,
        values=(*loads, *_total(case, found), *strengths(member), *checks(member)),
        main=worst.limit,
        governs=worst.limit,
        verdict=f"{member.size} of {wood(member.species)} No. 2{least}, {needs} {jacks}; {worst.limit} "
        f"governs at {100.0 * worst.use:.0f}%" + ("" if found.result.passes else ": too much"),
        taken=taken,
    )


def _found(case: HeaderCase) -> HeaderResult:
    loads = header_loads(case.load)
    if case.size is None:
        return least_by_calculation(
            species=case.species, opening=case.opening, loads=loads, top_braced=case.load.top_braced
        )
    return weakest_header(
        case.size,
        species=case.species,
        opening=case.opening,
        loads=loads,
        jacks=case.jacks,
        top_braced=case.load.top_braced,
    )


def _loads(case: HeaderCase) -> Iterator[Worked]:
    load, loads = case.load, header_loads(case.load)
    roof_ft, floor_ft = roof_width_ft(load), floor_width_ft(load)
    roof = ("roof carried, half the width and the eave", roof_ft, "ft")
    floor = ("floor carried", floor_ft, "ft")
    wall = (("wall on it", WALL_PLF, "lbf/ft"),) if floor_ft else ()
    yield Worked(
        key="dead",
        what="dead load D",
        formula="roof psf × width + floor psf × width + wall",
        inputs=inputs(("roof", ROOF_DEAD_PSF, "psf"), roof, ("floor", FLOOR_DEAD_PSF, "psf"), floor, *wall),
        value=loads.dead_plf,
        unit="lbf/ft",
        source=LOADS,
    )
    yield Worked(
        key="snow",
        what="snow on the roof S",
        formula=f"{ROOF_SNOW:g} × ground snow, at least {LEAST_ROOF_PSF:g} psf, × width",
        inputs=inputs(
            ("ground snow", load.ground_snow_psf, "psf"), ("on the roof", roof_snow_psf(load), "psf"), roof
        ),
        value=loads.snow_plf,
        unit="lbf/ft",
        source=SNOW,
    )
    if floor_ft:
        yield Worked(
            key="live",
            what="live load of the floor L",
            formula="floor psf × width",
            inputs=inputs(("floor", FLOOR_LIVE_PSF, "psf"), floor),
            value=loads.floor_live_plf,
            unit="lbf/ft",
            source="IRC 2018 Table R301.5 (from memory)",
        )


def _total(case: HeaderCase, found: HeaderResult) -> Iterator[Worked]:
    member = found.member
    yield Worked(
        key="load",
        what="worst combination",
        formula=f"w = {found.combination}",
        inputs=inputs(("D", member.load.dead_plf, "lbf/ft"), ("the rest", member.load.live_plf, "lbf/ft")),
        value=member.load.total_plf,
        unit="lbf/ft",
        source="ASCE 7 load combinations",
    )
    yield Worked(
        key="span",
        what="span between the middles of its bearings",
        formula="L = opening + bearing",
        inputs=inputs(("opening", case.opening, "in"), ("bearing at each end", member.bearing_length, "in")),
        value=member.span,
        unit="in",
        source="NDS 2018 3.2.1 (from memory), with all of the bearing: on the safe side",
    )


def _taken() -> str:
    return (
        f"roof {ROOF_DEAD_PSF:g} psf dead with {OVERHANG_FT:g} ft of eave, no drift; floor "
        f"{FLOOR_DEAD_PSF:g} psf dead, {FLOOR_LIVE_PSF:g} live; a wall of {WALL_PLF:g} lbf/ft on a floor; dry"
    )
