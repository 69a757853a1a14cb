"""Headers by the code's table: how far each goes under a load, on how many jack studs. IRC R602.7.

The table and its factor stand in the rule book, so local amendments hold here too.
"""

from __future__ import annotations

import math
import re
from dataclasses import dataclass

from sillwright.rules import Row, RuleBook, rule_book
from sillwright.structure.given import need_not_negative, need_one_of, need_positive
from sillwright.structure.tables import Cell, Suggestion, cell, held, least, load_table, refuse, select

SUPPORTS = (
    "roof_ceiling",
    "roof_ceiling_one_center_bearing_floor",
    "roof_ceiling_one_clear_span_floor",
)
SHALLOW = 6.0
"""Nominal depth up to which a span stands without a braced top edge: the footnote names 2x8 to 2x12 [in]."""
READ = "2018"
"""The edition whose table is held."""


@dataclass(frozen=True, slots=True, kw_only=True)
class HeaderSpan(Suggestion):
    """Greatest width between the jack studs that a header spans, and the jack studs at each end."""

    jacks: int


@dataclass(frozen=True, slots=True, kw_only=True)
class BookHeader(HeaderSpan):
    """A header of the rule book."""

    row: Row


@dataclass(frozen=True, slots=True, kw_only=True)
class HeaderLoad:
    """What stands on a header of an exterior bearing wall."""

    supports: str
    building_width_ft: float
    """Square to the ridge."""
    ground_snow_psf: float
    top_braced: bool = True
    """False where cripples bear on the header."""

    def __post_init__(self) -> None:
        need_one_of(SUPPORTS, supports=self.supports)
        need_positive(building_width_ft=self.building_width_ft)
        need_not_negative(ground_snow_psf=self.ground_snow_psf)


def header_span(size: str, *, load: HeaderLoad, book: RuleBook | None = None) -> BookHeader:
    """Return the greatest span of a header [in] and its jack studs (IRC 2018 Table R602.7(1)).

    Args: book: edition with its amendments; none: the model code of 2018
    Raises: OutOfRange: outside the table, or a table that is not held
    """
    book = book or rule_book(READ)
    table = book.tables["headers"]
    row = table.find(
        {"edition": book.edition, "supports": load.supports, "header": size},
        {"ground_snow_psf": load.ground_snow_psf, "building_width_ft": load.building_width_ft},
    )
    value, words = row.number("span"), ""
    if not load.top_braced and _depth(size) > SHALLOW:
        factor = book.limits["header.unbraced_factor"].value
        value, words = value * factor, f", top not braced: x {factor:.2f}"
    snow_psf, width_ft = row.at["ground_snow_psf"], row.at["building_width_ft"]
    span = Cell(
        value=value,
        source="; ".join(filter(None, (table.source, row.origin))),
        row=f"{size}, {load.supports}, snow {snow_psf:g} psf, width {width_ft:g} ft{words}",
        status=row.texts["status"] or "read",
    )
    return BookHeader(size=size, span=span, jacks=round(row.number("jack_studs")), row=row)


def header_sizes(book: RuleBook | None = None) -> tuple[str, ...]:
    """Return every header of the table from the least wood up, by nominal section, then by depth."""
    known = (book or rule_book(READ)).tables["headers"].known("header")
    return tuple(sorted(known, key=lambda size: (math.prod(_numbers(size)), _depth(size))))


def header_spans(*, load: HeaderLoad, book: RuleBook | None = None) -> list[BookHeader]:
    """Return every header that the table has for a load, from the least wood up.

    Raises: OutOfRange: it has none; names the bound that was passed
    """
    return held(header_sizes(book), lambda size: header_span(size, load=load, book=book))


def least_header(span: float, *, load: HeaderLoad, book: RuleBook | None = None) -> BookHeader:
    """Return the header of the least wood of the table that spans this [in], with its jack studs."""
    need_positive(span=span)
    return least(span, header_spans(load=load, book=book))


def single_header_span(
    header: str, *, species: str, building_width_ft: float, ground_snow_psf: float
) -> HeaderSpan:
    """Return the span [in] of a single-ply header under roof and ceiling (proposal RB104-09/10)."""
    need_positive(building_width_ft=building_width_ft)
    need_not_negative(ground_snow_psf=ground_snow_psf)
    table = load_table("headers_single")
    need_one_of(dict.fromkeys(row["species"] for row in table.rows), species=species)
    need_one_of(dict.fromkeys(row["header"] for row in table.rows), header=header)
    rows = [
        row
        for row in select(table, species=species, header=header)
        if float(row["width_ft"]) >= building_width_ft and float(row["snow_psf"]) >= ground_snow_psf
    ]
    if not rows:
        raise refuse(
            f"a width of {building_width_ft:g} ft under {ground_snow_psf:g} psf of snow is more than "
            f"{table.source} has"
        )
    row = max(rows, key=lambda row: float(row["span"]))
    found = cell(table, row, "span", "species", "header", "snow_psf", "width_ft")
    return HeaderSpan(size=header, span=found, jacks=int(row["jacks"]))


def _numbers(size: str) -> list[float]:
    return [float(number) for number in re.findall(r"\d+(?:\.\d+)?", size)]


def _depth(size: str) -> float:
    return max(_numbers(size)[-1:], default=math.inf)
