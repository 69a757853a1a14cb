"""Pictures of a plan's water: every act once, with the openings where the same is done."""

from __future__ import annotations

import re
from dataclasses import dataclass, replace

from sillwright.drawing.scene import Scene
from sillwright.drawing.water import Act, Paper, Step, acts, step_picture
from sillwright.flashing import dressed
from sillwright.job import Job
from sillwright.plan import Plan
from sillwright.water import Dressing


@dataclass(frozen=True, slots=True, kw_only=True)
class Card:
    """One act with its picture; done in the same way at each of its places."""

    numbers: tuple[int, ...]
    """Its places in the order of work, from 1."""
    openings: tuple[str, ...]
    step: Step
    """Of the first of them."""


def dressing_of(job: Job, plan: Plan) -> Dressing | None:
    """Return the dressed wall of a plan; None: it has no water plan."""
    return None if plan.water is None else dressed(job, plan.survey, plan.setting, plan.ledger).dressing


def water_cards(job: Job, plan: Plan, paper: Paper) -> tuple[Card, ...]:
    """Return the acts of a plan's water in the order of work, like acts at several openings as one card."""
    dressing = dressing_of(job, plan)
    if dressing is None:
        return ()
    alike: dict[str, list[Act]] = {}
    for act in acts(dressing):
        alike.setdefault(_alike(act), []).append(act)
    return tuple(
        Card(
            numbers=tuple(act.number for act in group),
            openings=tuple(dict.fromkeys(act.opening for act in group if act.opening)),
            step=step_picture(dressing, group[0].number, paper),
        )
        for group in alike.values()
    )


def _alike(act: Act) -> str:
    """Return what an act is, with no word of where."""
    key = act.key.removeprefix(f"{act.opening}.") if act.opening else act.key
    roll = act.sheet.stock.name
    return f"{re.sub(r'[0-9]+', '', key)} {roll} {len(act.panels)}"


def water_drawings(job: Job, plan: Plan) -> dict[str, Scene]:
    """Return the drawings of a plan's water by name: `water-step-01` and so on."""
    paper = replace(Paper(), units=job.units, caption=True)
    return {f"water-step-{card.numbers[0]:02d}": card.step.scene for card in water_cards(job, plan, paper)}
