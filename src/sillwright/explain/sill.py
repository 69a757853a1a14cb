"""Why the level line lies where it does, and why each pad and planed run is as it is."""

from __future__ import annotations

from functools import partial

from sillwright.explain.model import Case, Entry, Explanation, Given, Index
from sillwright.explain.words import TWO_SIDED_95, above, both, exact, tape
from sillwright.lengths import Unit, to_unit
from sillwright.plan import Plan
from sillwright.setting.model import Edge, Line, Option, Pad, PlanedRun, RowPlan, Term, Trim
from sillwright.survey.model import Station

PROGRAM = (
    "mixed-integer program over line, pads, shims and planing; docs/method.md, and the rates in the plan"
)


TERMS = {
    "pad": "pads",
    "piece": "shims",
    "plane_run": "stretches planed, each edge",
    "plane_inch": "length planed",
    "plane_depth": "depth planed, all stretches",
    "lift": "line above the lowest that can be built, all openings",
    "miss": "pads' tops off the line, all together",
    "misfit": "chance that a unit does not go in",
    "unsure": "units less sure of head room than asked",
    "loose": "units with more room above than they take",
    "over": "limits missed that cannot be met",
    "step": "steps in the row",
    "trim": "jacks cut back",
    "trim_inch": "cut off the jacks",
    "off_centre": "side clearances of units, difference",
    "off_mark": "units off a mark of the tape",
    "pier": "piers between units, difference",
    "fur": "packing behind fins",
    "head_line": "tops that should line up, difference",
}
"""Parts of the work in words; the rates are in setting/data/minutes.csv."""
LEAST_SHOWN = 0.05
"""Less than this is 0.0 as it is shown [min]."""


def sill_entries(case: Case) -> Index:
    """Return what can be asked about rows, lines, pads, planing, trimming and the ways considered."""
    setting, index = case.plan.setting, Index()
    for row in setting.rows:
        index[row.id] = Entry("row", partial(_row, case, row))
        for line in row.lines:
            index[line.id] = Entry("line", partial(_line, case, row, line))
    for pad in setting.pads:
        index[pad.id] = Entry("pad", partial(_pad, case, pad))
    for run in setting.planed:
        index[run.id] = Entry("planed run", partial(_run, case, run))
    for trim in setting.trims:
        index[trim.id] = Entry("trim", partial(_trim, case, trim))
    for option in setting.options:
        index[option.id] = Entry("option", partial(_option, case, option))
    return index


def between(stations: tuple[Station, ...], x: float) -> tuple[float, float] | None:
    """Return height and standard deviation of a profile at x [in], straight between its stations."""
    if not stations:
        return None
    if len(stations) == 1:
        return stations[0].value, stations[0].sd
    right = next((n for n, s in enumerate(stations) if s.at >= x and n), len(stations) - 1)
    a, b = stations[right - 1], stations[right]
    share = (x - a.at) / (b.at - a.at)
    return a.value + share * (b.value - a.value), max(a.sd, b.sd)


def sill_at(case: Case, opening: str, x: float, edge: Edge) -> tuple[float, float] | None:
    """Return height and standard deviation of a rough sill at x [in], as it is before planing."""
    shape = next((each for each in case.plan.survey.openings if each.name == opening), None)
    if shape is None:
        return None
    return between(shape.sill_outer if edge == "outer" else shape.sill_inner, x)


def ways(plan: Plan, row: RowPlan) -> tuple[Option, ...]:
    """Return the ways considered to set a row, the chosen one among them."""
    return tuple(option for option in plan.setting.options if option.openings == row.openings)


def line_of(case: Case, opening: str) -> Line | None:
    """Return the level line that an opening is on."""
    lines = [line for row in case.plan.setting.rows for line in row.lines]
    return next((line for line in lines if opening in line.openings), None)


def _row(case: Case, row: RowPlan) -> Explanation:
    unit = case.plan.units
    low, high = row.low_end, row.high_point
    place = "{0.opening} at {1}, {0.edge} edge, {2}"
    stepped = "The line is stepped: one line for all could not be had, or cost more."
    return Explanation(
        ident=row.id,
        title=f"Openings {', '.join(row.openings)}: the sills differ by {both(high.z - low.z, unit)}",
        answer=(stepped if row.stepped else "One level line serves all of them.",),
        formula="height = beam − down, adjusted; highest and lowest over all stations",
        given=(
            Given(
                name="high point",
                value=place.format(high, tape(high.x, unit), exact(high.z, unit, sd=high.sd)),
            ),
            Given(name="low end", value=place.format(low, tape(low.x, unit), exact(low.z, unit, sd=low.sd))),
        ),
        source="weighted least squares over all readings of the job; docs/method.md",
        see=tuple(line.id for line in row.lines),
    )


def _line(case: Case, row: RowPlan, line: Line) -> Explanation:
    unit, setting = case.plan.units, case.plan.setting
    options = ways(case.plan, row)
    chosen = next((option for option in options if option.chosen), None)
    answer = [setting.objective]
    if chosen is not None:
        answer = [chosen.sentence, *answer]
    others = [
        Given(name="instead", value=f"{o.sentence} {o.minutes:.0f} min", ident=o.id)
        for o in options
        if not o.chosen
    ]
    terms = _terms(case, chosen) if chosen is not None else ()
    high, datum = row.high_point, case.plan.survey.datum
    return Explanation(
        ident=line.id,
        title=f"Level line of {', '.join(line.openings)}: {above(line.z, unit, datum)}",
        answer=tuple(answer),
        formula="the line with the least sum of (how many × minutes each) that keeps every demand",
        given=(
            Given(name="line, tops of the pads", value=exact(line.z, unit)),
            Given(name="highest sill of the row", value=exact(high.z, unit, sd=high.sd), ident=row.id),
            Given(name="underside of the units", value=exact(line.unit_bottom, unit)),
            *terms,
            *others,
        ),
        source=PROGRAM,
        see=tuple(option.id for option in options),
    )


def _terms(case: Case, option: Option) -> tuple[Given, ...]:
    return tuple(
        Given(name=TERMS.get(term.name, term.name), value=times(term, case.plan.units))
        for term in option.terms
        if term.minutes >= LEAST_SHOWN
    )


def times(term: Term, unit: Unit) -> str:
    """Return a part of the work as a sum; lengths in the job's unit, so that it adds up there too."""
    if term.length is None or term.minutes_per_inch is None:
        return f"{term.count or 0.0:.3g} × {term.minutes_each or 0.0:g} min = {term.minutes:.1f} min"
    each = f"{term.minutes_per_inch / to_unit(1.0, unit):.3g} min/{unit}"
    return f"{exact(term.length, unit)} × {each} = {term.minutes:.1f} min"


def _option(case: Case, option: Option) -> Explanation:
    unit = case.plan.units
    chosen = next((o for o in case.plan.setting.options if o.openings == option.openings and o.chosen), None)
    row = next((row for row in case.plan.setting.rows if option in ways(case.plan, row)), None)
    if option.chosen or chosen is None:
        verdict = "This is the way chosen: the least work that keeps every demand."
    else:
        verdict = f"It costs {option.minutes - chosen.minutes:.0f} min more than the way chosen."
    return Explanation(
        ident=option.id,
        title=f"{'Chosen' if option.chosen else 'Instead'}: {option.kind}",
        answer=(option.sentence, verdict),
        formula="sum of (how many × minutes each)",
        given=(
            *_terms(case, option),
            Given(name="together", value=f"{option.minutes:.1f} min"),
            Given(
                name="pads, shims, planed runs", value=f"{option.pads}, {option.pieces}, {option.planed_runs}"
            ),
            Given(name="line", value=both(option.line, unit)),
        ),
        source=PROGRAM,
        see=() if row is None else (row.id,),
    )


def _pad(case: Case, pad: Pad) -> Explanation:
    unit, line = case.plan.units, line_of(case, pad.opening)
    front = f"{both(pad.front, unit)} at the front"
    why = {
        "jamb": "under a jamb of the unit",
        "mull": "under a mull",
        "spacing": "between the others, so that none are too far apart",
    }
    back = "" if pad.back is None else f", {both(pad.back, unit)} at the back"
    answer = [f"It stands {why[pad.why]}.", f"Made of: {pad.make_up}."]
    answer += _planed_here(case, pad)
    if pad.back is None:
        answer.append("The inner edge of the sill was not shot: fit the back by level.")
    given = [] if line is None else [Given(name="line", value=exact(line.z, unit), ident=line.id)]
    given += _edge_sum(case, pad, "outer", pad.front, pad.front_miss)
    if pad.back is not None and pad.back_miss is not None:
        given += _edge_sum(case, pad, "inner", pad.back, pad.back_miss)
    tolerance = exact(case.job.tolerances.pad, unit)
    given += [
        Given(name="top of the pad, ±", value=f"± {exact(TWO_SIDED_95 * pad.sd, unit)}"),
        Given(name="allowed off the line", value=f"{tolerance} (tolerances.pad of the job file)"),
    ]
    return Explanation(
        ident=pad.id,
        title=f"Pad {pad.number} at {tape(pad.x, unit)} in {pad.opening}: {front}{back}",
        answer=tuple(answer),
        formula="pad = line − sill, made up from the shims on hand; top off the line = sill + pad − line",
        given=tuple(given),
        source="adjusted sill of the survey; " + PROGRAM,
        see=tuple(each for each in (line.id if line else "", f"unit.{pad.opening}") if each),
    )


def _planed_here(case: Case, pad: Pad) -> list[str]:
    runs = [r for r in case.plan.setting.planed if r.opening == pad.opening and r.start <= pad.x <= r.end]
    return [f"The sill is planed here first: {run.edge} edge, act {run.number}." for run in runs]


def _edge_sum(case: Case, pad: Pad, edge: Edge, thick: float, miss: float) -> list[Given]:
    unit = case.plan.units
    said = "front" if edge == "outer" else "back"
    sill = sill_at(case, pad.opening, pad.x, edge)
    found = [] if sill is None else [Given(name=f"sill, {said}", value=exact(sill[0], unit, sd=sill[1]))]
    return [
        *found,
        Given(name=f"line − sill, {said}", value=exact(thick - miss, unit)),
        Given(name=f"pad, {said}", value=exact(thick, unit)),
        Given(name=f"top off the line, {said}", value=exact(miss, unit)),
    ]


def _run(case: Case, run: PlanedRun) -> Explanation:
    unit, line = case.plan.units, line_of(case, run.opening)
    sill = sill_at(case, run.opening, run.deepest_x, run.edge)
    given = [] if line is None else [Given(name="line", value=exact(line.z, unit), ident=line.id)]
    if sill is not None:
        given.append(Given(name="sill there", value=exact(sill[0], unit, sd=sill[1])))
    given += [
        Given(name="planed at most", value=both(run.deepest, unit)),
        Given(
            name="allowed", value=f"{exact(case.job.kit.planing_max, unit)} (kit.planing_max of the job file)"
        ),
    ]
    stretch = f"{tape(run.start, unit)} to {tape(run.end, unit)}"
    return Explanation(
        ident=run.id,
        title=f"Plane {run.opening}, {run.edge} edge, from {stretch}: {both(run.deepest, unit)} at most",
        answer=(
            f"The sill stands proud of the line there, most at {tape(run.deepest_x, unit)}.",
            "Planing it costs less work than lifting the line and every pad with it.",
        ),
        formula="planed = sill − line, where positive",
        given=tuple(given),
        source=PROGRAM,
        see=() if line is None else (line.id,),
    )


def _trim(case: Case, trim: Trim) -> Explanation:
    unit = case.plan.units
    return Explanation(
        ident=trim.id,
        title=f"Trim the {trim.side} jack of {trim.opening} by {both(trim.amount, unit)}",
        answer=(
            "Nothing else makes the unit fit.",
            "Cut no framing that carries load without whoever is responsible for the structure.",
        ),
        formula="trim = room needed − room found",
        given=(
            Given(name="trim", value=exact(trim.amount, unit)),
            Given(
                name="allowed", value=f"{exact(case.job.kit.trim_max, unit)} (kit.trim_max of the job file)"
            ),
        ),
        source=PROGRAM,
        see=(f"unit.{trim.opening}",),
    )
