"""A few checks and facts of no trade, to try the engine on."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from sillwright.rules import Case, Check, Source, Verdict, said


@dataclass(frozen=True, slots=True, kw_only=True)
class Facts:
    """Three facts, none of them known unless stated."""

    sill: float | None = said("the height of the sill")
    opens: bool | None = said("whether it opens")
    cut: bool | None = said("whether it is cut")
    zone: str | None = said("the zone")


def sill_at_most(case: Case) -> Verdict | None:
    """Judge the sill of what opens."""
    if not case.yes("opens"):
        return None
    return case.at_most(case.number("sill"), "escape.sill")


def check(judge: Callable[[Case], Verdict | None] = sill_at_most, **changed: object) -> Check:
    """Return a check of the sill, with some of its data changed."""
    data: dict[str, object] = {
        "id": "sample.sill",
        "title": "height of the sill",
        "source": Source(title="IRC", by_edition={"2018": "R310.2.2", "2021": "R310.2.3"}),
        "facts": ("sill", "opens", "cut", "zone"),
        "limits": ("escape.sill", "stair.spread"),
        "tables": ("fenestration",),
        "severity": "fix",
        "message": "The sill at {place} is {value}; {limit} is allowed.",
        "advice": "Lower it.",
        "mark": "sill",
        "judge": judge,
    }
    return Check(**(data | changed))  # type: ignore[arg-type]
