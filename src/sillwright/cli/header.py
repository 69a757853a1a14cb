"""`sillwright header`: the least header of the code's table, and by calculation, in words."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from sillwright.cli.asked import HeaderAsked
from sillwright.cli.quantities import Options, feet, psf
from sillwright.cli.say import Words, say
from sillwright.errors import OutOfRange
from sillwright.lengths import show_feet
from sillwright.rules import RuleBook, rule_book
from sillwright.structure import (
    BookHeader,
    HeaderLoad,
    HeaderLoads,
    HeaderResult,
    header,
    header_sizes,
    header_spans,
    least_header,
)

SUPPORTS = {
    "roof": ("roof_ceiling", "roof and ceiling"),
    "roof-and-center-bearing-floor": (
        "roof_ceiling_one_center_bearing_floor",
        "roof, ceiling and one floor with a bearing in the middle",
    ),
    "roof-and-clear-span-floor": (
        "roof_ceiling_one_clear_span_floor",
        "roof, ceiling and one floor that spans the house",
    ),
}
SPECIES = {
    "douglas-fir-larch": "Douglas fir-larch",
    "hem-fir": "hem-fir",
    "southern-pine": "southern pine",
    "spruce-pine-fir": "spruce-pine-fir",
}
ROOF_DEAD_PSF, FLOOR_DEAD_PSF, FLOOR_LIVE_PSF, WALL_PLF = 15.0, 10.0, 40.0, 80.0
"""Taken by the calculation; dead loads and the wall over the opening: common practice, no source."""
LEAST_ROOF_PSF = 20.0
"""Roof live load, where snow is less."""
ROOF_SNOW = 0.7
"""Of the ground snow, on a roof neither sheltered nor cold, without drift (ASCE 7, 7.3, from memory)."""
OVERHANG_FT = 2.0
"""Of the roof beyond the wall; common practice, no source."""
FLOOR_SHARE = {"roof": 0.0, "roof-and-center-bearing-floor": 0.25, "roof-and-clear-span-floor": 0.5}
"""Of the building's width, what one wall carries of the floor."""
CALCULATE = "With --calculate the arithmetic is shown, for your engineer."
WHO = "Local code, the building department and a licensed engineer come before this. Shore before you cut."


@dataclass(frozen=True, slots=True, kw_only=True)
class HeaderCase:
    """What was asked, read."""

    span_ft: float
    width_ft: float
    snow_psf: float
    asked: HeaderAsked

    @property
    def load(self) -> HeaderLoad:
        """Return it as the table asks."""
        return HeaderLoad(
            supports=SUPPORTS[self.asked.supports][0],
            building_width_ft=self.width_ft,
            ground_snow_psf=self.snow_psf,
            top_braced=self.asked.top_braced,
        )

    @property
    def book(self) -> RuleBook:
        """Return the edition asked for."""
        return rule_book(self.asked.edition)


def header_alone(asked: HeaderAsked) -> None:
    """Say which header of the table works, or refuse.

    Raises:  BadInput: every option that cannot be used; OutOfRange: outside the table
    """
    options = Options()
    case = HeaderCase(
        span_ft=options.take(feet, "--span", asked.span, above=0.0, zero=False),
        width_ft=options.take(feet, "--width", asked.width, above=0.0, zero=False),
        snow_psf=options.take(psf, "--snow", asked.snow, above=0.0, zero=True),
        asked=asked,
    )
    options.done()
    say(list(_words(case)))


def _words(case: HeaderCase) -> Iterator[Words]:
    yield Words(f"Header over {show_feet(case.span_ft * 12.0)} between the jack studs", "title")
    yield Words(
        f"Wall of a building {show_feet(case.width_ft * 12.0)} wide under {case.snow_psf:g} psf of ground "
        f"snow; it carries {SUPPORTS[case.asked.supports][1]}."
    )
    try:
        yield from _by_table(case)
    except OutOfRange as error:
        if not case.asked.calculate:
            raise OutOfRange(f"The header is {error}.\n{CALCULATE}") from None
        yield Words("")
        yield Words("By the code's table", "heading")
        yield Words(f"The header is {error}.", "stop", "STOP", 2)
    if case.asked.calculate:
        yield from _by_calculation(case)
    yield Words("")
    yield Words(WHO)


def _by_table(case: HeaderCase) -> Iterator[Words]:
    found = least_header(case.span_ft * 12.0, load=case.load, book=case.book)
    yield Words("")
    yield Words("By the code's table", "heading")
    yield Words(
        f"{found.size} with {_studs(found.jacks)} at each end. The table lets it span "
        f"{show_feet(down(found.span.value))}.",
        indent=2,
    )
    yield Words(f"Source: {found.span.source}; row: {found.span.row}.", indent=2)
    if found.span.status == "memory":
        yield from_memory()
    if absent := _not_held(case, found):
        yield Words(
            f"Not held here for this load, so not compared: {', '.join(absent)}.", "watch", "WATCH", 2
        )
    yield Words(f"It holds for: {case.book.tables['headers'].header['scope']}.", indent=2)
    if case.asked.top_braced:
        yield Words("Cripples on the header: say --no-top-braced, and it goes less far.", indent=2)
    else:
        yield Words("Top edge not held: spans of 2x8 and deeper are the table's times 0.70.", indent=2)
    if case.snow_psf < 30.0:
        yield Words("Snow under 30 psf is taken as 30.", indent=2)


def from_memory() -> Words:
    """Return the caution on a value that nobody read in the print."""
    text = "This value is from memory: look it up in the printed table before you build by it."
    return Words(text, "watch", "WATCH", 2)


def down(length: float) -> float:
    """Return a length cut to the sixteenth below [in], so that what is shown is allowed."""
    return (length + 1e-9) // (1 / 16) / 16.0


def _studs(count: int) -> str:
    return "1 jack stud" if count == 1 else f"{count} jack studs"


def _not_held(case: HeaderCase, found: BookHeader) -> list[str]:
    """Return headers of less wood than the one found whose cell is not held."""
    compared = {each.size for each in header_spans(load=case.load, book=case.book)}
    sizes = header_sizes()
    return [size for size in sizes[: sizes.index(found.size)] if size not in compared]


def line_loads(case: HeaderCase) -> HeaderLoads:
    """Return the loads on a foot of header that the calculation takes."""
    roof_ft = case.width_ft / 2.0 + OVERHANG_FT
    floor_ft = case.width_ft * FLOOR_SHARE[case.asked.supports]
    wall_plf = WALL_PLF if floor_ft else 0.0
    return HeaderLoads(
        dead_plf=ROOF_DEAD_PSF * roof_ft + FLOOR_DEAD_PSF * floor_ft + wall_plf,
        snow_plf=max(ROOF_SNOW * case.snow_psf, LEAST_ROOF_PSF) * roof_ft,
        floor_live_plf=FLOOR_LIVE_PSF * floor_ft,
    )


def _by_calculation(case: HeaderCase) -> Iterator[Words]:
    loads = line_loads(case)
    yield Words("")
    yield Words("By calculation, for your engineer", "heading")
    least = _least(case, loads)
    if least is None:
        text = f"No header of the sizes {', '.join(header_sizes())} carries it. An engineer decides."
        yield Words(text, "stop", "STOP", 2)
    else:
        size, found = least
        yield Words(f"{size}, No. 2, with {_studs(found.jacks)} at each end.", indent=2)
        for check in found.result.checks:
            governs = ", governs" if check is found.result.governing else ""
            yield Words(
                f"{check.limit}: {_figure(check.demand)} of {_figure(check.capacity)} {check.unit} "
                f"({100 * check.use:.0f} %){governs}",
                indent=4,
            )
    yield Words(_taken(case, loads), indent=2)
    if not case.asked.top_braced:
        yield Words("The calculation takes the top edge as held; yours is not.", "watch", "WATCH", 2)
    yield Words("Source: NDS 2018, 3.3 to 3.10; combinations and roof snow of ASCE 7.", indent=2)


def _taken(case: HeaderCase, loads: HeaderLoads) -> str:
    return (
        f"Taken: {SPECIES[case.asked.species]}; dead {loads.dead_plf:.0f}, snow {loads.snow_plf:.0f}, floor "
        f"live {loads.floor_live_plf:.0f} lbf/ft. Roof: {ROOF_DEAD_PSF:g} psf dead and {ROOF_SNOW:g} of the "
        f"ground snow, at least {LEAST_ROOF_PSF:g} psf, no drift, over half the width and {OVERHANG_FT:g} ft "
        f"of eave. Floor: {FLOOR_DEAD_PSF:g} psf dead, {FLOOR_LIVE_PSF:g} live, and a wall of {WALL_PLF:g} "
        "lbf/ft on it. Dead loads, eave and wall: common practice, no source."
    )


def _figure(value: float) -> str:
    return f"{value:,.0f}" if value >= 10.0 else f"{value:.2f}"


def _least(case: HeaderCase, loads: HeaderLoads) -> tuple[str, HeaderResult] | None:
    """Return the header of least wood whose every check passes on the jack studs that it needs."""
    opening, species = case.span_ft * 12.0, case.asked.species.replace("-", "_")
    for size in header_sizes():
        try:
            jacks = header(size, species=species, opening=opening, loads=loads).jacks
            found = header(size, species=species, opening=opening, loads=loads, jacks=jacks)
        except OutOfRange:  # it crushes on any number of jack studs: the next size may not
            continue
        if found.result.passes:
            return size, found
    return None
