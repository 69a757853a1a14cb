"""What the heights of a wall mean for people: findings with their limits and sources."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from sillwright.findings import Finding, worst_first
from sillwright.heights.case import Case
from sillwright.heights.doorway import even_risers, guard_needed
from sillwright.heights.ledger import in_table, notch_faults
from sillwright.heights.limits import LEDGER_DEPTHS
from sillwright.heights.model import (
    ChainResult,
    Conflict,
    Cure,
    Demand,
    DemandResult,
    Step,
    StepResult,
    Unmet,
    at,
)
from sillwright.heights.opening_checks import OPENING_CHECKS
from sillwright.heights.solve import difference
from sillwright.heights.wall_model import WallHeights
from sillwright.lengths import Unit
from sillwright.rules import RuleBook


def findings(
    wall: WallHeights, result: ChainResult, *, units: Unit = "in", book: RuleBook | None = None
) -> tuple[Finding, ...]:
    """Return what a person must know about the heights of a wall, stops first.

    Args:    wall: what the chain was made from; result: its solution; units: to write lengths in;
             book: whose limits count, the 2018 edition's without one
    """
    case = Case(wall, result, units, book)
    found = [_clash(case, number, clash) for number, clash in enumerate(result.conflicts, start=1)]
    for check in _CHECKS:
        found += check(case)
    for unit in wall.units:
        for opening_check in OPENING_CHECKS:
            found += opening_check(case, unit)
    return worst_first(found)


def _clash(case: Case, number: int, clash: Conflict) -> Finding:
    ways = _ways(case, clash)
    advice = f"Any one of: {'; '.join(ways)}." if ways else "No single change cures it; change two of them."
    doors = [opening for opening in clash.openings if at("step down", opening) in clash.names]
    who = "These cannot hold together"
    if len(doors) > 1:
        who = f"One deck cannot serve {' and '.join(doors)}"
        advice = f"{advice} Or give one of them a landing and steps of its own."
    return Finding(
        id=f"heights.conflict.{number}",
        severity="stop",
        message=f"{who}, {case.say(clash.short)} is missing: {'; '.join(clash.texts)}.",
        advice=advice,
        source="; ".join(clash.sources) or _SUM,
    )


_SUM = "sum of the heights"


def _unmet(case: Case) -> Iterator[Finding]:
    for unmet in case.result.unmet:
        step, size = unmet.step, unmet.step.size or 0.0
        if any(step.name in clash.names for clash in case.result.conflicts):
            continue
        by_wishes = _by_wishes(case, unmet)
        if by_wishes and abs(size - unmet.wish) <= step.worst:
            continue
        own = f"{step.words}, as wished"
        against = "; ".join(text for text in unmet.against.texts if text != own)
        ways = _ways(case, unmet.against)
        other = f", or any one of: {'; '.join(ways)}" if ways else ""
        yield Finding(
            id=_id("heights.wish", step),
            severity="watch" if by_wishes else "fix",
            message=f"{step.words}: {case.say(unmet.wish)} is wished, {case.say(size)} can be had. "
            f"Against it: {against}.",
            advice=f"Take {case.say(size)}{other}.",
            source="; ".join(unmet.against.sources) or _SUM,
            place=step.name,
            value=case.say(size),
            limit=f"{case.say(unmet.wish)} wished",
        )


def _by_wishes(case: Case, unmet: Unmet) -> bool:
    """Say whether nothing but the same wish at other doors stands against one."""
    return len([name for name in unmet.against.names if name in _wishes(case)]) > 1


def _wishes(case: Case) -> set[str]:
    return {f"{step.name}, wish" for step in case.result.chain.steps}


def _id(kind: str, part: StepResult | DemandResult) -> str:
    """Return the id of a finding on a step or demand: kind, what, opening."""
    return ".".join(each for each in (kind, part.plain, part.opening) if each)


_WORDS = {"level": ("higher", "lower"), "size": ("larger", "smaller"), "limit": ("more", "less")}


def _ways(case: Case, clash: Conflict) -> list[str]:
    """Return the cures a person can carry out: the house stays where it is, nothing goes below nothing.

    What a limit of the code or a maker stands against comes last: it is not the carpenter's to give.
    """
    chain = case.result.chain
    lines = {at("level line", unit.opening) for unit in case.wall.units}
    links: tuple[Step | Demand, ...] = (*chain.steps, *chain.demands)
    least = {link.name: link.low for link in links}
    least |= {step.name: step.size for step in chain.steps if step.size is not None}
    fit = [cure for cure in clash.cures if cure.kind != "level" or cure.name in lines]
    fit = [cure for cure in fit if cure.kind == "level" or cure.larger or least.get(cure.name, 0.0) > cure.by]
    givers = {link.name: _giver(link.source) for link in links}
    ways = [
        (givers.get(cure.name, "") if cure.kind == "limit" else "", cure)
        for cure in fit
        if cure.name not in _wishes(case)
    ]
    return [_way(case, cure, giver) for giver, cure in sorted(ways, key=lambda way: way[0] != "")]


def _giver(source: str) -> str:
    """Return who may widen a limit; empty: whoever builds it."""
    if source.startswith(("IRC", "local amendment")):
        return "the building department"
    return "the maker" if "maker" in source else ""


def _way(case: Case, cure: Cure, giver: str) -> str:
    word = _WORDS[cure.kind][0 if cure.larger else 1]
    amount = f"{case.say(_up(cure.by, case.units))} {word}"
    if giver:
        return f"{cure.text}, {amount} if {giver} allows it"
    return f"{cure.text}, {'allowed ' if cure.kind == 'limit' else ''}{amount}"


def _up(length: float, units: Unit) -> float:
    """Return a length rounded up to what a tape shows, so that the change is enough [in]."""
    graduation = 1 / 16 if units == "in" else 1 / 25.4
    return -(-(length - 1e-9) // graduation) * graduation


def _doubtful(case: Case) -> Iterator[Finding]:
    parts: tuple[StepResult | DemandResult, ...] = (*case.result.steps, *case.result.demands)
    for part in parts:
        if part.holds in ("as drawn", "statistically") and part.worst < float("inf"):
            yield _in_doubt(case, part)


def _in_doubt(case: Case, part: StepResult | DemandResult) -> Finding:
    most = difference(case.result, lower=part.lower, upper=part.upper).shares[:2]
    blame = " and ".join(f"{share.text} (± {case.fine(share.tolerance)})" for share in most)
    sure = part.holds == "statistically"
    spare = f"{case.say(max(part.margin, 0.0))} to spare"
    play = f"it can be {case.fine(part.worst)} off at worst, {case.fine(part.rss)} by root of squares"
    return Finding(
        id=_id("heights.doubt", part),
        severity="watch",
        message=f"{part.words}: {spare}, but {play}; most of it from {blame}.",
        advice="Measure on the wall before cutting." if sure else "Leave more room, or hold these closer.",
        source="worst case and root of the sum of squares of the tolerances",
        place=part.upper,
    )


def _guard_and_stair(case: Case) -> Iterator[Finding]:
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
            value=case.say(rise),
            limit=f"at most {case.bound('guard.drop')} without one",
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
            value=f"{count} of {case.say(riser)}",
            limit=f"at most {case.bound('stair.riser')} each",
        )


def _ledger(case: Case) -> Iterator[Finding]:
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
            value=case.say(deck.joist_notch),
            limit=f"at most {case.say(deck.joist_depth * case.limit('notch_at_end'))}",
        )


def _outside_table(case: Case, depth: float) -> Finding:
    depths = " or ".join(case.say(row) for row in LEDGER_DEPTHS)
    return Finding(
        id="heights.ledger.depth",
        severity="stop",
        message=f"A ledger {case.say(depth)} deep is outside this table ({depths}): needs an engineer.",
        advice="Use a ledger of a depth in the table, or have the fasteners placed by an engineer.",
        source=case.source("ledger.low_row_2x8"),
        place="ledger top",
        value=case.say(depth),
        limit=depths,
    )


def _hung_joists(case: Case) -> Iterator[Finding]:
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
        value=f"{case.say(below)} below",
    )


_CHECKS: tuple[Callable[[Case], Iterator[Finding]], ...] = (
    _unmet,
    _doubtful,
    _guard_and_stair,
    _ledger,
    _hung_joists,
)
