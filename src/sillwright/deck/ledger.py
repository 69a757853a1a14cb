"""A ledger as laid out: fastener distances, lateral ties, bearing of its joists. IRC R507.6, R507.9."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Literal

from sillwright.rules import Case, Check, Source, Verdict, check_stated, said

Ledger = Literal["2x8", "2x10", "2x12"]
Fastener = Literal["lag", "bolt"]
TieForm = Literal["interior", "exterior"]


@dataclass(frozen=True, slots=True, kw_only=True)
class LedgerFacts:
    """One ledger with its 1/2 in fasteners in two rows; the least distance of each kind, in inches."""

    # RUF009: `said` makes a field with its words, as dataclasses.field does
    ledger: Ledger | None = said("the size of the ledger", one_of=Ledger)  # noqa: RUF009
    band: str | None = said("the size of the band joist", form=(r"\d+x\d+", "2x10"))
    fastener: Fastener | None = said("whether lag screws or bolts", one_of=Fastener)  # noqa: RUF009
    bolts_at_lag_spacing: bool | None = said("whether bolts stand as close as lag screws would")
    top_edge: float | None = said("the distance from the top row to the ledger's top edge")
    low_row: float | None = said("the distance from the low row to the ledger's top edge")
    bottom_edge: float | None = said("the distance from the low row to the ledger's bottom edge")
    end: float | None = said("the distance from the last fastener to the ledger's end")
    rows_apart: float | None = said("the distance between the rows")
    band_top_edge: float | None = said("the distance from the top row to the band joist's top edge")
    band_bottom_edge: float | None = said("the distance from the low row to the band joist's bottom edge")
    tie_form: TieForm | None = said("the form of the lateral ties", one_of=TieForm)  # noqa: RUF009
    tie_count: int | None = said("the number of lateral ties")
    tie_capacity_lb: float | None = said("the allowable load of each lateral tie")
    tie_from_end: float | None = said("the distance from the outer tie to the ledger's end")
    joist_bearing: float | None = said("how long the joists bear on their hangers")

    def __post_init__(self) -> None:
        check_stated(self)


def _placed(ident: str, title: str, fact: str, limit: str) -> Check:
    """Return a check of a distance that must reach a limit."""
    return replace(
        _PLACED,
        id=ident,
        title=title,
        facts=(fact,),
        limits=(limit,),
        message=f"From {title} at {{place}} it is {{value}}; it must be {{limit}}.",
        judge=lambda case: case.at_least(case.number(fact), limit),
    )


def _between(case: Case, fact: str, least: str, most: str) -> Verdict:
    low = case.at_least(case.number(fact), least)
    high = case.at_most(case.number(fact), most)
    return replace(high if low.met else low, limit=f"{low.limit}, {high.limit}")


def _low_row(case: Case) -> Verdict:
    # footnote: 4-1/2 in, 2x8 on 2x8, with lag screws or with bolts at the lag screw spacing
    size, place = case.word("ledger"), case.number("low_row")
    full = case.at_least(place, f"ledger.low_row_{size}")
    if full.met or size != "2x8":
        return full
    reduced = case.every(
        lambda: case.word("band") == "2x8",
        lambda: case.some(lambda: case.word("fastener") == "lag", lambda: case.yes("bolts_at_lag_spacing")),
    )
    return case.at_least(place, "ledger.low_row_2x8_lag") if reduced else full


def _tie_count(case: Case) -> Verdict:
    return case.at_least(case.number("tie_count"), f"tie.{case.word('tie_form')}_count")


def _tie_capacity(case: Case) -> Verdict:
    return case.at_least(case.number("tie_capacity_lb"), f"tie.{case.word('tie_form')}_capacity")


def _tie_from_end(case: Case) -> Verdict:
    return case.at_most(case.number("tie_from_end"), "tie.from_end")


_PLACED = Check(
    id="ledger",
    title="",
    source=Source(title="IRC", section="Table R507.9.1.3(2)"),
    facts=(),
    severity="fix",
    message="",
    advice="Lay the fasteners out again before drilling.",
    mark="ledger",
    judge=_low_row,
)
_TIED = replace(
    _PLACED,
    source=Source(title="IRC", section="R507.9.2"),
    message="Lateral ties at {place}: {value}; the rule is {limit}.",
    advice="Fit the ties of one of the two details, or have them designed.",
)

CHECKS: tuple[Check, ...] = (
    _placed("ledger.top_edge", "top row to the ledger's top edge", "top_edge", "ledger.top_edge"),
    _placed("ledger.bottom_edge", "low row to the ledger's bottom edge", "bottom_edge", "ledger.bottom_edge"),
    replace(
        _PLACED,
        id="ledger.low_row",
        title="low row to the ledger's top edge",
        facts=("ledger", "band", "fastener", "bolts_at_lag_spacing", "low_row"),
        limits=tuple(f"ledger.low_row_{size}" for size in ("2x8", "2x8_lag", "2x10", "2x12")),
        message="From low row to the ledger's top edge at {place} it is {value}; it must be {limit}.",
    ),
    replace(
        _PLACED,
        id="ledger.end",
        title="last fastener to the ledger's end",
        facts=("end",),
        limits=("ledger.end_least", "ledger.end_most"),
        message="From the last fastener to the ledger's end at {place} it is {value}; it must be {limit}.",
        judge=lambda case: _between(case, "end", "ledger.end_least", "ledger.end_most"),
    ),
    replace(
        _PLACED,
        id="ledger.rows",
        title="distance between the rows of fasteners",
        facts=("rows_apart",),
        limits=("ledger.rows_least", "ledger.rows_most"),
        message="The rows of fasteners at {place} stand {value} apart; it must be {limit}.",
        judge=lambda case: _between(case, "rows_apart", "ledger.rows_least", "ledger.rows_most"),
    ),
    replace(
        _placed("band.top_edge", "top row to the band joist's top edge", "band_top_edge", "band.top_edge"),
        mark="band joist",
    ),
    replace(
        _placed(
            "band.bottom_edge",
            "low row to the band joist's bottom edge",
            "band_bottom_edge",
            "band.bottom_edge",
        ),
        mark="band joist",
    ),
    replace(
        _TIED,
        id="tie.count",
        title="number of lateral ties",
        facts=("tie_form", "tie_count"),
        limits=("tie.interior_count", "tie.exterior_count"),
        judge=_tie_count,
    ),
    replace(
        _TIED,
        id="tie.capacity",
        title="capacity of each lateral tie",
        facts=("tie_form", "tie_capacity_lb"),
        limits=("tie.interior_capacity", "tie.exterior_capacity"),
        judge=_tie_capacity,
    ),
    replace(
        _TIED,
        id="tie.from_end",
        title="outer lateral ties to the ledger's ends",
        facts=("tie_from_end",),
        limits=("tie.from_end",),
        judge=_tie_from_end,
    ),
    replace(
        _placed("joist.bearing", "bearing of the joists in their hangers", "joist_bearing", "joist.bearing"),
        source=Source(title="IRC", section="R507.6.1"),
        message="The joists at {place} bear on {value} of their hangers; it must be {limit}.",
        advice="Push the joists home, or take hangers with a longer seat.",
    ),
)
