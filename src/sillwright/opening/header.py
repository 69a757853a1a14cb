"""Header and jack studs where an opening is widened: a lookup in the code's table. IRC R602.7."""

from __future__ import annotations

from dataclasses import dataclass, replace

from sillwright.rules import Case, Check, OutsideTable, Row, Source, Verdict

_SHALLOW = ("2x4", "2x6")
"""Headers whose span stands without a braced top edge: the footnote names 2x8, 2x10 and 2x12."""
TOO_MUCH_ABOVE = {
    "roof_ceiling_one_clear_span_floor": "a floor that spans the house without a bearing in the middle",
    "roof_ceiling_two_or_more_floors": "two or more floors",
}
"""What walls may bear that the table here has no rows for."""


@dataclass(frozen=True, slots=True, kw_only=True)
class HeaderSpan:
    """How far one header goes."""

    header: str
    span: float
    """Greatest width between the jack studs [in]."""
    jack_studs: int
    """At each end, at least."""


def unbraced_span(span: float, header: str, *, factor: float) -> float:
    """Return the span of a header whose top edge is not laterally braced [in].

    Source:  IRC 2018, Table R602.7(1), footnote: spans of 2x8, 2x10 and 2x12 headers times 0.70
    """
    return span if header.partition("-")[2] in _SHALLOW else span * factor


def lumber(header: str) -> float:
    """Return the nominal section of a built-up header, `2-2x10` [in2]: what the least one is least in."""
    plies, _, section = header.partition("-")
    thickness, _, depth = section.partition("x")
    return float(plies) * float(thickness) * float(depth)


def _supports(case: Case) -> str:
    floors = case.number("floors_above")
    if floors < 1:
        return "roof_ceiling"
    if floors > 1:
        return "roof_ceiling_two_or_more_floors"
    center = case.yes("floor_center_bearing")
    return "roof_ceiling_one_center_bearing_floor" if center else "roof_ceiling_one_clear_span_floor"


def _place(case: Case) -> tuple[str, dict[str, float]]:
    """Return what is borne and where in the table to look; what is borne must be in it at all."""
    supports = _supports(case)
    if supports in TOO_MUCH_ABOVE:
        table = case.table("headers").source
        raise OutsideTable(
            f"outside this table: needs an engineer. {table}: no rows here for {TOO_MUCH_ABOVE[supports]}"
        )
    if not case.yes("header_no2"):
        raise OutsideTable(
            "outside this table: needs an engineer. It holds for No. 2 fir-larch, hem-fir, pine or spruce"
        )
    return supports, {
        "ground_snow_psf": case.number("ground_snow_psf"),
        "building_width_ft": case.number("building_width_ft"),
    }


def _reach(case: Case, header: str, row: Row) -> HeaderSpan:
    span = row.number("span")
    if not case.yes("header_top_braced"):
        span = unbraced_span(span, header, factor=case.limit("header.unbraced_factor").value)
    return HeaderSpan(header=header, span=span, jack_studs=round(row.number("jack_studs")))


def _given(case: Case, header: str) -> HeaderSpan:
    supports, at = _place(case)
    return _reach(case, header, case.row("headers", {"supports": supports, "header": header}, at))


def _least(case: Case, span: float) -> HeaderSpan:
    """Return the header of least section that spans an opening.

    Raises:  OutsideTable: none in the table does
    """
    supports, at = _place(case)
    table = case.table("headers")
    reached: list[tuple[HeaderSpan, Row]] = []
    for header in sorted(table.known("header"), key=lambda name: (lumber(name), name)):
        try:
            row = table.find({"supports": supports, "header": header}, at)
        except OutsideTable:
            continue  # this size has no row for the load; others may
        reached.append((_reach(case, header, row), row))
    if not reached:  # no size at all: let the table say which bound was passed
        table.find({"supports": supports, "header": "2-2x6"}, at)
    for choice, row in reached:
        if choice.span >= span:
            case.used.append(row)
            return choice
    longest = max((choice for choice, _ in reached), key=lambda choice: choice.span)
    raise OutsideTable(
        f"outside this table: needs an engineer. {table.source}: an opening of "
        f"{case.quantity(span, 'in')} is more than {case.quantity(longest.span, 'in')}, "
        f"the span of {longest.header}, the longest here"
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
    given = _given(case, header)
    value = case.quantity(wanted, "in", against=given.span)
    limit = f"at most {case.quantity(given.span, 'in')} with {header}"
    if given.span >= wanted:
        return Verdict(met=True, value=value, limit=limit)
    return Verdict(met=False, value=value, limit=limit, detail=_told(case, _least(case, wanted)))


def _told(case: Case, least: HeaderSpan) -> str:
    studs = "1 jack stud" if least.jack_studs == 1 else f"{least.jack_studs} jack studs"
    return (
        f"The least in the table is {least.header} with {studs} at each end; "
        f"it goes to {case.quantity(least.span, 'in')}."
    )


def _jacks(case: Case) -> Verdict | None:
    if not _applies(case):
        return None
    header = case.word("header")
    supports, at = _place(case)
    needed = round(case.row("headers", {"supports": supports, "header": header}, at).number("jack_studs"))
    have = case.number("jack_studs")
    return Verdict(met=have >= needed, value=f"{have:g}", limit=f"at least {needed} under {header}")


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
