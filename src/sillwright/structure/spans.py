"""Code tables of deck framing, and the least section of each that works.

A lookup answers with the row used; where a place lies between two rows it takes the safer one; nothing is
extrapolated. Sources stand in the tables.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass, replace

from sillwright.structure.given import need_one_of, need_positive
from sillwright.structure.tables import (
    Cell,
    Row,
    Suggestion,
    Table,
    cell,
    held,
    least,
    load_table,
    next_up,
    refuse,
    select,
)
from sillwright.structure.timber import section

JOIST_SIZES = ("2x6", "2x8", "2x10", "2x12")
POST_SIZES = ("4x4", "4x6", "6x6", "8x8")
BEAM_SIZES = ("2-2x6", "3-2x6", "2-2x8", "3-2x8", "2-2x10", "3-2x10", "2-2x12", "3-2x12")
"""From the least to the greatest wood: plies times depth, in the order a carpenter would go up."""
SPECIES = (
    "southern_pine",
    "douglas_fir_larch",
    "hem_fir",
    "spruce_pine_fir",
    "redwood",
    "western_cedar",
    "ponderosa_pine",
    "red_pine",
)
DECK_EDITIONS = ("2018", "DCA 6")
DECK_LOAD_PSF = 40.0


def joist_span(
    size: str, *, species: str, spacing: float, edition: str = "2018", load_psf: float = DECK_LOAD_PSF
) -> Cell:
    """Return the greatest span of a deck joist [in] (IRC 2018 Table R507.6 or DCA 6 Table 2).

    Args: spacing: between joists [in]; load_psf: deck live load or ground snow, whichever is larger
    Raises: BadInput: size, species or edition not known; OutOfRange: outside the table
    """
    table, row = _joist_row(size, species=species, spacing=spacing, edition=edition, load_psf=load_psf)
    return cell(table, row, "span", "edition", "size", "spacing")


def joist_cantilever(
    size: str,
    *,
    species: str,
    spacing: float,
    joist_span: float,
    edition: str = "2018",
    load_psf: float = DECK_LOAD_PSF,
) -> Cell:
    """Return the greatest overhang of a deck joist [in]: the table's, at most a quarter of its span.

    Raises: BadInput: size, species or edition not known; OutOfRange: outside the table, or a cell not held
    """
    need_positive(joist_span=joist_span)
    table, row = _joist_row(size, species=species, spacing=spacing, edition=edition, load_psf=load_psf)
    held = cell(table, row, "cantilever", "edition", "size", "spacing")
    if held.value <= joist_span / 4.0:
        return held
    return Cell(
        value=joist_span / 4.0, source="IRC 2018 R507.6", row="a quarter of the joist's span", status="read"
    )


def _joist_row(
    size: str, *, species: str, spacing: float, edition: str, load_psf: float
) -> tuple[Table, Row]:
    need_one_of(JOIST_SIZES, size=size)
    table = _deck_table("deck_joists", species=species, edition=edition, load_psf=load_psf)
    need_positive(spacing=spacing)
    rows = select(table, edition=edition, species=species, size=size)
    return table, next_up(table, rows, "spacing", spacing)[0]


def _deck_table(name: str, *, species: str, edition: str, load_psf: float) -> Table:
    need_one_of(SPECIES, species=species)
    need_one_of(DECK_EDITIONS, edition=edition)
    need_positive(load_psf=load_psf)
    table = load_table(name)
    _within_load(load_psf, table.source)
    return table


def _within_load(load_psf: float, source: str) -> None:
    if load_psf > DECK_LOAD_PSF:
        raise refuse(f"a load of {load_psf:g} psf is more than the {DECK_LOAD_PSF:g} psf of {source}")


def beam_span(
    beam: str, *, species: str, joist_span_ft: float, edition: str = "2018", load_psf: float = DECK_LOAD_PSF
) -> Cell:
    """Return the greatest span of a deck beam [in] (IRC 2018 Table R507.5 or DCA 6 Table 3A)."""
    table = _deck_table("deck_beams", species=species, edition=edition, load_psf=load_psf)
    need_positive(joist_span_ft=joist_span_ft)
    need_one_of(dict.fromkeys(row["beam"] for row in table.rows), beam=beam)
    species = "cedar" if species == "western_cedar" else species
    rows = select(table, edition=edition, species=species, beam=beam)
    return cell(
        table, next_up(table, rows, "joist_span_ft", joist_span_ft)[0], "span", "beam", "joist_span_ft"
    )


def beam_cantilever(beam_span: float, *, load_psf: float = DECK_LOAD_PSF) -> Cell:
    """Return the greatest overhang of a deck beam past its post [in]: a quarter of the span beside it.

    Args: beam_span: actual span of the bay beside the overhang [in]; load_psf: as for the beam table
    Raises: OutOfRange: outside the load of the beam table
    Source: IRC 2018 R507.5, read in a trade magazine's article on the 2015 tables
    """
    need_positive(beam_span=beam_span)
    _within_load(load_psf, "IRC 2018 R507.5")
    return Cell(
        value=beam_span / 4.0, source="IRC 2018 R507.5", row="a quarter of the span beside it", status="read"
    )


BOARDS = ((1.5, "2_in_wood"), (1.0, "1.25_in_wood"))
"""Wood decking of the code's table by its true thickness [in]: 2 in nominal, and five-quarter."""
THIN_BY = 1 / 16
"""A board dried or planed thinner by this is still of its size [in]; common practice, no source."""


def decking_of(thickness: float) -> str:
    """Return the name that the code's table has for wood boards of a true thickness [in].

    Raises: OutOfRange: thinner than any of the table
    """
    need_positive(thickness=thickness)
    for thick, name in BOARDS:
        if thickness >= thick - THIN_BY:
            return name
    raise refuse(
        f"boards {thickness:g} in thick are thinner than the {BOARDS[-1][0]:g} in of IRC 2018 Table R507.7"
    )


def decking_joist_spacing(decking: str, *, diagonal: bool = False) -> Cell:
    """Return the greatest joist spacing under deck boards [in] (IRC 2018 Table R507.7).

    Args: decking: `1.25_in_wood` or `2_in_wood`; plastic composite follows its own listing
    """
    table = load_table("decking")
    need_one_of(dict.fromkeys(row["decking"] for row in table.rows), decking=decking)
    direction = "diagonal" if diagonal else "perpendicular"
    return cell(
        table, select(table, decking=decking, direction=direction)[0], "joist_spacing", "decking", "direction"
    )


def post_height(post: str, *, beam_plies: int, load_psf: float = DECK_LOAD_PSF) -> Cell:
    """Return the greatest height of a deck post, footing to beam [in] (IRC 2018 Table R507.4).

    Raises: BadInput: post not known; OutOfRange: outside the table
    """
    need_positive(beam_plies=beam_plies)
    table = load_table("deck_posts")
    _within_load(load_psf, table.source)
    need_one_of(dict.fromkeys(row["post"] for row in table.rows), post=post)
    rows = [
        row
        for row in select(table, post=post)
        if int(row["plies_from"]) <= beam_plies <= int(row["plies_to"])
    ]
    if not rows:
        raise refuse(f"a beam of {beam_plies} plies is more than the 3 of {table.source}")
    found = cell(table, rows[0], "height", "post", "plies_from", "plies_to")
    on_cap = post == "4x4" and beam_plies == 3  # footnote of the table
    return replace(found, row=f"{found.row}, on a post cap") if on_cap else found


def post_height_by_area(post: str, *, area_sqft: float) -> Cell:
    """Return the greatest height of a deck post [in] by its area (2021 style, one permit drawing)."""
    need_positive(area_sqft=area_sqft)
    table = load_table("deck_posts_by_area")
    need_one_of(dict.fromkeys(row["post"] for row in table.rows), post=post)
    row = next_up(table, select(table, post=post), "area_sqft", area_sqft)[0]
    if row["height"] == "not permitted":
        raise refuse(f"a {post} is not permitted under {row['area_sqft']} sq ft")
    return cell(table, row, "height", "post", "area_sqft")


@dataclass(frozen=True, slots=True, kw_only=True)
class FootingSize:
    """A footing of a code table [in]."""

    side: float
    diameter: float
    thickness: float
    source: str
    row: str
    status: str


def footing_by_spans(*, beam_span_ft: float, joist_span_ft: float) -> FootingSize:
    """Return the deck footing for a beam and joist span, 1,500 psf soil (DCA 6 Table 4).

    Raises: OutOfRange: a span over 18 ft, or no row held that covers both
    """
    need_positive(beam_span_ft=beam_span_ft, joist_span_ft=joist_span_ft)
    table = load_table("footings_by_span")
    rows = [
        row
        for row in table.rows
        if float(row["beam_span_ft"]) >= beam_span_ft and float(row["joist_span_ft"]) >= joist_span_ft
    ]
    if not rows:
        raise refuse(
            f"a beam span of {beam_span_ft:g} ft with joists of {joist_span_ft:g} ft is more than the rows "
            f"held of {table.source}"
        )
    row = min(rows, key=lambda row: float(row["side"]))
    return _footing(table, row, "beam_span_ft", "joist_span_ft")


def footing_by_area(area_sqft: float, *, soil_psf: float) -> FootingSize:
    """Return the deck footing for the area a post carries (IRC 2018 Table R507.3.1, 40 psf row).

    Raises: OutOfRange: more than 160 sq ft, or soil weaker than 1,500 psf
    """
    need_positive(area_sqft=area_sqft, soil_psf=soil_psf)
    table = load_table("footings_by_area")
    soils = sorted({float(row["soil_psf"]) for row in table.rows})
    weaker = [soil for soil in soils if soil <= soil_psf]
    if not weaker:
        raise refuse(f"soil of {soil_psf:g} psf is less than {soils[0]:g}, the first of {table.source}")
    rows = select(table, soil_psf=weaker[-1])
    return _footing(table, next_up(table, rows, "area_sqft", area_sqft)[0], "soil_psf", "area_sqft")


def _footing(table: Table, row: Row, *columns: str) -> FootingSize:
    side = cell(table, row, "side", *columns)
    return FootingSize(
        side=side.value,
        diameter=float(row["diameter"]),
        thickness=float(row["thickness"]),
        source=side.source,
        row=side.row,
        status=side.status,
    )


def least_post(height: float, *, beam_plies: int, load_psf: float = DECK_LOAD_PSF) -> Suggestion:
    """Return the least post of the table that reaches this height [in].

    Raises: OutOfRange: none does; names the greatest height of the table
    """
    need_positive(height=height)
    found = held(
        POST_SIZES,
        lambda size: Suggestion(size=size, span=post_height(size, beam_plies=beam_plies, load_psf=load_psf)),
    )
    return least(height, found, what="height")


def least_joist(span: float, *, species: str, spacing: float, edition: str = "2018") -> Suggestion:
    """Return the least joist of the table that spans this [in].

    Raises: OutOfRange: none does; names the greatest span of the table
    """
    need_positive(span=span)
    return _least(
        span, JOIST_SIZES, lambda size: joist_span(size, species=species, spacing=spacing, edition=edition)
    )


def least_beam(span: float, *, species: str, joist_span_ft: float, edition: str = "2018") -> Suggestion:
    """Return the beam of the least wood of the table that spans this [in]."""
    need_positive(span=span)
    return _least(
        span,
        BEAM_SIZES,
        lambda beam: beam_span(beam, species=species, joist_span_ft=joist_span_ft, edition=edition),
    )


def _least(span: float, sizes: Iterable[str], look_up: Callable[[str], Cell]) -> Suggestion:
    ordered = sorted(sizes, key=lambda size: section(size).area)
    return least(span, held(ordered, lambda size: Suggestion(size=size, span=look_up(size))))
