"""Pictures of a plan's water: acts with the openings where the same is done, maps, sections."""

from __future__ import annotations

import re
from dataclasses import dataclass, replace

from sillwright.drawing.cutting_plan import cutting_drawings
from sillwright.drawing.figures import Figures
from sillwright.drawing.page import sheet
from sillwright.drawing.scene import Scene
from sillwright.drawing.water import (
    PHONE,
    Act,
    Paper,
    SectionPicture,
    Step,
    WaterMap,
    acts,
    section_pictures,
    seen_in_plan,
    step_picture,
    water_maps,
)
from sillwright.drawing.water.acts import standings
from sillwright.drawing.water.sentences import sentence
from sillwright.drawing.water.square import squared
from sillwright.flashing import dressed
from sillwright.job import Job
from sillwright.plan import Plan
from sillwright.water import Dressing, Kind

_HIDDEN = (Kind.BACKING, Kind.PATCH, Kind.PAN, Kind.METAL, Kind.LEDGER_SHEET)


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


def water_cards(job: Job, plan: Plan, paper: Paper, upright: Paper | None = None) -> tuple[Card, ...]:
    """Return the acts of a plan's water in the order of work, like acts at several openings as one card.

    Args:    upright: paper for pictures that come out larger on it; None: all have the same
    """
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
            step=_larger(dressing, group[0].number, paper, upright),
        )
        for group in alike.values()
    )


def _larger(dressing: Dressing, number: int, paper: Paper, upright: Paper | None) -> Step:
    """Return an act with the larger of its pictures."""
    step = step_picture(dressing, number, paper)
    if upright is None or sheet(step.scene).width > upright.width:
        return step
    return step_picture(dressing, number, upright)


def _alike(act: Act) -> str:
    """Return what an act is, with no word of where."""
    key = act.key.removeprefix(f"{act.opening}.") if act.opening else act.key
    roll = act.sheet.stock.name
    return f"{re.sub(r'[0-9]+', '', key)} {roll} {len(act.panels)}"


@dataclass(frozen=True, slots=True, kw_only=True)
class Told:
    """One act in words, with the card whose picture shows it."""

    number: int
    key: str
    piece: str
    """Id of the piece."""
    opening: str
    title: str
    sentence: str
    card: Card
    covered: bool
    """Later pieces hide it for good: worth a photo."""


def told_acts(job: Job, plan: Plan, paper: Paper) -> tuple[Told, ...]:
    """Return every act of a plan's water in the order of work, in the words of its own opening."""
    dressing = dressing_of(job, plan)
    if dressing is None:
        return ()
    figures = Figures(job.units)
    cards = {number: card for card in water_cards(job, plan, paper) for number in card.numbers}
    return tuple(
        Told(
            number=now.act.number,
            key=now.act.key,
            piece=now.act.ref,
            opening=now.act.opening or "",
            title=_title(cards[now.act.number], now.act),
            sentence=sentence(now, figures),
            card=cards[now.act.number],
            covered=now.act.sheet.kind in _HIDDEN,
        )
        for now in standings(squared(dressing))
    )


def _title(card: Card, act: Act) -> str:
    """Return the title of a like act, with the act's own opening."""
    first = card.step.opening
    if not first or not act.opening:
        return card.step.title
    return re.sub(rf"\b{re.escape(first)}$", lambda _: act.opening or "", card.step.title)


def plan_maps(job: Job, plan: Plan, paper: Paper) -> tuple[WaterMap, ...]:
    """Return the map of the wall and of every opening laid flat; none without a water plan."""
    dressing = dressing_of(job, plan)
    if dressing is None or plan.water is None:
        return ()
    return tuple(water_maps(dressing, seen_in_plan(plan.water), paper, head=plan.water.head))


def plan_sections(job: Job, plan: Plan, paper: Paper) -> tuple[SectionPicture, ...]:
    """Return the sections of every opening, and of the ledger; none without a water plan."""
    dressing = dressing_of(job, plan)
    return () if dressing is None else tuple(section_pictures(dressing, paper))


def water_drawings(job: Job, plan: Plan) -> dict[str, Scene]:
    """Return the drawings of a plan's water by name.

    `water-step-01` and so on, one for like acts; `water-map-wall`, `water-map-box-<opening>`;
    `water-section-<opening>-sill`, `-head`, `-left-jamb`; `water-section-ledger`; and what is cut, see
    `cutting_drawings`.
    """
    phone = replace(PHONE, units=job.units)
    cards = water_cards(job, plan, replace(phone, caption=True))
    found = {f"water-step-{card.numbers[0]:02d}": card.step.scene for card in cards}
    found |= {f"water-map-{each.key}": each.scene for each in plan_maps(job, plan, phone)}
    for section in plan_sections(job, plan, phone):
        place = f"{section.opening}-{section.key}" if section.opening else section.key
        found[f"water-section-{place}"] = section.scene
    dressing = dressing_of(job, plan)
    if dressing is not None:
        lap = job.water.sizes.course_lap
        found |= cutting_drawings(dressing, joint_lap=lap, units=job.units)
    return found
