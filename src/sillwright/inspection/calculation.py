"""From a job to its structure by calculation, for your engineer: ledger, headers, and the deck's framing.

It answers where the code's tables end as well as where they hold; the findings stay those of the tables.
"""

from __future__ import annotations

from collections.abc import Iterator

from sillwright.errors import OutOfRange
from sillwright.inspection.engineer import EngineerSheet, told
from sillwright.inspection.facts import Site, slug
from sillwright.inspection.framing import footing_size, joist_size, load_psf
from sillwright.inspection.ledger_load import (
    PSF_PER_KPA,
    USUAL_LIVE_PSF,
    backing,
    band_thickness,
    ground_snow_psf,
    ledger_load,
    nominal,
)
from sillwright.inspection.wall_ledger import USUAL_SPACING
from sillwright.job import Job, UnitFacts
from sillwright.rules import RuleBook
from sillwright.structure import (
    DeckCase,
    HeaderCase,
    HeaderLoad,
    LedgerPlaces,
    Sheet,
    connection_species,
    deck_sheets,
    distances,
    header_sheet,
    header_sizes,
    least_places,
    ledger_sheets,
    wood,
)
from sillwright.survey import Survey
from sillwright.survey.model import OpeningShape

NOT_STATED = "not stated in the job"
LIGHTEST = "spruce_pine_fir"
"""Of the woods that the code's ledger table takes for a band joist, the one that bears least."""
_WOOD = {
    "2x band joist": "band joist",
    "1 in engineered rim": "engineered rim",
    "1-1/8 in engineered rim": "engineered rim",
    "solid blocking": "blocking",
    "4x beam edge": "beam",
}
"""Backings that are wood; the others leave nothing to calculate."""
_ONE_FLOOR = {
    True: "roof_ceiling_one_center_bearing_floor",
    False: "roof_ceiling_one_clear_span_floor",
}


def ledger_by_calculation(
    site: Site, book: RuleBook, places: LedgerPlaces | None
) -> tuple[EngineerSheet, ...]:
    """Return the ledger by calculation; nothing where there is none or its load is not stated.

    Args:    places: of its fasteners as laid out; None: at the least distances of the code's table
    """
    deck, load = site.deck, ledger_load(site, book)
    behind = backing(deck)
    if not deck.ledger_depth or load is None or behind is None:
        return ()
    if behind not in _WOOD:
        return (
            _refused("calc.ledger", "ledger", f"nothing to calculate: the backing is {behind}", site.job),
        )
    known = deck.species in connection_species()
    ledger_species = deck.species if deck.species is not None and known else LIGHTEST
    words = {"ledger": ledger_species, _WOOD[behind]: LIGHTEST}
    taken = ", ".join(f"{part} of {wood(species)}" for part, species in words.items())
    size = nominal(deck.ledger_depth) or "2x8"
    least = least_places(distances("ledger", size=size, book=book), distances("band_joist", book=book))
    sheets = ledger_sheets(
        load,
        ledger_species=ledger_species,
        backing_species=LIGHTEST,
        backing_thickness=band_thickness(deck),
        places=places or least,
    )
    laid = () if places is not None else ("distances: the least of the code's table",)
    return tuple(
        told(each, ident=ident, units=site.job.units, taken=(taken, *laid))
        for ident, each in zip(("calc.ledger", "calc.ledger-bolts"), sheets, strict=False)
    )


def deck_by_calculation(site: Site, tall: float | None) -> tuple[EngineerSheet, ...]:
    """Return joists, beam, posts and footings by calculation, as far as the job states them.

    Args:    tall: height of the posts [in]; None: not known
    """
    deck, job = site.deck, site.job
    if deck.joist_span_ft is None:
        return ()
    if deck.species is None:
        return (_refused("calc.deck", "deck framing", f"{NOT_STATED}: deck.species", job),)
    live, snow = deck.live_load_psf or USUAL_LIVE_PSF, ground_snow_psf(site)
    found = deck_sheets(
        DeckCase(
            species=deck.species,
            surface_psf=load_psf(site),
            snow=snow > live,
            joist_span_ft=deck.joist_span_ft,
            joist=joist_size(deck),
            joist_spacing=deck.joist_spacing or USUAL_SPACING,
            joist_overhang=deck.joist_overhang or 0.0,
            beam=deck.beam,
            beam_span_ft=deck.beam_span_ft,
            beam_overhang=deck.beam_overhang or 0.0,
            post=deck.post,
            post_height=tall,
            soil_psf=deck.soil_psf,
            footing_thickness=_thickness(site),
        )
    )
    return tuple(told(sheet, ident=f"calc.{key}", units=job.units) for key, sheet in found.items())


def _thickness(site: Site) -> float | None:
    """Return the thickness of the table's footing [in]; None: there is none."""
    try:
        size = footing_size(site.deck)
    except OutOfRange:  # told by the findings of the framing
        return None
    return None if size is None else size.thickness


def headers_by_calculation(job: Job, survey: Survey) -> Iterator[EngineerSheet]:
    """Yield the header over each opening of a bearing wall by calculation, or what the job does not state."""
    for unit in job.unit:
        if unit.facts is not None and unit.facts.bearing_wall is True:
            shape = next(each for each in survey.openings if each.name == unit.opening)
            yield _header(job, unit.opening, unit.facts, shape)


def _header(job: Job, opening: str, facts: UnitFacts, shape: OpeningShape) -> EngineerSheet:
    ident, subject = f"calc.header.{slug(opening)}", f"header over {opening}"
    if lacks := tuple(_lacks(job, facts, shape)):
        return _refused(ident, subject, f"{NOT_STATED}: {', '.join(lacks)}", job)
    unsaid = ("whether its top edge is held was not stated",) if facts.header_top_braced is None else ()
    try:
        sheet = header_sheet(_header_case(job, facts, shape))
    except OutOfRange as error:
        return _refused(ident, subject, str(error), job)
    return told(sheet, ident=ident, units=job.units, subject=subject, taken=unsaid)


def _lacks(job: Job, facts: UnitFacts, shape: OpeningShape) -> Iterator[str]:
    if facts.building_width_ft is None:
        yield "unit.facts.building_width_ft"
    if facts.floors_above is None:
        yield "unit.facts.floors_above"
    if facts.floors_above == 1 and facts.floor_center_bearing is None:
        yield "unit.facts.floor_center_bearing"
    if job.site.ground_snow_psf is None and job.site.ground_snow_kPa is None:
        yield "site.ground_snow_psf"
    if not shape.position_known:
        yield "where a jack stands along the wall"


def _header_case(job: Job, facts: UnitFacts, shape: OpeningShape) -> HeaderCase:
    """Return what is to be calculated.

    Raises:  OutOfRange: the loads or values of the calculation do not hold for it
    """
    floors, snow = facts.floors_above or 0, job.site.ground_snow_psf
    limits = (
        (floors > 1, f"{floors} floors above are more than the 1 that its loads are held for"),
        (facts.header_no2 is False, "the lumber is not No. 2 or better"),
        (
            facts.header is not None and facts.header not in header_sizes(),
            f"{facts.header} is no header of the code's table",
        ),
    )
    for wrong, words in limits:
        if wrong:
            raise OutOfRange(f"outside this table: needs an engineer; {words}")
    return HeaderCase(
        load=HeaderLoad(
            supports=_ONE_FLOOR[bool(facts.floor_center_bearing)] if floors else "roof_ceiling",
            building_width_ft=facts.building_width_ft or 0.0,
            ground_snow_psf=snow if snow is not None else (job.site.ground_snow_kPa or 0.0) * PSF_PER_KPA,
            top_braced=facts.header_top_braced is not False,
        ),
        opening=shape.right - shape.left,
        size=facts.header,
        jacks=facts.jack_studs or None,
    )


def _refused(ident: str, subject: str, why: str, job: Job) -> EngineerSheet:
    return told(Sheet(subject=subject, values=(), refused=why), ident=ident, units=job.units)
