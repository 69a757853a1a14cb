"""The plan in words for a terminal: what is wrong first, then what to do, then where things are."""

from __future__ import annotations

from collections.abc import Iterator

from sillwright.cli.say import Words
from sillwright.explain import Explanation, above, percent, tape, ways
from sillwright.findings import Finding
from sillwright.job import Document
from sillwright.plan import Plan
from sillwright.setting.model import Clearance, OrderSize, RowPlan, UnitPosition
from sillwright.structure import NOTE


def summary(plan: Plan, document: Document) -> Iterator[Words]:
    """Yield the plan as paragraphs."""
    invented = " Invented demonstration data." if plan.invented else ""
    yield Words(plan.title, "title")
    yield Words(f"Plan {plan.fingerprint}.{invented} Lengths in {_UNIT_WORDS[plan.units]}.")
    yield from _suspects(plan, document)
    yield from _findings(plan)
    for row in plan.setting.rows:
        yield from _row(plan, row)
    yield from _planing(plan)
    yield from _conflicts(plan)
    yield from _units(plan)
    yield from _deck(plan)
    yield from _engineer(plan)
    yield from _orders(plan)
    yield from _reshoot(plan)
    yield from _next(plan)
    yield from _cautions(plan)


_UNIT_WORDS = {"in": "inches", "mm": "millimetres"}


def _heading(text: str) -> Iterator[Words]:
    yield Words("")
    yield Words(text, "heading")


def _suspects(plan: Plan, document: Document) -> Iterator[Words]:
    survey = plan.survey
    if not survey.suspects and not survey.disturbed:
        yield from _heading("Readings: none contradicts the others")
        return
    yield from _heading("Readings to take again")
    for suspect in survey.suspects:
        yield Words(
            f"{_capital(suspect.sentence)} {_at(document, suspect.path)} ({suspect.id})", "fix", "FIX", 2
        )
    for disturbed in survey.disturbed:
        where = _at(document, disturbed.before_path)
        yield Words(f"{_capital(disturbed.sentence)} {where} ({disturbed.id})", "fix", "FIX", 2)


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]


def _at(document: Document, path: str) -> str:
    line = document.line_of(path)
    return f"[{path}]" if line is None else f"[line {line}, {path}]"


def _findings(plan: Plan) -> Iterator[Words]:
    survey = plan.survey
    said = {each.sentence for each in survey.suspects} | {each.sentence for each in survey.disturbed}
    shown = [finding for finding in plan.findings if finding.message not in said]
    if shown:
        yield from _heading("Findings")
    for finding in shown:
        yield Words(_finding(finding), finding.severity, finding.severity.upper(), 2)


def _finding(finding: Finding) -> str:
    answered = f" Answered: {finding.answer}" if finding.answer else ""
    return f"{_capital(finding.message)} {finding.advice}{answered} ({finding.id})"


def _row(plan: Plan, row: RowPlan) -> Iterator[Words]:
    unit, low, high = plan.units, row.low_end, row.high_point
    yield from _heading(f"Opening{'' if len(row.openings) == 1 else 's'} {', '.join(row.openings)}")
    yield Words(
        f"Low end: {low.opening} at {tape(low.x, unit)}. High point: {high.opening} at {tape(high.x, unit)}, "
        f"{tape(high.z - low.z, unit)} higher. ({row.id})",
        indent=2,
    )
    for line in row.lines:
        pads = [pad for pad in plan.setting.pads if pad.opening in line.openings]
        thick = [pad.front for pad in pads]
        made = f"{len(pads)} pads" + (
            f", {tape(min(thick), unit)} to {tape(max(thick), unit)} at the front" if pads else ""
        )
        top, bottom = (above(z, unit, plan.survey.datum) for z in (line.z, line.unit_bottom))
        yield Words(
            f"Level line of {', '.join(line.openings)}: {top}; undersides of the units {bottom}. "
            f"{made}. ({line.id})",
            indent=2,
        )
    for option in ways(plan, row):
        if not option.chosen:
            yield Words(f"Instead: {option.sentence} ({option.id})", indent=2)


def _planing(plan: Plan) -> Iterator[Words]:
    unit, setting = plan.units, plan.setting
    if setting.planed or setting.trims:
        yield from _heading("To plane and trim")
    for run in setting.planed:
        yield Words(
            f"Plane {run.opening}, {run.edge} edge, from {tape(run.start, unit)} to {tape(run.end, unit)}: "
            f"{tape(run.deepest, unit)} at {tape(run.deepest_x, unit)}. ({run.id})",
            indent=2,
        )
    for trim in setting.trims:
        yield Words(
            f"Trim the {trim.side} jack of {trim.opening} by {tape(trim.amount, unit)}. ({trim.id})", indent=2
        )


def _conflicts(plan: Plan) -> Iterator[Words]:
    told = {finding.place for finding in plan.findings}
    untold = [conflict for conflict in plan.setting.conflicts if conflict.id not in told]
    if untold:
        yield from _heading("What cannot be had together")
    for conflict in untold:
        demands = "; ".join(demand.text for demand in conflict.demands)
        text = f"{', '.join(conflict.openings)}: {demands}. Least change: {conflict.cure} ({conflict.id})"
        yield Words(text, "stop", "STOP", 2)


def _units(plan: Plan) -> Iterator[Words]:
    if plan.setting.units:
        yield from _heading("Units")
    for position in plan.setting.units:
        yield Words(_unit(plan, position), indent=2)


def _unit(plan: Plan, position: UnitPosition) -> str:
    unit = plan.units
    place = f"from {tape(position.left, unit)} to {tape(position.right, unit)}"
    if not position.position_known:
        place += " (no jack was taped from the wall mark)"
    sides = (
        ("left", position.left_clearance),
        ("right", position.right_clearance),
        ("head", position.head_clearance),
    )
    rooms = ", ".join(f"{name} {_room(room, plan)}" for name, room in sides)
    fit = "fit not determined" if position.fit is None else f"fits with {percent(position.fit.probability)}"
    missing = "; ".join(position.fit.not_determined) if position.fit else ""
    less = f", but not known: {missing}" if missing else ""
    return f"{position.opening}, {position.kind}: {place}; room {rooms}; {fit}{less}. ({position.id})"


def _room(clearance: Clearance | None, plan: Plan) -> str:
    return "not determined" if clearance is None else tape(clearance.least, plan.units)


_SET_OUT = (
    "threshold",
    "walking surface",
    "ledger top",
    "joist top",
    "upper row",
    "lower row",
    "beam bottom",
)


def _deck(plan: Plan) -> Iterator[Words]:
    if plan.heights is None:
        return
    unit, datum = plan.units, plan.survey.datum
    heights = plan.heights
    yield from _heading(f"Deck below {', '.join(each.opening for each in heights.openings)}")
    steps = {each.opening: each.step_down for each in heights.openings}
    for level in reversed(heights.levels):
        if level.name in _SET_OUT and level.z is not None:
            down = steps.get(level.opening) if level.name == "threshold" else None
            what = f"{_capital(level.name)}{f' of {level.opening}' if level.opening else ''}"
            step = f", {tape(down, unit)} above the walking surface" if down is not None else ""
            yield Words(f"{what}: {above(level.z, unit, datum)}{step}. ({level.id})", indent=2)
    ledger = plan.ledger
    if ledger is not None and ledger.spacing is not None:
        name = "lag screws" if ledger.fastener == "lag" else "bolts"
        count = f"{len(ledger.fasteners)} {name}" if ledger.fasteners else f"no {name} are laid out"
        apart = f"at most {tape(ledger.spacing, unit)} apart"
        memory = ", from memory, not read" if ledger.from_memory else ""
        yield Words(f"Ledger: {count}, {apart}{memory}. (ledger)", indent=2)
        if ledger.lag is not None:
            long, tip, deep = (
                tape(each, unit) for each in (ledger.lag.length, ledger.lag.tip, ledger.lag.penetration)
            )
            yield Words(
                f"Lag screws at least {long} long, {deep} in the wood behind; the tapered tip of {tip} comes "
                "out past it and is not counted. (ledger)",
                indent=2,
            )
    for value in plan.framing:
        limit = f", {value.asked}" if value.asked else ""
        memory = "; from memory, not read" if value.from_memory else ""
        yield Words(f"{_capital(value.what)}: {value.value}{limit}{memory}. ({value.id})", indent=2)
    met = sum(row.result == "met" for row in plan.inspection)
    yield Words(f"{met} checks of the code are met; all stand on the findings sheet.", indent=2)


def _engineer(plan: Plan) -> Iterator[Words]:
    if plan.engineer:
        yield from _heading(f"By calculation, {NOTE}")
    for sheet in plan.engineer:
        said = sheet.answer if not sheet.refused else f"no value; {sheet.refused}"
        yield Words(f"{_capital(sheet.subject)}: {said}. ({sheet.id})", indent=2)
    if plan.engineer:
        yield Words("No permission to build: the code's tables come first.", indent=2)


def _orders(plan: Plan) -> Iterator[Words]:
    if plan.setting.order_sizes:
        yield from _heading("Largest sizes to order")
    for order in plan.setting.order_sizes:
        yield Words(f"{order.opening}: {_order(plan, order)} ({order.id})", indent=2)


def _order(plan: Plan, order: OrderSize) -> str:
    unit, wanted = plan.units, percent(order.wanted_probability)
    if order.largest is None:
        return f"none on offer fits with {wanted}, or it is not determined."
    size = f"{tape(order.largest.width, unit)} × {tape(order.largest.height, unit)}"
    return f"{size} fits with {percent(order.largest.probability)} ({wanted} asked)."


def _reshoot(plan: Plan) -> Iterator[Words]:
    reshoot = plan.setting.reshoot
    if reshoot is None:
        return
    yield from _heading(f"Pads shot again: {reshoot.verdict}")
    yield Words(f"{reshoot.sentence} (reshoot)", indent=2)
    for pad in reshoot.pads:
        if pad.correction:
            yield Words(f"{_capital(pad.correction)} (reshoot.{pad.number}.{pad.edge})", indent=2)


def _next(plan: Plan) -> Iterator[Words]:
    for n, future in enumerate(plan.measure_next, 1):
        if n == 1 or future.decision != plan.measure_next[n - 2].decision:
            yield from _heading(f"Measure next, to decide: {future.decision}")
        share = f"{100 * future.reduction:.0f}%"
        yield Words(f"{future.label}: takes {share} of the uncertainty away. (next.{n})", indent=2)


def _cautions(plan: Plan) -> Iterator[Words]:
    if plan.cautions:
        yield from _heading("Take care")
    for caution in plan.cautions:
        yield Words(caution, indent=2)


def explained(explanation: Explanation, document: Document) -> Iterator[Words]:
    """Yield an explanation as paragraphs."""
    yield Words(explanation.title, "title")
    for answer in explanation.answer:
        yield Words(answer)
    if explanation.formula:
        yield from _heading("Formula")
        yield Words(explanation.formula, indent=2)
    if explanation.given:
        yield from _heading("What went into it")
    for given in explanation.given:
        line = document.line_of(given.value) if given.name == "place in the job file" else None
        where = f" (line {line})" if line else ""
        more = f" ({given.ident})" if given.ident else ""
        yield Words(f"{given.name}: {given.value}{where}{more}", indent=2)
    yield from _heading("Source")
    yield Words(explanation.source, indent=2)
    if explanation.see:
        yield Words("")
        yield Words(f"See also: {', '.join(explanation.see)}")
