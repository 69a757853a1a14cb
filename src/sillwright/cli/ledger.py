"""`sillwright ledger`: what is found about a ledger that stands alone, without a job."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from sillwright.cli.asked import LedgerAsked
from sillwright.cli.calculated import CALCULATE
from sillwright.cli.folder import check_place, write_folder
from sillwright.cli.ledger_case import FLANGE, JOIST, THICKNESS, Case, read_case
from sillwright.cli.say import Words, say
from sillwright.errors import BadInput, Fault, OutOfRange
from sillwright.findings import Finding, worst_first
from sillwright.inspection import EngineerSheet, told
from sillwright.structure import (
    BandAt,
    Cell,
    Layout,
    LayoutRequest,
    Ledger,
    LedgerPlaces,
    Sheet,
    attachment_findings,
    distances,
    fastener_spacing,
    hangers,
    laid_places,
    lateral_ties,
    layout,
    least_places,
    ledger_sheets,
)

SAME = 0.125
"""Dry or wet, a board is taken for its size when it is this near [in]; common practice, no source."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Answer:
    """What is found about a ledger; None where it was not asked or may not be built."""

    case: Case
    findings: tuple[Finding, ...]
    spacing: Cell | None = None
    layout: Layout | None = None
    ties: tuple[float, ...] | None = None
    calculated: tuple[EngineerSheet, ...] = ()
    """By the yield-limit equations; empty where it was not asked."""


def ledger_alone(asked: LedgerAsked, *, out: Path | None) -> None:
    """Say how a ledger is fastened, or what forbids it; draw the layout into a folder where one is named.

    Raises:  BadInput: every option that cannot be used; OutOfRange: outside the table
    """
    from sillwright.cli.ledger_words import words  # noqa: PLC0415  it imports this module

    case = read_case(asked)
    if out is not None:
        if case.length is None:
            raise BadInput(Fault("--out", "there is no layout to draw.", "Give --length as well."))
        check_place(out)
    found = answer(case)
    said = list(words(found))
    if out is not None:
        said.append(_drawn(found, out))
    say(said)


def _drawn(found: Answer, out: Path) -> Words:
    """Draw the layout into a folder, if there is one, and say so."""
    if found.layout is None or not found.layout.fasteners:
        return Words(f"Nothing was drawn: there is no layout. {out} is as it was.", "watch", "WATCH")
    from sillwright.cli.ledger_drawing import drawings  # noqa: PLC0415  takes long to load

    write_folder(out, drawings(found))
    return Words(f"Drawn: {out / 'ledger.svg'} and {out / 'ledger.dxf'}")


def answer(case: Case) -> Answer:
    """Return what is found about a ledger.

    Raises:  OutOfRange: outside the table, and no calculation was asked for or it has no value either
    """
    found = list(attachment_findings(case.attachment, book=case.book))
    outside = next((each for each in found if each.id == "ledger.table"), None)
    if any(each.severity == "stop" for each in found):
        calculated = _calculated(case, None)
        if outside is not None and all(each.refused for each in calculated):
            more = "; ".join(dict.fromkeys(each.refused for each in calculated))
            raise OutOfRange(f"{outside.message}\n{f'By calculation: {more}.' if more else CALCULATE}")
        return Answer(case=case, findings=worst_first(found), calculated=calculated)
    spacing = fastener_spacing(case.load, book=case.book)
    request = _request(case, case.length, spacing.value) if case.length is not None else None
    laid = layout(request) if request is not None else None
    ties, lack = _ties(case)
    found += [*(laid.findings if laid else ()), *lack]
    placed = laid_places(request, laid) if request and laid and laid.fasteners else None
    return Answer(
        case=case,
        findings=worst_first(found),
        spacing=spacing,
        layout=laid,
        ties=ties,
        calculated=_calculated(case, placed),
    )


def reduced(case: Case) -> bool:
    """Tell whether the low row may rise: a 2x8 on a 2x8 with lag screws (footnote of the table)."""
    small = case.asked.ledger == "2x8" and abs(case.band_depth - case.depth) <= SAME
    return small and case.asked.fastener == "lag"


def _request(case: Case, length: float, spacing: float) -> LayoutRequest:
    """Return the layout to be found; heights from the ledger's bottom edge."""
    top = case.depth - case.band_drop
    return LayoutRequest(
        length=length,
        spacing=spacing,
        ledger=Ledger(
            top=case.depth,
            depth=case.depth,
            in_ledger=distances("ledger", size=case.asked.ledger, reduced=reduced(case), book=case.book),
            in_band=distances("band_joist", book=case.book),
        ),
        band=(BandAt(x=0.0, bottom=top - case.band_depth, top=top),),
        obstacles=(*hangers(case.joists, joist_breadth=JOIST, flange=FLANGE), *case.obstacles),
    )


def _ties(case: Case) -> tuple[tuple[float, ...] | None, list[Finding]]:
    if case.length is None:
        return None, []
    try:
        return lateral_ties(case.asked.ties, length=case.length, joists=case.joists, book=case.book), []
    except OutOfRange as error:
        stop = Finding(
            id="ledger.ties",
            severity="stop",
            message=f"The lateral ties are {error}.",
            advice="Change the joists, or have the ties designed.",
            source="IRC 2018 R507.9.2",
        )
    return None, [stop]


def _calculated(case: Case, places: LedgerPlaces | None) -> tuple[EngineerSheet, ...]:
    """Return the ledger by calculation where asked; without a layout, at the table's least distances."""
    if not case.asked.calculate:
        return ()
    species = case.asked.species.replace("-", "_")
    if case.asked.band not in THICKNESS:
        refused = f"nothing to calculate: the backing is {case.attachment.backing}"
        return (told(Sheet(subject="ledger", values=(), refused=refused), ident="calc.ledger", units="in"),)
    sheets = ledger_sheets(
        case.load,
        ledger_species=species,
        backing_species=species,
        backing_thickness=THICKNESS[case.asked.band],
        places=places
        or least_places(
            distances("ledger", size=case.asked.ledger, book=case.book),
            distances("band_joist", book=case.book),
        ),
    )
    return tuple(told(each, ident="calc.ledger", units="in") for each in sheets)
