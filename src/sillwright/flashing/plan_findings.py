"""What the water plan of a wall means for the next step, as findings."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from sillwright.findings import Finding
from sillwright.flashing.geometry import LeftOut
from sillwright.flashing.plan_model import WaterPlace, WaterPlan
from sillwright.lengths import Unit, show

METHOD = "way of water between the sheets as drawn; docs/water.md"
PRACTICE = "common practice, no source"
LEAST_STANDING = 1 / 16
"""Depth of standing water that is worth a word [in]: common practice, no source."""
_WET = (".sill.", ".back.", "ledger.top.")
"""Corners where water comes to lie; those at a head are under strips and fins."""
SHOWN = 4
"""Places that a finding names before it counts the rest."""


def water_findings(plan: WaterPlan, units: Unit) -> Iterator[Finding]:
    """Yield what is open, what stands, what is left out and what was taken."""
    for opening in (*plan.openings, "ledger", ""):
        own = [each for each in plan.places if each.opening == opening]
        yield from _open(opening, own, plan, units)
        yield from _short(opening, own, plan, units)
    yield from _corners(plan)
    yield from _standing(plan, units)
    yield from no_plans(plan.left_out)
    if plan.assumed:
        yield _assumed(plan)


def not_judged(why: str) -> Finding:
    """Return what is said where the checks of flashing are not run."""
    return Finding(
        id="finding.unchecked.flashing",
        severity="watch",
        message=f"Not checked: flashing of the openings, its laps, and the slope of the sills; {why}.",
        advice="Name a scheme in [water] to have them checked, or have them looked at on site.",
        source=PRACTICE,
    )


def no_plans(left_out: Iterable[LeftOut]) -> Iterator[Finding]:
    """Yield which openings, or that the wall, have no water plan, and why: one finding for each reason."""
    groups: dict[tuple[str, str], list[str]] = {}
    for each in left_out:
        groups.setdefault((each.reason, each.advice), []).append(each.opening)
    for (reason, advice), openings in groups.items():
        names = ", ".join(filter(None, openings))
        each_of = "for each, " if len(openings) > 1 else ""
        why = f"{each_of}{reason}" if names else f"the wall cannot be dressed: {reason}"
        yield Finding(
            id=".".join(filter(None, ("finding.water.none", *openings))),
            severity="watch",
            message=f"No water plan{f' for {names}' if names else ''}: {why.removesuffix('.')}.",
            advice=advice,
            source=METHOD,
            place=openings[0] if len(openings) == 1 else "",
        )


def _open(opening: str, places: list[WaterPlace], plan: WaterPlan, units: Unit) -> Iterator[Finding]:
    for word, found in (
        ("rain", [each for each in places if each.by_weight == "open"]),
        ("wind", [each for each in places if each.by_weight != "open" and each.at_head == "open"]),
    ):
        if not found:
            continue
        worst = min(found, key=lambda each: (each.head_to_open or 0.0, len(each.steps)))
        head = show(plan.head, unit=units, mark=True)
        how = "By its weight alone" if word == "rain" else f"With wind, at a head of {head}"
        yield Finding(
            id=f"finding.water.{word}{f'.{opening}' if opening else ''}",
            severity="stop",
            message=f"{how}, water crosses no bond to {_listed(found)}. {worst.way}",
            advice="Change the order, a lap or the scheme before anything is covered.",
            source=METHOD,
            place=opening,
            value="open",
            limit="sheds, or held by bond",
        )


def _short(opening: str, places: list[WaterPlace], plan: WaterPlan, units: Unit) -> Iterator[Finding]:
    """Yield the places that less bond keeps dry than the laps on the way ask for."""
    asked = _asked(plan)
    short = []
    for place in places:
        crossed = [(step.under, step.over) for step in place.steps if step.bond]
        most = max((asked.get(each, 0.0) for each in crossed), default=0.0)
        if place.at_head == "held by bond" and place.bond is not None and place.bond < most:
            short.append((place.bond - most, most, place))
    if not short:
        return
    _, most, worst = min(short, key=lambda each: each[0])
    found, limit = (show(each, unit=units, mark=True) for each in (worst.bond or 0.0, most))
    yield Finding(
        id=f"finding.water.bond{f'.{opening}' if opening else ''}",
        severity="fix",
        message=f"Less bond than the lap asked for keeps water from {_listed(each for _, _, each in short)}. "
        f"{worst.way}",
        advice="Lap it further, or put a piece over it.",
        source=METHOD,
        place=opening,
        value=found,
        limit=f"at least {limit}",
    )


def _asked(plan: WaterPlan) -> dict[tuple[str, str], float]:
    """Return the greatest lap that is asked of two pieces, by the words of the upper and the lower one."""
    words = {piece.name: piece.words for piece in plan.pieces}
    asked: dict[tuple[str, str], float] = {}
    for lap in plan.laps:
        if lap.required is not None:
            key = words[lap.upper], words[lap.lower]
            asked[key] = max(asked.get(key, 0.0), lap.required)
    return asked


def _listed(places: Iterable[WaterPlace]) -> str:
    words = [f"the {each.words}" for each in places]
    more = len(words) - SHOWN
    return ", ".join(words[:SHOWN]) + (f" and {more} more places" if more > 0 else "")


def _corners(plan: WaterPlan) -> Iterator[Finding]:
    bare = [each for each in plan.corners if not each.held_by and any(part in each.id for part in _WET)]
    if bare:
        yield Finding(
            id="finding.water.corners",
            severity="watch",
            message=f"No piece holds these corners inside it: {', '.join(each.words for each in bare)}.",
            advice="Where rain reaches one, put a stretching patch there; a flat sheet ends at such a point.",
            source="the angles of the faces at the point; docs/water.md",
        )


def _standing(plan: WaterPlan, units: Unit) -> Iterator[Finding]:
    for each in plan.standing:
        if each.depth < LEAST_STANDING:
            continue
        deep = show(each.depth, unit=units, mark=True)
        yield Finding(
            id=f"finding.{each.id}",
            severity="fix",
            message=f"The {each.words} falls toward {each.toward}: water stands {deep} deep there.",
            advice="Bring it to fall outward: a sloped strip, or plane its outer edge.",
            source=METHOD,
            place=each.id.split(".")[2],
            value=deep,
            limit="falls outward",
        )


def _assumed(plan: WaterPlan) -> Finding:
    said = "; ".join(each.text for each in plan.assumed)
    keys = ", ".join(dict.fromkeys(each.key for each in plan.assumed))
    return Finding(
        id="finding.water.assumed",
        severity="watch",
        message=f"Not said in the job, and taken for the water plan: {said}.",
        advice=f"State what is otherwise: {keys}.",
        source=PRACTICE,
    )
