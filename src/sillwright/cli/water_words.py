"""A water plan in words: scheme, order of work, verdict by place, weakest ways, laps, what was taken."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from itertools import groupby

from sillwright.cli.say import Words
from sillwright.explain import tape
from sillwright.findings import Finding
from sillwright.flashing import (
    SchemeCard,
    WaterCut,
    WaterLap,
    WaterPlace,
    WaterPlan,
    least_of_each,
    weakest_first,
)
from sillwright.lengths import Unit
from sillwright.plan import Plan

WHO = (
    "The makers of unit and rolls, local code and the building department come before this. It knows the "
    "wall only as it was read, and pieces only as they are drawn: not whether they were rolled, primed, dry."
)
_PREFIXES = ("finding.water.", "finding.lap.", "finding.pair.")


def scheme_words(cards: Iterable[SchemeCard]) -> Iterator[Words]:
    """Yield every scheme as paragraphs."""
    yield Words("Ways to dress an opening, by the name that [water] scheme takes", "title")
    for card in cards:
        yield from _heading(card.scheme.name)
        yield Words(card.scheme.words, indent=2)
        yield Words(f"When: {card.when}", indent=2)
        yield Words(f"Watch: {card.watch}", indent=2)
    yield Words("")
    yield Words("With a ledger below, backing sheet, end patches and ledger sheet are added to each of them.")
    yield Words("own pieces: nothing but those of [[water.sheet]]; none: no water plan.")


def water_words(plan: Plan) -> Iterator[Words]:
    """Yield a wall's water plan as paragraphs."""
    water, unit = plan.water, plan.units
    if water is None:
        return
    yield Words(f"{plan.title}: {water.scheme}", "title")
    yield Words(water.scheme_words)
    yield Words(
        f"Head of water to stand: {tape(water.head, unit)} ({water.pressure_psf:.3g} psf): {water.head_said}."
    )
    yield from _findings(plan.findings)
    yield from _order(water)
    yield from _places(water, unit)
    yield from _laps(water, unit)
    yield from _materials(water, unit)
    yield Words("")
    yield Words(WHO)


def _heading(text: str) -> Iterator[Words]:
    yield Words("")
    yield Words(text, "heading")


def _findings(findings: Iterable[Finding]) -> Iterator[Words]:
    own = [each for each in findings if each.id.startswith(_PREFIXES)]
    if own:
        yield from _heading("Findings")
    for each in own:
        answered = f" Answered: {each.answer}" if each.answer else ""
        text = f"{_capital(each.message)} {each.advice}{answered} ({each.id})"
        yield Words(text, each.severity, each.severity.upper(), 2)


def _order(water: WaterPlan) -> Iterator[Words]:
    yield from _heading("Order of work")
    rolls = {piece.name: piece.roll for piece in water.pieces}
    groups = [list(acts) for _, acts in groupby(water.acts, lambda act: (act.piece, act.part))]
    for number, acts in enumerate(groups, 1):
        last = next((act for act in acts if act.do == "lay"), acts[0])
        first = [act.do for act in acts if act.do in ("dry fit", "bed in sealant")]
        also = "; roll it" if any(act.do == "roll" for act in acts) else ""
        laid = last.do == "lay" and rolls[last.piece] not in ("unit", last.piece)
        of = f", of {rolls[last.piece]}" if laid else ""
        said = _capital(", ".join([*first, last.words]))
        yield Words(f"{number}. {said}{of}{also} ({last.piece})", indent=2)
        for wrong in (each for act in acts for each in act.wrong):
            yield Words(wrong, "fix", "FIX", 6)


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]


def _places(water: WaterPlan, unit: Unit) -> Iterator[Words]:
    for opening in (*water.openings, "ledger", ""):
        own = [each for each in water.places if each.opening == opening]
        if own:
            yield from _heading(f"Where water can get at {opening}" if opening else "Elsewhere on the wall")
            yield from _verdicts(own, unit)


def _verdicts(places: list[WaterPlace], unit: Unit) -> Iterator[Words]:
    is_open = [each for each in places if each.at_head == "open"]
    if is_open:
        yield Words(f"{_listed(is_open)}.", "stop", "open", 2)
    held = sorted(
        (each for each in places if each.at_head == "held by bond"), key=lambda each: each.bond or 0.0
    )
    if held:
        said = "; ".join(f"{each.words} {tape(each.bond or 0.0, unit)}" for each in held)
        yield Words(f"with so much of it: {said}.", "plain", "held by bond", 2)
    sheds = [each for each in places if each.at_head == "sheds"]
    if sheds:
        yield Words(f"{_listed(sheds)}.", "plain", "sheds", 2)
    wet = [each for each in places if each.by_weight == "held by bond"]
    if wet:
        yield Words(f"By its weight alone water already lies against bond at: {_listed(wet)}.", indent=2)
    opens = min(
        (each for each in places if each.at_head != "open" and each.head_to_open is not None),
        key=lambda each: each.head_to_open or 0.0,
        default=None,
    )
    if opens is not None and opens.head_to_open is not None:
        head = tape(opens.head_to_open, unit)
        yield Words(f"Opens first at a head of {head}: {opens.words} ({opens.id}).", indent=2)
    weakest = next((each for each in weakest_first(places) if each.way), None)
    if weakest is not None:
        yield Words(f"Weakest way: {weakest.way} ({weakest.id})", indent=2)


def _listed(places: list[WaterPlace]) -> str:
    return "; ".join(each.words for each in places)


def _laps(water: WaterPlan, unit: Unit) -> Iterator[Words]:
    rows = least_of_each(water.laps)
    if rows:
        yield from _heading("Laps, the least of each joint")
    for row in rows:
        yield Words(f"{row.upper} over {row.lower}: {_lap(row, unit)} ({row.id})", indent=2)


def _materials(water: WaterPlan, unit: Unit) -> Iterator[Words]:
    yield from _heading("Stock that the pieces take, before waste")
    for each in water.materials:
        long = "" if each.length is None else f"{tape(each.length, unit)} of it, "
        wide = "" if each.width is None else f"{tape(each.width, unit)} wide, "
        there = "" if each.on_hand is None else f"; on hand {tape(each.on_hand, unit)}: {each.result}"
        count = "1 piece" if each.pieces == 1 else f"{each.pieces} pieces"
        text = f"{each.roll}: {count}, {long}{wide}{each.area_sqft:.1f} ft2{there}. (material.{each.roll})"
        yield Words(text, indent=2)


def _many(count: int, what: str) -> str:
    return f"1 {what}" if count == 1 else f"{count} {what}s"


def _lap(row: WaterLap, unit: Unit) -> str:
    asked: str = "nothing is asked there" if row.result == "no such joint" else row.result
    if row.required is not None:
        asked = f"asked {tape(row.required, unit)} ({row.source}): {row.result}"
    return f"{tape(row.lap, unit)} {row.goes} on the {row.where}; {asked}"


def _cut(cut: WaterCut) -> str:
    told: list[str] = [cut.make if cut.folds or cut.make != "folded" else "a plain strip"]
    told += [_many(count, what) for count, what in ((cut.folds, "fold"), (cut.slits, "slit")) if count]
    if cut.strips > 1:
        told.append(f"joined of {cut.strips} widths")
    if cut.stretch_pct is not None:
        told.append(f"stretched by {cut.stretch_pct:.0f}%")
    return ", ".join([*told, *([cut.said] if cut.said else [])])


def piece_words(water: WaterPlan, name: str, unit: Unit) -> Iterator[Words]:
    """Yield all of one piece: where it lies, its laps, the ways of water that pass it."""
    piece = next(each for each in water.pieces if each.name == name)
    yield Words(f"{piece.number}. {_capital(piece.words)} ({piece.id})", "title")
    yield Words(f"{_capital(piece.kind)} of {piece.roll} ({piece.family}).")
    yield from _heading("Where it lies: face, first axis, second axis")
    for part in piece.parts:
        spans = " × ".join(f"{tape(a, unit)} to {tape(b, unit)}" for a, b in (part.u, part.v))
        bond = "bonded" if part.bonded else "loose"
        held = f", held up until {part.held_until} is on" if part.held_until else ""
        yield Words(f"{part.name}: {part.facet}, {spans}, {bond}{held}", indent=2)
    for cut in water.cuts:
        if cut.piece == name:
            yield from _heading("Cut")
            yield Words(
                f"{tape(cut.along, unit)} × {tape(cut.across, unit)}, {_cut(cut)} ({cut.id})", indent=2
            )
    rows = [each for each in water.laps if name in (each.upper, each.lower)]
    if rows:
        yield from _heading("Laps")
    for row in rows:
        yield Words(f"{row.upper} over {row.lower}: {_lap(row, unit)} ({row.id})", indent=2)
    passed = [p for p in water.places if any(piece.words in (s.over, s.under) for s in p.steps)]
    if passed:
        yield from _heading("Weakest ways of water that pass it")
    for place in passed:
        yield Words(f"{place.way} ({place.id})", indent=2)
