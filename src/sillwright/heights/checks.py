"""What the heights of a wall mean for people: findings with their limits and sources."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass

from sillwright.findings import Finding, worst_first
from sillwright.heights.doorway import even_risers, guard_needed, landing_faults
from sillwright.heights.ledger import in_table, notch_faults
from sillwright.heights.limits import LEDGER_DEPTHS, limit, source
from sillwright.heights.model import ChainResult, Conflict, Cure, Demand, DemandResult, Step, StepResult
from sillwright.heights.solve import difference
from sillwright.heights.wall_model import WallHeights
from sillwright.lengths import Unit, show
from sillwright.rules import PRACTICE, RuleBook


@dataclass(frozen=True, slots=True)
class _Case:
    wall: WallHeights
    result: ChainResult
    units: Unit
    book: RuleBook | None

    def limit(self, name: str) -> float:
        return limit(name, self.book)

    def bound(self, name: str) -> str:
        return self.say(self.limit(name))

    def source(self, name: str) -> str:
        return source(name, self.book)

    def say(self, length: float) -> str:
        return show(length, unit=self.units, mark=True)

    def fine(self, length: float) -> str:
        return show(length, unit=self.units, graduation=1 / 64 if self.units == "in" else 0.1, mark=True)

    def drop(self, lower: str, upper: str) -> float | None:
        if not (self.result.has(lower) and self.result.has(upper)):
            return None
        return difference(self.result, lower=lower, upper=upper).size


def findings(
    wall: WallHeights, result: ChainResult, *, units: Unit = "in", book: RuleBook | None = None
) -> tuple[Finding, ...]:
    """Return what a person must know about the heights of a wall, stops first.

    Args:    wall: what the chain was made from; result: its solution; units: to write lengths in;
             book: whose limits count, the 2018 edition's without one
    """
    case = _Case(wall, result, units, book)
    found = [_clash(case, number, clash) for number, clash in enumerate(result.conflicts, start=1)]
    for check in _CHECKS:
        found += check(case)
    return worst_first(found)


def _clash(case: _Case, number: int, clash: Conflict) -> Finding:
    ways = _ways(case, clash)
    advice = f"Any one of: {'; '.join(ways)}." if ways else "No single change cures it; change two of them."
    return Finding(
        id=f"heights.conflict.{number}",
        severity="stop",
        message=f"These cannot hold together, {case.say(clash.short)} is missing: {'; '.join(clash.texts)}.",
        advice=advice,
        source="; ".join(clash.sources) or "sum of the heights",
    )


def _unmet(case: _Case) -> Iterator[Finding]:
    for unmet in case.result.unmet:
        against = [text for text in unmet.against.texts if not text.endswith(", as wished")]
        ways = _ways(case, unmet.against)
        other = f", or any one of: {'; '.join(ways)}" if ways else ""
        yield Finding(
            id=f"heights.wish.{unmet.step}",
            severity="fix",
            message=f"{unmet.text}: {case.say(unmet.wish)} is wished, {case.say(unmet.size)} can be had. "
            f"Against it: {'; '.join(against)}.",
            advice=f"Take {case.say(unmet.size)}{other}.",
            source="; ".join(unmet.against.sources) or "sum of the heights",
            place=unmet.step,
        )


_WORDS = {"level": ("higher", "lower"), "size": ("larger", "smaller"), "limit": ("more", "less")}


def _ways(case: _Case, clash: Conflict) -> list[str]:
    """Return the cures that a person can carry out: the house stays where it is, no piece becomes nothing."""
    steps = case.result.chain.steps
    wished = {f"{step.name}, wish" for step in steps}
    size = {step.name: step.size for step in steps if step.size is not None}
    fit = [cure for cure in clash.cures if cure.kind != "level" or cure.name == "level line"]
    fit = [cure for cure in fit if cure.kind != "size" or cure.larger or size[cure.name] > cure.by]
    return [_way(case, cure) for cure in fit if cure.name not in wished]


def _way(case: _Case, cure: Cure) -> str:
    word = _WORDS[cure.kind][0 if cure.larger else 1]
    allowed = "allowed " if cure.kind == "limit" else ""
    return f"{cure.text}: {allowed}{case.say(_up(cure.by, case.units))} {word}"


def _up(length: float, units: Unit) -> float:
    """Return a length rounded up to what a tape shows, so that the change is enough [in]."""
    graduation = 1 / 16 if units == "in" else 1 / 25.4
    return -(-(length - 1e-9) // graduation) * graduation


def _doubtful(case: _Case) -> Iterator[Finding]:
    parts: tuple[StepResult | DemandResult, ...] = (*case.result.steps, *case.result.demands)
    for part in parts:
        if part.holds in ("as drawn", "statistically") and part.worst < float("inf"):
            yield _in_doubt(case, part)


def _in_doubt(case: _Case, part: StepResult | DemandResult) -> Finding:
    lower, upper = _ends(case.result, part.name)
    most = difference(case.result, lower=lower, upper=upper).shares[:2]
    blame = " and ".join(f"{share.text} (± {case.fine(share.tolerance)})" for share in most)
    sure = part.holds == "statistically"
    spare = f"{case.say(max(part.margin, 0.0))} to spare"
    play = f"it can be {case.fine(part.worst)} off at worst, {case.fine(part.rss)} by root of squares"
    return Finding(
        id=f"heights.doubt.{part.name}",
        severity="watch",
        message=f"{part.text}: {spare}, but {play}; most of it from {blame}.",
        advice="Measure on the wall before cutting." if sure else "Leave more room, or hold these closer.",
        source="worst case and root of the sum of squares of the tolerances",
        place=upper,
    )


def _ends(result: ChainResult, name: str) -> tuple[str, str]:
    links: tuple[Step | Demand, ...] = (*result.chain.steps, *result.chain.demands)
    link = next(link for link in links if link.name == name)
    return link.lower, link.upper


def _step_down(case: _Case) -> Iterator[Finding]:
    drop = case.drop("walking surface", "threshold")
    if drop is None:
        return
    least, most = case.limit("step_down_least"), case.limit("step_down_most")
    if drop < least - 1e-6:
        yield Finding(
            id="heights.step down.shallow",
            severity="fix" if drop < 0.5 else "watch",
            message=f"The walking surface is {case.say(drop)} below the threshold; in rain or snow country "
            f"it is kept {case.say(least)} to {case.say(most)} below, so that splash and drifts stay out.",
            advice="Lower the deck, or shelter the door and keep a drained gap in front of it.",
            source=PRACTICE,
            place="walking surface",
        )
    if drop > most + 1e-6:
        yield Finding(
            id="heights.step down.deep",
            severity="watch",
            message=f"The walking surface is {case.say(drop)} below the threshold, a full step.",
            advice="Dry enough; ask whether everyone who uses the door can take the step.",
            source=PRACTICE,
            place="walking surface",
        )


def _sill_slope(case: _Case) -> Iterator[Finding]:
    slope, least = case.wall.unit.slope_pct, case.limit("sill_slope_pct")
    if slope is None or slope >= least:
        return
    level = slope <= 0
    yield Finding(
        id="heights.sill slope",
        severity="fix" if level else "watch",
        message=f"The sill falls outward by {slope:g} %; flashing is to fall by {least:g} % at least.",
        advice="Put a sloped strip under the pan."
        if level
        else "A thicker strip, or a back dam and a pan that drains.",
        source=case.source("sill_slope_pct"),
        place="unit bottom",
    )


def _guard_and_stair(case: _Case) -> Iterator[Finding]:
    rise = case.drop("grade", "walking surface")
    if rise is None or rise < 0:
        return
    if guard_needed(((0.0, rise),), book=case.book):
        yield Finding(
            id="heights.guard",
            severity="fix",
            message=f"The deck is {case.say(rise)} above grade, more than {case.bound('guard.drop')}.",
            advice="Plan a guard and what its posts are bolted to.",
            source=case.source("guard.drop"),
            place="walking surface",
        )
    count, riser = even_risers(rise, book=case.book)
    if count > 1:
        yield Finding(
            id="heights.stair",
            severity="watch",
            message=f"From grade to the deck: {count} risers of {case.say(riser)}.",
            advice=f"Keep the risers of the flight alike, within {case.bound('stair.spread')}.",
            source=case.source("stair.riser"),
            place="walking surface",
        )


def _other_door(case: _Case) -> Iterator[Finding]:
    door, drop = case.wall.door, case.drop("walking surface", "threshold")
    if door is None or drop is None or door.egress or door.swing != "out":
        return
    if drop > case.limit("threshold.egress") + 1e-6:
        yield Finding(
            id="heights.swing over drop",
            severity="watch",
            message=f"The door swings out over a drop of {case.say(drop)}; the code is read both ways here.",
            advice="Ask the inspector before the deck's height is fixed.",
            source=case.source("threshold.other"),
            place="threshold",
        )


def _landing(case: _Case) -> Iterator[Finding]:
    landing = case.wall.door.landing if case.wall.door is not None else None
    if landing is None:
        return
    said = {
        "landing_width": f"{case.say(landing.width)} wide, the door {case.say(landing.door_width)}",
        "landing_length": f"{case.say(landing.length)} long, less than {case.bound('landing.length')}",
        "landing_slope": f"falling {100 * landing.fall_in_12 / 12:.1f} %, more than 2 %",
    }
    faults = landing_faults(
        door_width=landing.door_width,
        landing_width=landing.width,
        landing_length=landing.length,
        fall_in_12=landing.fall_in_12,
        book=case.book,
    )
    for fault in faults:
        yield Finding(
            id=f"heights.{fault.replace('_', '.')}",
            severity="fix",
            message=f"The landing outside the door is {said[fault]}.",
            advice="Make the landing as wide as the door, long enough and nearly level.",
            source=case.source("landing.length"),
            place="walking surface",
        )


def _ledger(case: _Case) -> Iterator[Finding]:
    deck = case.wall.deck
    if deck is None or not deck.ledger_depth:
        return
    if case.wall.backing is None:
        yield Finding(
            id="heights.ledger.backing",
            severity="stop",
            message="A ledger is wished, but what is behind it was not measured.",
            advice="Open the wall and shoot the top of the band joist, or stand the deck on its own posts.",
            source=case.source("band.top_edge"),
            place="ledger top",
        )
    if not in_table(deck):
        yield _outside_table(case, deck.ledger_depth)
    if notch_faults(depth=deck.joist_notch, length=0.0, joist_depth=deck.joist_depth, at_end=True):
        yield Finding(
            id="heights.joist notch",
            severity="stop",
            message=f"A notch of {case.say(deck.joist_notch)} at the ends of joists "
            f"{case.say(deck.joist_depth)} deep is more than a quarter of them.",
            advice="Hang the joists in hangers, or ask the engineer.",
            source=case.source("notch_at_end"),
            place="joist bottom",
        )


def _outside_table(case: _Case, depth: float) -> Finding:
    depths = " or ".join(case.say(row) for row in LEDGER_DEPTHS)
    return Finding(
        id="heights.ledger.depth",
        severity="stop",
        message=f"A ledger {case.say(depth)} deep is outside this table ({depths}): needs an engineer.",
        advice="Use a ledger of a depth in the table, or have the fasteners placed by an engineer.",
        source=case.source("ledger.low_row_2x8"),
        place="ledger top",
    )


def _hung_joists(case: _Case) -> Iterator[Finding]:
    below = case.drop("joist top", "ledger top")
    if below is None or below <= 1 / 16:
        return
    yield Finding(
        id="heights.joists hung",
        severity="watch",
        message=f"The joists hang {case.say(below)} below the top of the ledger.",
        advice="Face-mounted hangers with every nail in the ledger; flash over the ledger's top and down "
        "to the decking.",
        source="joist hanger's maker (from memory)",
        place="ledger top",
    )


_CHECKS: tuple[Callable[[_Case], Iterator[Finding]], ...] = (
    _unmet,
    _doubtful,
    _step_down,
    _sill_slope,
    _guard_and_stair,
    _other_door,
    _landing,
    _ledger,
    _hung_joists,
)
