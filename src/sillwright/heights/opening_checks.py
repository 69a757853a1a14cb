"""What the heights of one opening mean for people."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from sillwright.findings import Finding
from sillwright.heights.case import Case
from sillwright.heights.model import at
from sillwright.heights.wall_model import UnitHeights
from sillwright.rules import PRACTICE


def _step_down(case: Case, unit: UnitHeights) -> Iterator[Finding]:
    drop = case.drop("walking surface", at("threshold", unit.opening))
    if drop is None:
        return
    least, most = case.limit("step_down_least"), case.limit("step_down_most")
    found, asked = case.say(drop), f"{case.say(least)} to {case.say(most)}"
    if drop < least - 1e-6:
        yield Finding(
            id=f"heights.step down.shallow.{unit.opening}",
            severity="fix" if drop < 0.5 else "watch",
            message=f"The walking surface is {case.say(drop)} below the threshold of {unit.opening}; "
            f"in rain or snow country it is kept {case.say(least)} to {case.say(most)} below, so that splash "
            "and drifts stay out.",
            advice="Lower the deck, or shelter the door and keep a drained gap in front of it.",
            source=PRACTICE,
            place="walking surface",
            value=found,
            limit=asked,
        )
    if drop > most + 1e-6:
        yield Finding(
            id=f"heights.step down.deep.{unit.opening}",
            severity="watch",
            message=f"The walking surface is {case.say(drop)} below the threshold of {unit.opening}, "
            "a full step.",
            advice="Dry enough; ask whether everyone who uses the door can take the step.",
            source=PRACTICE,
            place="walking surface",
            value=found,
            limit=asked,
        )


def _other_door(case: Case, unit: UnitHeights) -> Iterator[Finding]:
    door, drop = unit.door, case.drop("walking surface", at("threshold", unit.opening))
    if door is None or drop is None or door.egress or door.swing != "out":
        return
    if drop > case.limit("threshold.egress") + 1e-6:
        yield Finding(
            id=f"heights.swing over drop.{unit.opening}",
            severity="watch",
            message=f"The door of {unit.opening} swings out over a drop of {case.say(drop)}; the code is "
            "read both ways here.",
            advice="Ask the inspector before the deck's height is fixed.",
            source=case.source("threshold.other"),
            place=at("threshold", unit.opening),
            value=case.say(drop),
            limit=f"at most {case.bound('threshold.egress')}, if so read",
        )


OPENING_CHECKS: tuple[Callable[[Case, UnitHeights], Iterator[Finding]], ...] = (
    _step_down,
    _other_door,
)
