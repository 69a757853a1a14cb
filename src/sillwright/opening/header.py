"""Header and jack studs where an opening is widened: a lookup in the code's table. IRC R602.7."""

from __future__ import annotations

from dataclasses import replace

from sillwright.rules import Case, Check, OutsideTable, Source, Verdict
from sillwright.structure import BookHeader, HeaderLoad, header_span, header_spans


def _supports(case: Case) -> str:
    floors = case.number("floors_above")
    if floors < 1:
        return "roof_ceiling"
    if floors > 1:
        title = case.table("headers").source
        raise OutsideTable(
            f"outside this table: needs an engineer. {title}: no rows here for two or more floors"
        )
    center = case.yes("floor_center_bearing")
    return "roof_ceiling_one_center_bearing_floor" if center else "roof_ceiling_one_clear_span_floor"


def _load(case: Case) -> HeaderLoad:
    """Return what is borne; the lumber must be of the table."""
    supports = _supports(case)
    if not case.yes("header_no2"):
        raise OutsideTable(
            "outside this table: needs an engineer. It holds for No. 2 fir-larch, hem-fir, pine or spruce"
        )
    return HeaderLoad(
        supports=supports,
        ground_snow_psf=case.number("ground_snow_psf"),
        building_width_ft=case.number("building_width_ft"),
    )


def _span_load(case: Case) -> HeaderLoad:
    load = replace(_load(case), top_braced=case.yes("header_top_braced"))
    if not load.top_braced:
        case.limit("header.unbraced_factor")  # so that it is cited
    return load


def _least(case: Case, span: float) -> BookHeader:
    """Return the header of least wood that spans an opening.

    Raises:  OutsideTable: none in the table does
    """
    reached = header_spans(load=_span_load(case), book=case.book)
    for choice in reached:
        if choice.span.value >= span:
            case.used.append(choice.row)
            return choice
    longest = max(reached, key=lambda choice: choice.span.value)
    raise OutsideTable(
        f"outside this table: needs an engineer. {longest.span.source}: an opening of "
        f"{case.quantity(span, 'in')} is more than {case.quantity(longest.span.value, 'in')}, "
        f"the span of {longest.size}, the longest here"
    )


def _applies(case: Case) -> bool:
    return case.every(lambda: case.yes("widened"), lambda: case.yes("bearing_wall"))


def _span(case: Case) -> Verdict | None:
    if not _applies(case):
        return None
    wanted, header = case.number("header_span"), case.if_known("header")
    value = case.quantity(wanted, "in")
    if header is None:
        least = _least(case, wanted)
        return Verdict(met=False, value=value, limit="a header that is named", detail=_told(case, least))
    given = header_span(header, load=_span_load(case), book=case.book)
    case.used.append(given.row)
    value = case.quantity(wanted, "in", against=given.span.value)
    limit = f"at most {case.quantity(given.span.value, 'in')} with {header}"
    if given.span.value >= wanted:
        return Verdict(met=True, value=value, limit=limit)
    return Verdict(met=False, value=value, limit=limit, detail=_told(case, _least(case, wanted)))


def _told(case: Case, least: BookHeader) -> str:
    studs = "1 jack stud" if least.jacks == 1 else f"{least.jacks} jack studs"
    return (
        f"The least in the table is {least.size} with {studs} at each end; "
        f"it goes to {case.quantity(least.span.value, 'in')}."
    )


def _jacks(case: Case) -> Verdict | None:
    if not _applies(case):
        return None
    header = case.word("header")
    found = header_span(header, load=_load(case), book=case.book)
    case.used.append(found.row)
    have = case.number("jack_studs")
    return Verdict(met=have >= found.jacks, value=f"{have:g}", limit=f"at least {found.jacks} under {header}")


_LOOKUP = (
    "widened",
    "bearing_wall",
    "header",
    "header_no2",
    "floors_above",
    "floor_center_bearing",
    "ground_snow_psf",
    "building_width_ft",
)

_header = Check(
    id="header.span",
    title="header over a widened opening",
    source=Source(title="IRC", section="Table R602.7(1)"),
    facts=(*_LOOKUP, "header_span", "header_top_braced"),
    limits=("header.unbraced_factor",),
    tables=("headers",),
    severity="stop",
    pressing="widened",
    message="The header at {place} spans {value}; the table asks for {limit}.",
    advice="Cut nothing before the header is settled; shore first.",
    decides="building department by the table, an engineer outside it",
    mark="head",
    judge=_span,
)

CHECKS = (
    _header,
    replace(
        _header,
        id="header.jack_studs",
        title="jack studs under the header",
        facts=(*_LOOKUP, "jack_studs"),
        limits=(),
        message="Jack studs at each end at {place}: {value}; the table asks for {limit}.",
        advice="Add jack studs, each on solid bearing down to the foundation.",
        mark="jack studs",
        judge=_jacks,
    ),
)
