"""Hold points of a plan: the acts behind one wait until it is ticked, or passed with a reason.

Which there are, and what they stand before, is data in `holds.toml`.
"""

from __future__ import annotations

import tomllib
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from typing import Any

from sillwright.job import Job
from sillwright.plan import Plan
from sillwright.setting.model import Act
from sillwright.store import Entry, State
from sillwright.wording import say

ORDER = ("plane", "trim", "pad", "fur", "set")
"""Kinds of act in the order of the work."""
LEAD_PAINT = 1978
"""Houses built before may have lead in their paint. US EPA, 40 CFR 745.103 (from memory)."""
WATER = "water."
"""Acts of the water plan are ticked under names that begin so."""
_SAME_PLACE = 1.0
"""Acts nearer than this [in] keep one name when the plan changes: pads stand on half inches."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Hold:
    """One hold point."""

    hold: str
    title: str
    text: str
    source: str
    photo: bool
    before: tuple[str, ...]


def holds_of(job: Job, plan: Plan) -> tuple[Hold, ...]:
    """Return the hold points of a plan, in the order of the work."""
    return tuple(
        Hold(
            hold=each["hold"],
            title=say(f"hold.{each['hold']}.title"),
            text=say(f"hold.{each['hold']}.text"),
            source=each["source"],
            photo=each["photo"],
            before=tuple(each["before"]),
        )
        for each in _data()
        if _WHEN[each["when"]](job, plan)
    )


@cache
def _data() -> list[dict[str, Any]]:
    text = files("sillwright.web").joinpath("holds.toml").read_text(encoding="utf-8")
    listed: list[dict[str, Any]] = tomllib.loads(text)["hold"]
    return listed


def _contradicted(_: Job, plan: Plan) -> bool:
    return bool(plan.survey.suspects or plan.survey.disturbed)


def _old_paint(job: Job, plan: Plan) -> bool:
    cut = bool(plan.setting.planed or plan.setting.trims)
    return cut and (job.site.year_built is None or job.site.year_built < LEAD_PAINT)


_WHEN: Mapping[str, Callable[[Job, Plan], bool]] = {
    "always": lambda _, plan: bool(plan.setting.acts),
    "contradicted": _contradicted,
    "old_paint": _old_paint,
    "trims": lambda _, plan: bool(plan.setting.trims),
    "pads": lambda _, plan: bool(plan.setting.pads),
    "units": lambda _, plan: bool(plan.setting.units),
}


def passed(hold: Hold, state: State, plan: Plan) -> Entry | None:
    """Return how a hold point was passed, None while it is open.

    Pads that were shot again and found right need no tick.
    """
    entry = state.holds.get(hold.hold)
    shot = plan.setting.reshoot
    if entry is None and hold.hold == "pads" and shot is not None and shot.verdict == "accept":
        return {"how": "plan", "reason": shot.sentence, "at": "", "device": "", "photo": None, "event": ""}
    return entry


def act_keys(plan: Plan) -> dict[str, Act]:
    """Return the acts by names that stay when the plan is made anew: kind, opening, place along the wall."""
    found: dict[str, Act] = {}
    for act in plan.setting.acts:
        place = "" if act.kind == "set" else f".{round(act.x / _SAME_PLACE):d}"
        key, n = f"{act.kind}.{act.opening}{place}", 1
        while key in found:
            n += 1
            key = f"{act.kind}.{act.opening}{place}.{n}"
        found[key] = act
    return found


def open_before(kind: str, holds: tuple[Hold, ...], state: State, plan: Plan) -> list[Hold]:
    """Return the hold points that an act of a kind still waits for."""
    return [hold for hold in holds if kind in hold.before and passed(hold, state, plan) is None]
