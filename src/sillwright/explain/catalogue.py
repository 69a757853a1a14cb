"""Every id of a plan that can be asked about, and the answer to it."""

from __future__ import annotations

from dataclasses import replace
from difflib import get_close_matches

from sillwright.errors import BadInput, Fault
from sillwright.explain.deck import deck_entries
from sillwright.explain.engineer import engineer_entries
from sillwright.explain.lists import list_entries
from sillwright.explain.model import Case, Explanation, Index
from sillwright.explain.readings import reading_entries
from sillwright.explain.sill import sill_entries
from sillwright.explain.units import unit_entries
from sillwright.explain.water import water_entries
from sillwright.job import Job
from sillwright.plan import Plan

KINDS = {
    "pad": "thickness and make-up of one pad",
    "line": "height of a level line",
    "row": "low end and high point of a row",
    "option": "a way to set a row, with what it costs",
    "planed run": "a stretch of sill to be planed",
    "trim": "framing to be cut back",
    "unit": "where a unit stands, and the room around it",
    "fit": "how surely a unit fits",
    "corner": "fur-out and extension at a corner of a unit",
    "order": "the largest size that fits surely",
    "opening": "true shape of an opening; its name alone will do",
    "reading": "one reading: its residual, and what error in it would show",
    "suspect": "a reading that contradicts the others",
    "disturbed": "a laser set-up that was knocked",
    "setup": "height and slope of a set-up's beam",
    "laser": "is the laser level",
    "mark": "height of a mark",
    "point": "height of anything else that was shot",
    "next": "a reading worth taking next",
    "global_test": "do the readings fit together",
    "plane": "lean and twist of the wall",
    "act": "something to do, numbered as on the drawing; the number alone will do",
    "finding": "a finding",
    "conflict": "demands that cannot all be met",
    "cut": "a piece to cut",
    "stock": "shims needed of one kind",
    "reshoot": "verdict on pads shot again",
    "height": "a height at the door above the deck, or a piece between two",
    "ledger": "spacing and places of the ledger's fasteners",
    "fastener": "one fastener of the ledger",
    "framing": "what a span or footing table says",
    "calculation": "a part of the structure by calculation, for your engineer",
    "check": "a check of the code that is met",
    "water": "scheme and head of water",
    "water place": "whether water gets to a place, by which way, and what holds it back",
    "water corner": "a point where faces meet, and what holds it",
    "standing water": "a face that falls the wrong way",
    "piece": "a piece of the dressing, and where it lies",
    "lap": "a piece over another: the lap, and what is asked",
    "cutting": "what to cut for a piece of the dressing",
    "material": "how much of a roll the pieces take",
}
"""What can be asked about."""


def idents(job: Job, plan: Plan) -> dict[str, str]:
    """Return the kind of every id of a plan that can be asked about, in the order of `KINDS`."""
    order = {kind: n for n, kind in enumerate(KINDS)}
    kinds = {ident: entry.kind for ident, entry in _index(job, plan).items()}
    return dict(sorted(kinds.items(), key=lambda pair: order[pair[1]]))


def explain(job: Job, plan: Plan, ident: str) -> Explanation:
    """Return why a number of a plan is what it is.

    Args:    ident: of anything in the plan, in any case: pad.3, unit.A, A.width.middle, or an act's number
    Raises:  BadInput: there is no such id; names the nearest ones and every kind
    """
    index = _index(job, plan)
    asked = ident.strip()
    key = _key(asked, index)
    if key is None:
        raise BadInput(_unknown(asked, index))
    found = index[key].make()
    further = (_key(each, index) for each in found.see)
    return replace(found, see=tuple(dict.fromkeys(each for each in further if each is not None)))


def _key(asked: str, index: Index) -> str | None:
    """Return the id that is meant: as it stands, in another case, an act's number, an opening's name."""
    for wanted in (asked, f"act.{asked}", f"opening.{asked}"):
        if wanted in index:
            return wanted
        same = [each for each in index if each.casefold() == wanted.casefold()]
        if len(same) == 1:
            return same[0]
    return None


def _index(job: Job, plan: Plan) -> Index:
    case = Case(job, plan)
    return {
        **list_entries(case),
        **reading_entries(case),
        **unit_entries(case),
        **sill_entries(case),
        **deck_entries(case),
        **water_entries(case),
        **engineer_entries(case),
    }


def _unknown(asked: str, index: Index) -> Fault:
    shown = asked if len(asked) <= 40 else f"{asked[:40]}…"
    folded = {each.casefold(): each for each in index}
    close = [folded[each] for each in get_close_matches(asked.casefold(), folded, n=3, cutoff=0.5)]
    what = f"the plan has nothing called '{shown}'."
    if close:
        advice = f"Did you mean {' or '.join(close)}? The ids stand in brackets in the plan and the packet."
        return Fault("explain", what, advice)
    examples: dict[str, str] = {}
    for ident, entry in index.items():
        examples.setdefault(entry.kind, ident)
    kinds = ", ".join(f"{kind} ({examples[kind]})" for kind in KINDS if kind in examples)
    return Fault("explain", what, f"It has, by kind: {kinds}.")
