"""`sillwright header`: the least header of the code's table, and by calculation, in words."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from sillwright.cli.amendments import book_by
from sillwright.cli.asked import HeaderAsked
from sillwright.cli.calculated import CALCULATE, calculated
from sillwright.cli.quantities import Options, feet, psf
from sillwright.cli.rules import laid_over
from sillwright.cli.say import Words, say
from sillwright.errors import OutOfRange
from sillwright.inspection import told
from sillwright.lengths import show_feet
from sillwright.rules import RuleBook
from sillwright.structure import (
    NOTE,
    BookHeader,
    HeaderLoad,
    header_sheet,
    header_sizes,
    header_spans,
    least_header,
)
from sillwright.structure import HeaderCase as ToCalculate

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
WHO = "Local code, the building department and a licensed engineer come before this. Shore before you cut."


@dataclass(frozen=True, slots=True, kw_only=True)
class HeaderCase:
    """What was asked, read."""

    span_ft: float
    width_ft: float
    snow_psf: float
    asked: HeaderAsked
    book: RuleBook
    """The edition asked for, with its local amendments."""

    @property
    def load(self) -> HeaderLoad:
        """Return it as the table asks."""
        return HeaderLoad(
            supports=SUPPORTS[self.asked.supports][0],
            building_width_ft=self.width_ft,
            ground_snow_psf=self.snow_psf,
            top_braced=self.asked.top_braced,
        )


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
        book=book_by(asked.edition, asked.amendments),
    )
    options.done()
    say(list(_words(case)))


def _words(case: HeaderCase) -> Iterator[Words]:
    yield Words(f"Header over {show_feet(case.span_ft * 12.0)} between the jack studs", "title")
    yield Words(
        f"Wall of a building {show_feet(case.width_ft * 12.0)} wide under {case.snow_psf:g} psf of ground "
        f"snow; it carries {SUPPORTS[case.asked.supports][1]}."
    )
    yield from laid_over(case.book)
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
        factor = case.book.limits["header.unbraced_factor"].value
        yield Words(
            f"Top edge not held: spans of 2x8 and deeper are the table's times {factor:.2f}.", indent=2
        )
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
    sizes = header_sizes(case.book)
    return [size for size in sizes[: sizes.index(found.size)] if size not in compared]


def _by_calculation(case: HeaderCase) -> Iterator[Words]:
    species = case.asked.species.replace("-", "_")
    asked = ToCalculate(load=case.load, opening=case.span_ft * 12.0, species=(species,))
    yield Words("")
    yield Words(f"By calculation, {NOTE}", "heading")
    yield from calculated(told(header_sheet(asked), ident="calc.header", units="in"))
