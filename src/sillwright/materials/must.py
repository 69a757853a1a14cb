"""Checks of what must be so, or must not, wherever the book asks for it."""

from __future__ import annotations

from collections.abc import Callable

from sillwright.materials.limits import in_force
from sillwright.rules import Case, Check, Source, Verdict

Applies = Callable[[Case], bool]


def always(_: Case) -> bool:
    """Tell that a check applies everywhere."""
    return True


def must(
    fact: str, rule: str, *, be: bool = True, where: Applies = always
) -> Callable[[Case], Verdict | None]:
    """Return the function of a check that holds an answer against a rule without a number."""

    def judge(case: Case) -> Verdict | None:
        if not in_force(case, rule) or not where(case):
            return None
        return Verdict(met=case.yes(fact) is be)

    return judge


def reach(fact: str, rule: str, *, where: Applies = always) -> Callable[[Case], Verdict | None]:
    """Return the function of a check that holds a measure against the least the place sets, if any."""

    def judge(case: Case) -> Verdict | None:
        if not case.sets(rule) or not where(case):
            return None
        return case.at_least(case.number(fact), rule)

    return judge


CHECK = Check(
    id="flashing",
    title="",
    source=Source(title="", has_editions=False),
    facts=(),
    severity="fix",
    message="",
    advice="",
    mark="sill",
    judge=lambda _: None,
)
"""What every check of water has in common; its source is that of its limits."""
