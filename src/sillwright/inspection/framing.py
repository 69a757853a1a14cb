"""Decking, joists, beam and footings of a deck by the code's span tables, as far as the job says them."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace
from math import ceil

from sillwright.errors import OutOfRange
from sillwright.findings import Finding
from sillwright.heights import ChainResult
from sillwright.inspection.engineer import quantity
from sillwright.inspection.facts import Site
from sillwright.inspection.ledger_load import NEAR, USUAL_LIVE_PSF, ground_snow_psf
from sillwright.inspection.model import DeckFrame, FramingValue
from sillwright.inspection.wall_ledger import USUAL_SPACING, ends, joist_places
from sillwright.job import Deck
from sillwright.lengths import Unit, show
from sillwright.structure import (
    GUARD_HEIGHT,
    GUARD_LBF,
    GUARD_SOURCE,
    JOIST_SIZES,
    Cell,
    FootingSize,
    beam_cantilever,
    beam_span,
    decking_joist_spacing,
    decking_of,
    footing_by_area,
    joist_cantilever,
    joist_span,
    least_beam,
    least_joist,
    least_post,
    post_height,
    post_height_by_area,
    section,
)

HELD = "2018"
"""Edition whose span and footing tables are held."""
GUARD_POST = "framing.guard-post"
"""Id of the load of a guard post, which is no span."""
USUAL_POST = "6x6"
"""Where posts are not stated; common practice, no source."""
_ADVICE = {
    "framing.decking": "Set the joists closer, or take thicker boards.",
    "framing.post": "Take a larger post or a lower deck, or ask an engineer.",
    "framing.joist.overhang": "Let the joists run on less far, move the beam out, or ask an engineer.",
    "framing.beam.overhang": "Move the last posts out, or ask an engineer.",
}
_LARGER = "Take a larger section, a shorter span or closer joists, or ask an engineer."


def framing(site: Site, heights: ChainResult | None) -> tuple[tuple[FramingValue, ...], tuple[Finding, ...]]:
    """Return what the tables say of joists, beam, posts and footings; nothing of what the job leaves unsaid.

    Args:    heights: solved, for the height of the posts; None: not enough is known
    """
    values: list[FramingValue] = []
    found: list[Finding] = []
    tall = post_tall(heights)
    looks: tuple[tuple[str, Callable[[], Iterator[FramingValue]]], ...] = (
        ("decking", lambda: _decking(site)),
        ("joists", lambda: _joists(site)),
        ("joist overhang", lambda: _joist_overhang(site)),
        ("beam", lambda: _beam(site)),
        ("beam overhang", lambda: _beam_overhang(site)),
        ("post", lambda: _post(site, tall)),
        ("footing", lambda: _footing(site)),
    )
    for name, look in looks:
        try:
            values += look()
        except OutOfRange as error:
            found.append(_outside(name, str(error)))
    edition = site.job.code.edition
    if edition != HELD and values:
        values = [_of_held(value, edition) for value in values]
        found.append(_other_edition(edition))
    values += _guard(site)
    found += [_short(value) for value in values if not value.met]
    return tuple(values), tuple(found)


def deck_frame(site: Site) -> DeckFrame | None:
    """Return the deck from above; None where the span of its joists or its ends are not known."""
    deck, extent = site.deck, ends(site)
    if deck.joist_span_ft is None or extent is None:
        return None
    length, spacing = extent[1] - extent[0], deck.joist_spacing or USUAL_SPACING
    size = joist_size(deck)
    depth = deck.joist_depth or deck.ledger_depth
    named = size or (f"{show(depth, unit=site.job.units, mark=True)} deep" if depth else "not stated")
    posts = _posts(deck, length)
    assumed = [] if deck.joist_spacing is not None else ["joists 16 in on centre"]
    if posts and deck.post is None:
        assumed.append(f"posts {USUAL_POST}")
    return DeckFrame(
        length=length,
        span=deck.joist_span_ft * 12.0,
        joist_overhang=deck.joist_overhang or 0.0,
        beam_overhang=deck.beam_overhang or 0.0,
        joists=joist_places(length, spacing=spacing),
        posts=posts,
        post_side=section(deck.post or USUAL_POST).breadth,
        joist_words=f"{named} at {show(spacing, unit=site.job.units, mark=True)}",
        beam_words=deck.beam or "not stated",
        assumed=tuple(assumed),
    )


def _posts(deck: Deck, length: float) -> tuple[float, ...]:
    """Return the centres of the posts: as few as the beam's span allows, evenly, the last set in [in]."""
    if deck.beam_span_ft is None:
        return ()
    inset = max(section(deck.post or USUAL_POST).breadth / 2.0, deck.beam_overhang or 0.0)
    between = max(0.0, length - 2.0 * inset)
    bays = max(1, ceil(between / (deck.beam_span_ft * 12.0) - 1e-9))
    return tuple(inset + between * n / bays for n in range(bays + 1))


def post_tall(heights: ChainResult | None) -> float | None:
    """Return the height of the posts, from the footing to the beam's underside [in]; None: not known."""
    if heights is None or not (heights.has("beam bottom") and heights.has("footing top")):
        return None
    top, bottom = heights.z("beam bottom"), heights.z("footing top")
    return None if top is None or bottom is None else top - bottom


def load_psf(site: Site) -> float:
    """Return deck live load or ground snow, whichever is larger [lbf/ft2]."""
    return max(site.deck.live_load_psf or USUAL_LIVE_PSF, ground_snow_psf(site))


def joist_size(deck: Deck) -> str | None:
    """Return the nominal size of the joists by their depth; None: none of the table."""
    depth = deck.joist_depth or deck.ledger_depth or 0.0
    return next((size for size in JOIST_SIZES if abs(section(size).depth - depth) <= NEAR), None)


def _decking(site: Site) -> Iterator[FramingValue]:
    """Yield how far apart joists may stand under the boards, where the job says what these are of."""
    deck, units = site.deck, site.job.units
    if deck.decking is None or deck.decking_thickness is None:
        return
    asked = deck.joist_spacing or USUAL_SPACING
    what = f"spacing of joists under boards {show(deck.decking_thickness, unit=units, mark=True)} thick"
    if deck.decking == "composite":
        yield FramingValue(
            id="framing.decking",
            what=what,
            value=f"{show(asked, unit=units, mark=True)}: see the listing of the boards' maker",
            asked="",
            met=True,
            source="IRC 2018 Table R507.7",
            row="composite boards by their own listing",
            from_memory=False,
        )
        return
    boards = decking_of(deck.decking_thickness)
    held = decking_joist_spacing(boards, diagonal=deck.decking_diagonal)
    yield _span("framing.decking", what, held, asked=asked, units=units)


def _joists(site: Site) -> Iterator[FramingValue]:
    deck = site.deck
    if deck.species is None or deck.joist_span_ft is None:
        return
    size, spacing = joist_size(deck), deck.joist_spacing or USUAL_SPACING
    asked = deck.joist_span_ft * 12.0
    least = least_joist(asked, species=deck.species, spacing=spacing)
    yield _said("framing.joist.least", "least joist that works", least.size, least.span, site.job.units)
    if size is not None:
        held = joist_span(size, species=deck.species, spacing=spacing, load_psf=load_psf(site))
        yield _span("framing.joist", f"span of joists {size}", held, asked=asked, units=site.job.units)


def _joist_overhang(site: Site) -> Iterator[FramingValue]:
    """Yield how far joists may run on past the beam; nothing where the job says that they do not."""
    deck, size = site.deck, joist_size(site.deck)
    none = deck.joists_cantilever is False or deck.joist_overhang == 0.0
    if none or deck.species is None or deck.joist_span_ft is None or size is None:
        return
    held = joist_cantilever(
        size,
        species=deck.species,
        spacing=deck.joist_spacing or USUAL_SPACING,
        joist_span=deck.joist_span_ft * 12.0,
        load_psf=load_psf(site),
    )
    yield _overhang("framing.joist.overhang", f"overhang of joists {size}", held, deck.joist_overhang, site)


def _beam(site: Site) -> Iterator[FramingValue]:
    deck = site.deck
    if deck.species is None or deck.joist_span_ft is None or deck.beam_span_ft is None:
        return
    asked = deck.beam_span_ft * 12.0
    if deck.beam is None:
        least = least_beam(asked, species=deck.species, joist_span_ft=deck.joist_span_ft)
        yield _said("framing.beam.least", "least beam that works", least.size, least.span, site.job.units)
        return
    held = beam_span(
        deck.beam, species=deck.species, joist_span_ft=deck.joist_span_ft, load_psf=load_psf(site)
    )
    yield _span("framing.beam", f"span of the beam {deck.beam}", held, asked=asked, units=site.job.units)


def _beam_overhang(site: Site) -> Iterator[FramingValue]:
    deck = site.deck
    if deck.beam_span_ft is None or deck.beam_overhang == 0.0:
        return
    held = beam_cantilever(deck.beam_span_ft * 12.0, load_psf=load_psf(site))
    yield _overhang("framing.beam.overhang", "overhang of the beam", held, deck.beam_overhang, site)


def _overhang(ident: str, what: str, held: Cell, asked: float | None, site: Site) -> FramingValue:
    if asked is None:
        return _said(ident, f"greatest {what}", "", held, site.job.units)
    return _span(ident, what, held, asked=asked, units=site.job.units)


def _post(site: Site, tall: float | None) -> Iterator[FramingValue]:
    """Yield how tall the posts may be under a beam of so many plies; by area too where the code has it."""
    deck, units = site.deck, site.job.units
    if deck.beam is None:
        return
    plies = section(deck.beam).plies
    if deck.post is None and tall is not None:
        least = least_post(tall, beam_plies=plies, load_psf=load_psf(site))
        yield _said("framing.post.least", "least post that reaches", least.size, least.span, units)
    size = deck.post or USUAL_POST
    held = post_height(size, beam_plies=plies, load_psf=load_psf(site))
    yield _height("framing.post", f"height of posts {size}", held, tall, units)
    area = post_area(deck)
    if site.job.code.edition == "2021" and area is not None and size != "4x6":
        by_area = post_height_by_area(size, area_sqft=area)
        yield _height(
            "framing.post.area", f"the same under {area:.0f} sq ft, 2021 style", by_area, tall, units
        )


def _height(ident: str, what: str, held: Cell, tall: float | None, units: Unit) -> FramingValue:
    if tall is None:
        return _said(ident, f"greatest {what}", "", held, units)
    return _span(ident, what, held, asked=tall, units=units)


def post_area(deck: Deck) -> float | None:
    """Return the area a post carries: its bay times half the joists' span and their overhang [ft2]."""
    if deck.joist_span_ft is None or deck.beam_span_ft is None:
        return None
    return deck.beam_span_ft * (deck.joist_span_ft / 2.0 + (deck.joist_overhang or 0.0) / 12.0)


def footing_size(deck: Deck) -> FootingSize | None:
    """Return the footing of the table; None: not enough is stated.

    Raises:  OutOfRange: outside the table
    """
    area = post_area(deck)
    return None if area is None or deck.soil_psf is None else footing_by_area(area, soil_psf=deck.soil_psf)


def _footing(site: Site) -> Iterator[FramingValue]:
    size, area = footing_size(site.deck), post_area(site.deck)
    if size is None:
        return
    units = site.job.units
    side, thick = (show(length, unit=units, mark=True) for length in (size.side, size.thickness))
    yield FramingValue(
        id="framing.footing",
        what=f"footing under a post that carries {area:.0f} sq ft",
        value=f"{side} square or {show(size.diameter, unit=units, mark=True)} round, {thick} thick",
        asked="",
        met=True,
        source=size.source,
        row=size.row,
        from_memory=size.status == "memory",
    )


def _guard(site: Site) -> Iterator[FramingValue]:
    """Yield the load that a guard post brings to the framing, unless none stand on its edge."""
    units = site.job.units
    load = quantity(GUARD_LBF, "lbf", units=units)
    moment = quantity(GUARD_LBF * GUARD_HEIGHT, "in lbf", units=units)
    high = show(GUARD_HEIGHT, unit=units, mark=True)
    if site.deck.guard_posts_on_edge is not False:
        yield FramingValue(
            id=GUARD_POST,
            what="load of a guard post on the framing",
            value=f"{load} at its top in any direction: {moment} at {high}",
            asked="",
            met=True,
            source=GUARD_SOURCE,
            row="no span table covers it",
            from_memory=True,
        )


def _said(ident: str, what: str, size: str, held: Cell, units: Unit) -> FramingValue:
    return FramingValue(
        id=ident,
        what=what,
        value=f"{size}, to {show(held.value, unit=units, mark=True)}".removeprefix(", "),
        asked="",
        met=True,
        source=_table(held.source),
        row=held.row,
        from_memory=held.status == "memory",
    )


def _span(ident: str, what: str, held: Cell, *, asked: float, units: Unit) -> FramingValue:
    return FramingValue(
        id=ident,
        what=what,
        value=show(asked, unit=units, mark=True),
        asked=f"at most {show(held.value, unit=units, mark=True)}",
        met=asked <= held.value + 1e-6,
        source=_table(held.source),
        row=held.row,
        from_memory=held.status == "memory",
    )


def _table(source: str) -> str:
    """Return the name of the 2018 table, where one file holds those of several editions."""
    return source.partition("; edition")[0].removeprefix("edition 2018: ")


def _of_held(value: FramingValue, edition: str) -> FramingValue:
    """Return a value whose source says that the table is not of the edition in force."""
    held = value.source.startswith(f"IRC {HELD}")
    return replace(value, source=f"{value.source}, not of {edition}") if held else value


def _other_edition(edition: str) -> Finding:
    return Finding(
        id="finding.framing.edition",
        severity="fix",
        message=f"Joists, beam, posts and footings were looked up in the tables of the {HELD} edition: those "
        f"of the {edition} edition, which this job is judged by, are not held here.",
        advice=f"Look them up in the {edition} edition before ordering, or have the building department "
        "accept the older tables.",
        source=f"IRC {HELD}, R507.3 to R507.6",
        place="deck",
    )


def _short(value: FramingValue) -> Finding:
    return Finding(
        id=f"finding.{value.id}",
        severity="stop",
        message=f"The {value.what} is {value.value}; the table gives {value.asked}.",
        advice=_ADVICE.get(value.id, _LARGER),
        source=f"{value.source}, {value.row}" + ("; from memory, not read" if value.from_memory else ""),
        place="deck",
        value=value.value,
        limit=value.asked,
    )


def _outside(name: str, refusal: str) -> Finding:
    return Finding(
        id=f"finding.framing.{name.replace(' ', '-')}.outside",
        severity="stop",
        message=f"The deck's {name}: {refusal}.",
        advice="An engineer decides; keep the letter with the job.",
        source="IRC R507.3 to R507.6",
        place="deck",
    )
