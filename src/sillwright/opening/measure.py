"""Checks that compare one measure with one limit."""

from __future__ import annotations

from collections.abc import Callable
from typing import Literal

from sillwright.rules import Case, Verdict

Applies = Callable[[Case], bool]


def compared(
    fact: str, how: Literal["at least", "at most", "below"], limit: str, *, where: Applies
) -> Callable[[Case], Verdict | None]:
    """Return the function of a check that holds a fact against a limit, where it applies."""

    def judge(case: Case) -> Verdict | None:
        if not where(case):
            return None
        compare = {"at least": case.at_least, "at most": case.at_most, "below": case.below}[how]
        return compare(case.number(fact), limit)

    return judge
