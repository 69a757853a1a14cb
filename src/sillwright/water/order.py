"""The order of work that water asks for, and what is wrong with another one."""

from __future__ import annotations

import difflib
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from graphlib import CycleError, TopologicalSorter
from itertools import pairwise

from sillwright.errors import BadInput, Fault
from sillwright.water.acts import Act, Do, Force, Must, acts, musts
from sillwright.water.flaps import Flap, flap_for
from sillwright.water.model import Dressing

Before = dict[str, set[str]]
"""The acts that must come before each act."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Order:
    """An order of work that sheds water."""

    acts: tuple[Act, ...]
    rests_on_bond: tuple[Must, ...]
    """Rules that no order keeps together with the rest: there only the bond holds water back."""
    flaps: tuple[Flap, ...]
    """What must be cut, because a piece must go on before another one and, elsewhere, after it."""

    def place(self, name: str) -> int:
        """Return the place of an act in the order, from 0."""
        return next(place for place, act in enumerate(self.acts) if act.name == name)


def derive_order(dressing: Dressing) -> Order:
    """Return an order of work that keeps every rule; where nothing forces one, that of the wall is kept.

    Raises:
        BadInput: two pieces must each go over the other, and neither can be cut
    """
    steps, rules = acts(dressing), musts(dressing)
    firm = [rule for rule in rules if rule.force is Force.WORK or _is_open(rule)]
    loose = [rule for rule in rules if rule not in firm]
    while True:
        order, dropped = _ordered(dressing, steps, firm, loose)
        open_ones = [rule for rule in dropped if rule.force is Force.SHED and not _sheltered(rule, order)]
        if not open_ones:
            break
        firm, loose = [*firm, *open_ones], [rule for rule in loose if rule not in open_ones]
    held = tuple(rule for rule in dropped if not _sheltered(rule, order))
    return replace(order, rests_on_bond=held)


def _is_open(rule: Must) -> bool:
    return rule.force is Force.SHED and not rule.shelters


def _sheltered(rule: Must, order: Order) -> bool:
    """Tell whether something is laid later over the edge where water would get in."""
    known = [act.name for act in order.acts]
    last = max(known.index(rule.first), known.index(rule.then))
    return any(name in known[last:] for name in rule.shelters)


def _ordered(
    dressing: Dressing, steps: tuple[Act, ...], firm: list[Must], loose: list[Must]
) -> tuple[Order, list[Must]]:
    """Return an order that keeps all firm rules, with flaps cut, and the loose rules that it cannot keep."""
    flaps: list[Flap] = []
    before = _before(steps, firm)
    while (cycle := _cycle(before)) is not None:
        flap, rule = _cut(dressing, cycle, firm, len(flaps) + 1)
        flaps.append(flap)
        firm = [each for each in firm if each is not rule]
        steps = (*steps, flap.act)
        before = _before(steps, firm)
        before[flap.act.name] |= {rule.then, rule.first}
    dropped = []
    for rule in sorted(loose, key=lambda each: each.force is Force.BOND):
        if _leads(before, rule.then, rule.first):
            dropped.append(rule)
        else:
            _add(before, rule)
    return Order(acts=_sorted(steps, before), rests_on_bond=(), flaps=tuple(flaps)), dropped


def _before(steps: Sequence[Act], rules: Sequence[Must]) -> Before:
    before: Before = {act.name: set() for act in steps}
    for rule in rules:
        _add(before, rule)
    return before


def _add(before: Before, rule: Must) -> None:
    """Add a rule: what is rolled is rolled before anything else comes after it."""
    rolled = f"{Do.ROLL} {rule.first}"
    before[rule.then].add(rolled if rolled in before and rolled != rule.then else rule.first)


def _cycle(before: Before) -> list[str] | None:
    """Return acts that each must come before the next, and the first again; None: there are none."""
    try:
        TopologicalSorter(before).prepare()
    except CycleError as error:
        found: list[str] = error.args[1]
        return found
    return None


def _leads(before: Before, name: str, other: str) -> bool:
    """Tell whether an act must come before another one already, or is the same."""
    seen: set[str] = set()
    todo = [other]
    while todo:
        here = todo.pop()
        if here == name:
            return True
        if here not in seen:
            seen.add(here)
            todo += before[here]
    return False


def _sorted(steps: Sequence[Act], before: Mapping[str, set[str]]) -> tuple[Act, ...]:
    """Return the acts in an order that keeps all rules; of those free to come next, a rolling goes first."""
    rank = {act.name: (act.do is not Do.ROLL, place) for place, act in enumerate(steps)}
    by_name = {act.name: act for act in steps}
    sorter = TopologicalSorter(before)
    sorter.prepare()
    ready: set[str] = set()
    found = []
    while sorter.is_active():
        ready |= set(sorter.get_ready())
        name = min(ready, key=lambda each: rank[each])
        ready.remove(name)
        sorter.done(name)
        found.append(by_name[name])
    return tuple(found)


def _cut(dressing: Dressing, cycle: list[str], firm: list[Must], number: int) -> tuple[Flap, Must]:
    """Return the flap that opens a cycle, and the rule that it keeps."""
    laid = [name for name in cycle if not name.startswith(f"{Do.ROLL} ")]
    pairs = set(pairwise([*laid, laid[0]]))
    rules = [rule for rule in firm if (rule.first, rule.then) in pairs]
    for rule in rules:
        flap = flap_for(dressing, rule, number)
        if flap is not None:
            return flap, rule
    words = {sheet.name: sheet.words for sheet in dressing.sheets}
    named = " -> ".join(words.get(name, name) for name in cycle)
    what = f"each of these must come before the next: {named}. {' '.join(rule.why for rule in rules)}"
    raise BadInput(Fault("water.order", what, "None of them can be cut into a flap: choose another scheme."))


# --- the order of somebody else


@dataclass(frozen=True, slots=True, kw_only=True)
class Wrong:
    """What is wrong with laying one piece before another."""

    early: str
    """The act that came too early."""
    late: str
    """The act that should have come before it."""
    force: Force
    sentence: str
    rule: Must


@dataclass(frozen=True, slots=True, kw_only=True)
class JudgedStep:
    """One step of somebody's order."""

    number: int
    name: str
    words: str
    wrong: tuple[Wrong, ...]


def judge_order(dressing: Dressing, names: Sequence[str]) -> tuple[JudgedStep, ...]:
    """Return somebody's order of the pieces step by step, with what is wrong at each.

    Args:    names: every piece once, by its name; parts held up too, or else they come down when they can
    Raises:  BadInput: a piece is not known, or named twice, or left out
    """
    every = {act.name: act for act in acts(dressing) if act.do in (Do.LAY, Do.FOLD_DOWN)}
    _check(names, every)
    place = {name: number for number, name in enumerate(names)}
    words = {sheet.name: sheet.words for sheet in dressing.sheets}
    found: dict[str, list[Wrong]] = {name: [] for name in names}
    for rule in musts(dressing):
        both = rule.first in place and rule.then in place
        if both and place[rule.then] < place[rule.first] and not _covered(rule, place):
            found[rule.first].append(_wrong(rule, every, words))
    return tuple(
        JudgedStep(number=number, name=name, words=every[name].words, wrong=tuple(found[name]))
        for number, name in enumerate(names, 1)
    )


def _covered(rule: Must, place: Mapping[str, int]) -> bool:
    later = max(place[rule.first], place[rule.then])
    return any(place.get(name, later + 1) > later for name in rule.shelters)


def _wrong(rule: Must, every: Mapping[str, Act], words: Mapping[str, str]) -> Wrong:
    early, late = (_piece(every[name], words) for name in (rule.then, rule.first))
    sentence = f"If the {early} goes on before the {late}: {rule.why}"
    return Wrong(early=rule.then, late=rule.first, force=rule.force, sentence=sentence, rule=rule)


def _piece(act: Act, words: Mapping[str, str]) -> str:
    return words[act.sheet] if act.panel is None else f"{act.panel} of the {words[act.sheet]}"


def _check(names: Sequence[str], every: Mapping[str, Act]) -> None:
    faults = []
    for number, name in enumerate(names):
        if name not in every:
            close = difflib.get_close_matches(name, every, n=2)
            advice = f"Did you mean {' or '.join(close)}?" if close else f"Known: {', '.join(every)}."
            faults.append(Fault(f"water.order[{number}]", f"there is no piece '{name}'.", advice))
        elif name in names[:number]:
            faults.append(Fault(f"water.order[{number}]", f"'{name}' is laid twice.", "Name it once."))
    faults += [
        Fault("water.order", f"'{name}' is left out.", "Name every piece once.")
        for name, act in every.items()
        if act.do is Do.LAY and name not in names
    ]
    if faults:
        raise BadInput(*faults)


def relaid(dressing: Dressing, order: Order) -> Dressing:
    """Return the wall with its sheets in another order, its flaps coming down in their own places."""
    at = {act.name: number for number, act in enumerate(order.acts, 1)}
    sheets = []
    for sheet in dressing.sheets:
        panels = tuple(
            panel if panel.laid is None else replace(panel, laid=at[f"{sheet.name} {panel.name}"])
            for panel in sheet.panels
        )
        sheets.append(replace(sheet, laid=at[sheet.name], panels=panels))
    return replace(dressing, sheets=tuple(sorted(sheets, key=lambda sheet: sheet.laid)))


def sentences(judged: Sequence[JudgedStep]) -> Iterator[str]:
    """Yield a judged order as lines to read, one or more a step."""
    for step in judged:
        yield f"{step.number}. {step.words}" + (":" if step.wrong else ".")
        yield from (f"   {each.sentence}" for each in step.wrong)
