"""Why a height, a fastener of the ledger, a span or a check of the code is what it is."""

from __future__ import annotations

from functools import partial

from sillwright.explain.model import Case, Entry, Explanation, Given, Index
from sillwright.explain.words import above, both, tape
from sillwright.inspection import (
    FramingValue,
    Height,
    Heights,
    HeightStep,
    InspectionRow,
    LedgerFastener,
    LedgerPlan,
)

CHAIN = "chain of heights, solved with its limits; docs/method.md"
LAID_OUT = "fewest fasteners within the spacing, rows by turns, gaps as even as what is in the way allows"
HOW = {
    "known": "It was read, or the setting plan fixed it.",
    "tied": "It follows from the rest: nothing else is possible.",
    "chosen": "The limits leave room; wishes first, then as clear of every limit as can be.",
    "open": "Nothing settles it yet.",
}
HOLDS = {
    "at worst": "It holds even if every piece is off against it.",
    "statistically": "It holds by the root of the sum of squares, not if every piece is off against it.",
    "as drawn": "It holds only if every piece is as drawn.",
    "not": "It does not hold.",
    "open": "Nothing settles it yet.",
}


def deck_entries(case: Case) -> Index:
    """Return what can be asked about heights, ledger, framing and checks."""
    plan, index = case.plan, Index()
    if plan.heights is not None:
        for level in plan.heights.levels:
            index[level.id] = Entry("height", partial(_height, case, plan.heights, level))
        for step in (*plan.heights.steps, *plan.heights.demands):
            index[step.id] = Entry("height", partial(_step, case, step))
    if plan.ledger is not None:
        index["ledger"] = Entry("ledger", partial(_ledger, case, plan.ledger))
        for fastener in plan.ledger.fasteners:
            index[fastener.id] = Entry("fastener", partial(_fastener, case, plan.ledger, fastener))
    for value in plan.framing:
        index[value.id] = Entry("framing", partial(_framing, value))
    for row in plan.inspection:
        if row.id.startswith("check."):
            index[row.id] = Entry("check", partial(_check, row))
    return index


def _height(case: Case, heights: Heights, level: Height) -> Explanation:
    unit, datum = case.plan.units, case.plan.survey.datum
    where = "open" if level.z is None else above(level.z, unit, datum)
    touching = [each for each in heights.steps if level.id in (each.lower, each.upper)]
    given = [] if level.z is None else [Given(name="height", value=both(level.z, unit, sd=level.sd))]
    if level.worst is not None and level.z is not None:
        given.append(Given(name="off at worst", value=both(level.worst, unit)))
    for name, bound in (("lowest it may be", level.least), ("highest it may be", level.most)):
        if bound is not None and level.how == "chosen":
            given.append(Given(name=name, value=both(bound, unit)))
    given += [_piece(case, heights, each, level) for each in touching if each.size is not None]
    return Explanation(
        ident=level.id,
        title=f"{level.text[:1].upper()}{level.text[1:]}: {where}",
        answer=(HOW[level.how],),
        formula="height = height below + size of the piece between",
        given=tuple(given),
        source=CHAIN,
        see=tuple(each.id for each in touching),
    )


def _piece(case: Case, heights: Heights, step: HeightStep, level: Height) -> Given:
    way = "above" if step.upper == level.id else "below"
    ident = step.lower if step.upper == level.id else step.upper
    other = next((_named(each) for each in heights.levels if each.id == ident), case.plan.survey.datum)
    return Given(
        name=f"{step.name}, {way} {other}", value=both(step.size or 0.0, case.plan.units), ident=step.id
    )


def _named(level: Height) -> str:
    return f"{level.name} of {level.opening}" if level.opening else level.name


def _step(case: Case, step: HeightStep) -> Explanation:
    unit = case.plan.units
    size = "open" if step.size is None else tape(step.size, unit)
    said = {
        "size": step.size,
        "at least": step.least,
        "at most": step.most,
        "off at worst": step.worst,
        "off by root of squares": step.rss,
    }
    return Explanation(
        ident=step.id,
        title=f"{step.text[:1].upper()}{step.text[1:]}: {size}",
        answer=(HOLDS[step.holds],),
        formula="upper height − lower height",
        given=tuple(
            Given(name=name, value=both(value, unit)) for name, value in said.items() if value is not None
        ),
        source=step.source or CHAIN,
        see=tuple(each for each in (step.lower, step.upper) if each),
    )


def _ledger(case: Case, ledger: LedgerPlan) -> Explanation:
    unit = case.plan.units
    size = ledger.size or tape(ledger.top - ledger.bottom, unit)
    many = f"{len(ledger.fasteners)} fasteners; the spacing alone would need {ledger.least_count}"
    answer = [many if ledger.fasteners else "No fastener is placed: the findings say why."]
    if ledger.from_memory:
        answer.append("The table's number is from memory, not read: look it up before building.")
    if ledger.lag is not None:
        answer.append("The tapered tip of a lag screw comes out past the wood behind and is not counted.")
    answer += [f"Not said in the job, and taken: {text}." for text in ledger.assumed]
    said = {
        "left end": ledger.left,
        "right end": ledger.right,
        "top": ledger.top,
        "spacing allowed": ledger.spacing,
        "greatest gap as laid out": ledger.greatest_gap,
    }
    if ledger.lag is not None:
        said["lag screws at least this long"] = ledger.lag.length
        said["penetration without the tip"] = ledger.lag.penetration
        said["tapered tip"] = ledger.lag.tip
    given = [Given(name=name, value=both(value, unit)) for name, value in said.items() if value is not None]
    if ledger.spacing_row:
        given.append(Given(name="row of the table", value=ledger.spacing_row))
    return Explanation(
        ident="ledger",
        title=f"The ledger, {size}: top {above(ledger.top, unit, case.plan.survey.datum)}",
        answer=tuple(answer),
        formula=LAID_OUT,
        given=tuple(given),
        source=ledger.spacing_source or "IRC R507.9",
        see=("height.ledger-top", *(each.id for each in ledger.fasteners[:1])),
    )


def _fastener(case: Case, ledger: LedgerPlan, fastener: LedgerFastener) -> Explanation:
    unit, all_of = case.plan.units, ledger.fasteners
    given = [
        Given(name="from the ledger's left end", value=both(fastener.from_left, unit)),
        Given(name="along the wall, x", value=both(fastener.x, unit)),
        Given(name="height", value=both(fastener.z, unit)),
        Given(name="below the ledger's top", value=both(fastener.below_top, unit)),
    ]
    for name, n in (
        ("to the one on the left", fastener.number - 2),
        ("to the one on the right", fastener.number),
    ):
        if 0 <= n < len(all_of):
            gap = abs(all_of[n].from_left - fastener.from_left)
            given.append(Given(name=name, value=both(gap, unit), ident=all_of[n].id))
    if ledger.spacing is not None:
        given.append(Given(name="spacing allowed", value=both(ledger.spacing, unit), ident="ledger"))
    return Explanation(
        ident=fastener.id,
        title=f"Fastener {fastener.number} of the ledger, {fastener.row} row: "
        f"{tape(fastener.from_left, unit)} from its left end",
        answer=("It keeps clear of hangers, of what is in the way, and of its neighbours.",),
        formula=LAID_OUT,
        given=tuple(given),
        source=f"{ledger.spacing_source}; distances: IRC Table R507.9.1.3(2)",
        see=("ledger",),
    )


def _framing(value: FramingValue) -> Explanation:
    memory = ("The table's number is from memory, not read: look it up before building.",)
    return Explanation(
        ident=value.id,
        title=f"{value.what[:1].upper()}{value.what[1:]}: {value.value}",
        answer=memory if value.from_memory else ("Read in the table.",),
        formula="",
        given=tuple(
            Given(name=name, value=text)
            for name, text in (("limit", value.asked), ("row of the table", value.row))
            if text
        ),
        source=value.source,
    )


def _check(row: InspectionRow) -> Explanation:
    said = {"found": row.value, "limit": row.limit, "result": row.result, "place": row.place}
    return Explanation(
        ident=row.id,
        title=f"{row.what[:1].upper()}{row.what[1:]}: {row.result}",
        answer=("It stands on the findings sheet for the inspector.",),
        formula="",
        given=tuple(Given(name=name, value=text) for name, text in said.items() if text),
        source=row.source,
        see=(row.place,) if row.place else (),
    )
