"""Heights, ledger, framing and code checks of a wall in one go, with the answers of the job applied."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace

from sillwright.deck import CHECKS as LEDGER_CHECKS
from sillwright.findings import Finding
from sillwright.inspection.above_deck import Above, above_deck
from sillwright.inspection.calculation import (
    deck_by_calculation,
    headers_by_calculation,
    ledger_by_calculation,
)
from sillwright.inspection.engineer import EngineerSheet
from sillwright.inspection.facts import Site, site_of
from sillwright.inspection.framing import HELD, deck_frame, framing, post_tall
from sillwright.inspection.model import (
    MEMORY,
    Came,
    DeckFrame,
    FramingValue,
    Heights,
    HeightStep,
    InspectionRow,
    LedgerPlan,
)
from sillwright.inspection.openings import opening_results, stated
from sillwright.inspection.wall_heights import AtTheDeck, at_the_deck, missing
from sillwright.inspection.wall_ledger import OnTheWall, on_the_wall
from sillwright.job import Job
from sillwright.lengths import Unit, show
from sillwright.rules import PRACTICE, Answer, Result, RuleBook, apply_answers, examine, gathered
from sillwright.setting import Setting
from sillwright.survey import Survey

_STATE = "State what is missing in the job, or have it looked at on site."


@dataclass(frozen=True, slots=True, kw_only=True)
class Inspection:
    """What the heights and the checks of a wall come to."""

    heights: Heights | None
    ledger: LedgerPlan | None
    frame: DeckFrame | None
    framing: tuple[FramingValue, ...]
    engineer: tuple[EngineerSheet, ...]
    rows: tuple[InspectionRow, ...]
    findings: tuple[Finding, ...]


def inspect_wall(job: Job, survey: Survey, setting: Setting, book: RuleBook) -> Inspection:
    """Return heights, ledger, framing and checks of a wall; `with_answers` puts the job's answers to them.

    Raises:  BadInput: the ledger is above the sill
    """
    found: list[Finding] = []
    deck, ledger = None, None
    framed: tuple[FramingValue, ...] = ()
    sheets: list[EngineerSheet] = []
    frame = None
    if job.deck is not None:
        site = site_of(job, job.deck, survey, setting)
        frame = deck_frame(site)
        deck, ledger, framed, told = _deck(site, book)
        found += told
        sheets += ledger_by_calculation(site, book, ledger.places if ledger is not None else None)
        sheets += deck_by_calculation(site, post_tall(deck.result if deck is not None else None))
    sheets += headers_by_calculation(job, survey)
    checked = _checked(job, survey, book, deck, ledger)
    of_checks = gathered(checked)
    lacking = [each for each in of_checks if ".unchecked." in each.id and each.place != "ledger"]
    found += [each for each in of_checks if ".unchecked." not in each.id]
    if any(each.check.id == "guard.needed" and each.status == "not met" for each in checked):
        found = [each for each in found if each.id != "finding.heights.guard"]  # the same, told by its check
    on_sheet = [*found, *lacking, *_not_looked_into(job)]
    found += [*_lacking_facts(lacking), *_not_looked_into(job)]
    return Inspection(
        heights=deck.heights if deck is not None else None,
        ledger=ledger.ledger if ledger is not None else None,
        frame=frame,
        framing=framed,
        engineer=tuple(sheets),
        rows=tuple(_rows(job, on_sheet, checked, deck, ledger, framed)),
        findings=tuple(found),
    )


def with_answers(
    job: Job, findings: Iterable[Finding], rows: Iterable[InspectionRow]
) -> tuple[tuple[Finding, ...], tuple[InspectionRow, ...]]:
    """Return findings, and the rows of the inspector's sheet, with the answers that the job has to them."""
    answers = [
        Answer(finding=each.finding, by=each.by, date=each.date, note=each.note, value=each.value)
        for each in job.answer
    ]
    found = apply_answers(findings, answers)
    said = {each.id: each for each in found if each.answer}
    return found, tuple(
        replace(row, answer=said[row.id].answer, severity=said[row.id].severity) if row.id in said else row
        for row in rows
    )


def _deck(
    site: Site, book: RuleBook
) -> tuple[AtTheDeck | None, OnTheWall | None, tuple[FramingValue, ...], list[Finding]]:
    above = above_deck(site)
    lacks = missing(site, above)
    if lacks:
        framed, found = framing(site, None)
        return None, None, framed, [_lacking("heights", "The heights of the deck", lacks), *found]
    deck = at_the_deck(site, tuple(each for each in above if not each.lacks), book)
    framed, found = framing(site, deck.result)
    told = [*deck.findings, *_left_out(above), *found]
    if not site.deck.ledger_depth:
        return deck, None, framed, told
    ledger = on_the_wall(site, deck.result, book)
    told += ledger.findings
    if ledger.unsaid:
        keys = tuple(f"deck.{key}" for key in ledger.unsaid)
        told.append(_lacking("ledger", "All of the ledger", keys))
    return deck, ledger, framed, told


def _left_out(above: tuple[Above, ...]) -> Iterator[Finding]:
    """Tell of each opening above the deck that its heights are not among those worked out."""
    for each in above:
        if each.lacks:
            found = _lacking("heights", f"The heights at {each.opening}", each.lacks)
            yield replace(found, id=f"finding.heights.{each.opening}.unsaid", place=each.opening)


def _lacking(name: str, what: str, keys: tuple[str, ...]) -> Finding:
    return Finding(
        id=f"finding.{name}.unsaid",
        severity="watch",
        message=f"{what} could not be checked; not stated: {', '.join(keys)}.",
        advice=_STATE,
        source=PRACTICE,
        place=name if name == "ledger" else "deck",
    )


def _lacking_facts(lacking: list[Finding]) -> list[Finding]:
    """Say once for each opening which checks lack facts; the sheet for the inspector says what each needs."""
    by_opening: dict[str, list[str]] = {}
    for each in lacking:
        subject = each.id.split(".")[1]
        subjects = by_opening.setdefault(each.place.partition(".")[0], [])
        if subject not in subjects:
            subjects.append(subject)
    return [
        Finding(
            id=f"finding.unchecked.{opening}",
            severity="watch",
            message=f"Not checked at {opening}, for lack of facts: {', '.join(subjects)}.",
            advice="The findings sheet says what each needs; state it in [unit.facts] or [[unit.pane]].",
            source=PRACTICE,
            place=opening,
        )
        for opening, subjects in by_opening.items()
    ]


def _not_looked_into(job: Job) -> list[Finding]:
    """Say once for which units nothing was stated that the checks of an opening ask for."""
    names = [unit.opening for unit in job.unit if not stated(unit)]
    if not names:
        return []
    unlooked = Finding(
        id="finding.openings.unsaid",
        severity="watch",
        message=f"Not checked for {', '.join(names)}, as nothing is stated: safety glass, escape, falls, "
        "landing, header, heat.",
        advice="Add [unit.facts] and [[unit.pane]] to the job; docs/job-file.md lists their keys.",
        source=PRACTICE,
    )
    return [unlooked]


def _checked(
    job: Job, survey: Survey, book: RuleBook, deck: AtTheDeck | None, ledger: OnTheWall | None
) -> tuple[Result, ...]:
    found = opening_results(job, survey, book, heights=deck.result if deck is not None else None)
    if ledger is None:
        return found
    placed = ledger.ledger is not None and bool(ledger.ledger.fasteners)
    apart = {"tie": ledger.facts.tie_form is not None, "joist": ledger.facts.joist_bearing is not None}
    checks = [each for each in LEDGER_CHECKS if apart.get(each.id.partition(".")[0], placed)]
    return (*found, *examine(checks, ledger.facts, book, place="ledger", units=job.units))


# --- the inspector's sheet ----------------------------------------------------------------------------------


def _rows(
    job: Job,
    findings: Iterable[Finding],
    results: tuple[Result, ...],
    deck: AtTheDeck | None,
    ledger: OnTheWall | None,
    framed: tuple[FramingValue, ...],
) -> Iterable[InspectionRow]:
    by_id = {f"finding.{each.check.id}.{each.place}": each for each in results}
    for finding in findings:
        yield _of_finding(finding, by_id.get(finding.id))
    for result in results:
        if result.status in ("met", "struck out"):
            yield _of_result(result)
    if deck is not None:
        stepped = {
            each.place for each in results if each.check.id == "threshold.outside" and each.status == "met"
        }
        laid = any(each.place == "ledger" for each in results)
        for step in (*deck.heights.steps, *deck.heights.demands):
            # the checks of ledger and threshold have the same limits
            told = (laid and "R507.9" in step.source) or (step.opening in stepped and "R311.3" in step.source)
            if step.source and step.size is not None and _limits(step, job.units) and not told:
                yield _of_step(step, job.units)
    if ledger is not None and ledger.ledger is not None:
        yield from _of_spacing(ledger.ledger, job.units)
    for value in framed:
        if value.met:
            yield _of_framing(value, held=job.code.edition == HELD)


def _of_finding(finding: Finding, result: Result | None) -> InspectionRow:
    came: Came = "to know" if finding.severity == "watch" else "not met"
    if result is not None and result.status in ("not checked", "outside table"):
        came = "not checked" if result.status == "not checked" else "outside table"
    if finding.id.endswith((".unsaid",)) or ".unchecked" in finding.id:
        came = "not checked"
    return InspectionRow.of(finding, came)


def _of_result(result: Result) -> InspectionRow:
    return InspectionRow(
        id=f"check.{result.check.id}.{result.place}",
        place=result.place,
        what=result.check.title,
        value=result.value,
        limit=result.limit or result.why,
        source=result.source,
        result="met" if result.status == "met" else "struck out",
        severity=None,
        answer="",
        from_memory=MEMORY in result.source,
    )


def _limits(step: HeightStep, units: Unit) -> str:
    least = f"at least {_show(step.least, units)}" if step.least else ""
    most = f"at most {_show(step.most, units)}" if step.most is not None else ""
    return ", ".join(each for each in (least, most) if each)


def _show(length: float, units: Unit) -> str:
    return show(length, unit=units, mark=True)


def _of_step(step: HeightStep, units: Unit) -> InspectionRow:
    return InspectionRow(
        id=f"check.{step.id}",
        place=step.upper,
        what=step.text,
        value=_show(step.size or 0.0, units),
        limit=_limits(step, units),
        source=step.source,
        result="met" if step.holds != "not" else "not met",
        severity=None if step.holds != "not" else "stop",
        answer="",
        from_memory=MEMORY in step.source,
    )


def _of_spacing(ledger: LedgerPlan, units: Unit) -> Iterator[InspectionRow]:
    """Yield how far apart the fasteners stand, and what the table allows; nothing where none are laid out."""
    if ledger.spacing is None or ledger.greatest_gap is None:
        return
    yield InspectionRow(
        id="check.ledger.spacing",
        place="ledger",
        what=f"spacing of the {'bolts' if ledger.fastener == 'bolt' else 'lag screws'} along the ledger",
        value=_show(ledger.greatest_gap, units),
        limit=f"at most {_show(ledger.spacing, units)}",
        source=f"{ledger.spacing_source}, {ledger.spacing_row}",
        result="met",
        severity=None,
        answer="",
        from_memory=ledger.from_memory,
    )


def _of_framing(value: FramingValue, *, held: bool) -> InspectionRow:
    """Return a value of a span table; of another edition's table nothing is met, it is told."""
    return InspectionRow(
        id=f"check.{value.id}",
        place="deck",
        what=value.what,
        value=value.value,
        limit=value.asked,
        source=f"{value.source}, {value.row}",
        result="met" if value.asked and held else "to know",
        severity=None,
        answer="",
        from_memory=value.from_memory,
    )
