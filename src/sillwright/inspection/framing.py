"""Joists, beam and footings of a deck by the code's span tables, as far as the job says what they are."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from math import ceil

from sillwright.errors import OutOfRange
from sillwright.findings import Finding
from sillwright.inspection.facts import Site
from sillwright.inspection.ledger_load import NEAR, USUAL_LIVE_PSF, ground_snow_psf
from sillwright.inspection.model import DeckFrame, FramingValue
from sillwright.inspection.wall_ledger import USUAL_SPACING, ends, joist_places
from sillwright.job import Deck
from sillwright.lengths import Unit, show
from sillwright.structure import (
    Cell,
    beam_span,
    footing_by_area,
    joist_span,
    least_beam,
    least_joist,
    section,
)

JOISTS = ("2x6", "2x8", "2x10", "2x12")
_ADVICE = "Take a larger section, a shorter span or closer joists, or ask an engineer."


def framing(site: Site) -> tuple[tuple[FramingValue, ...], tuple[Finding, ...]]:
    """Return what the tables say of joists, beam and footings; nothing of what the job leaves unsaid."""
    values: list[FramingValue] = []
    found: list[Finding] = []
    for look in (_joists, _beam, _footing):
        try:
            values += look(site)
        except OutOfRange as error:
            found.append(_outside(look, str(error)))
    found += [_short(value) for value in values if not value.met]
    return tuple(values), tuple(found)


def deck_frame(site: Site) -> DeckFrame | None:
    """Return the deck from above; None where the span of its joists or its ends are not known."""
    deck, extent = site.deck, ends(site)
    if deck.joist_span_ft is None or extent is None:
        return None
    length, spacing = extent[1] - extent[0], deck.joist_spacing or USUAL_SPACING
    size = _size(deck)
    depth = deck.joist_depth or deck.ledger_depth
    named = size or (f"{show(depth, unit=site.job.units, mark=True)} deep" if depth else "not stated")
    posts: tuple[float, ...] = ()
    if deck.beam_span_ft is not None:
        bays = max(1, ceil((length - POST) / (deck.beam_span_ft * 12.0) - 1e-9))
        posts = tuple(POST / 2 + (length - POST) * n / bays for n in range(bays + 1))
    assumed = [] if deck.joist_spacing is not None else ["joists 16 in on centre"]
    return DeckFrame(
        length=length,
        span=deck.joist_span_ft * 12.0,
        joists=joist_places(length, spacing=spacing),
        posts=posts,
        joist_words=f"{named} at {show(spacing, unit=site.job.units, mark=True)}",
        beam_words=deck.beam or "not stated",
        assumed=tuple(assumed),
    )


POST = 5.5
"""A 6x6 post, surfaced [in]."""


def load_psf(site: Site) -> float:
    """Return deck live load or ground snow, whichever is larger [lbf/ft2]."""
    return max(site.deck.live_load_psf or USUAL_LIVE_PSF, ground_snow_psf(site))


def _joists(site: Site) -> Iterator[FramingValue]:
    deck = site.deck
    if deck.species is None or deck.joist_span_ft is None:
        return
    size, spacing = _size(deck), deck.joist_spacing or USUAL_SPACING
    asked = deck.joist_span_ft * 12.0
    least = least_joist(asked, species=deck.species, spacing=spacing)
    yield _said("framing.joist.least", "least joist that works", least.size, least.span, site.job.units)
    if size is not None:
        held = joist_span(size, species=deck.species, spacing=spacing, load_psf=load_psf(site))
        yield _span("framing.joist", f"span of joists {size}", held, asked=asked, units=site.job.units)


def _size(deck: Deck) -> str | None:
    depth = deck.joist_depth or deck.ledger_depth or 0.0
    return next((size for size in JOISTS if abs(section(size).depth - depth) <= NEAR), None)


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


def _footing(site: Site) -> Iterator[FramingValue]:
    deck = site.deck
    if deck.joist_span_ft is None or deck.beam_span_ft is None or deck.soil_psf is None:
        return
    area = deck.beam_span_ft * deck.joist_span_ft / 2.0
    size = footing_by_area(area, soil_psf=deck.soil_psf)
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


def _said(ident: str, what: str, size: str, held: Cell, units: Unit) -> FramingValue:
    return FramingValue(
        id=ident,
        what=what,
        value=f"{size}, to {show(held.value, unit=units, mark=True)}",
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


def _short(value: FramingValue) -> Finding:
    return Finding(
        id=f"finding.{value.id}",
        severity="stop",
        message=f"The {value.what} is {value.value}; the table gives {value.asked}.",
        advice=_ADVICE,
        source=f"{value.source}, {value.row}" + ("; from memory, not read" if value.from_memory else ""),
        place="deck",
        value=value.value,
        limit=value.asked,
    )


def _outside(look: Callable[[Site], object], refusal: str) -> Finding:
    name = look.__name__.strip("_")
    return Finding(
        id=f"finding.framing.{name}.outside",
        severity="stop",
        message=f"The deck's {name}: {refusal}.",
        advice="An engineer decides; keep the letter with the job.",
        source="IRC R507.3 to R507.6",
        place="deck",
    )
