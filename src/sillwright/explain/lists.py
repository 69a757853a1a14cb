"""Why an act, a finding, a conflict, a cut or a verdict on a pad shot again stands in the plan."""

from __future__ import annotations

from functools import partial

from sillwright.explain.model import Case, Entry, Explanation, Given, Index
from sillwright.explain.words import both, exact, tape
from sillwright.findings import Finding
from sillwright.lengths import Unit, from_unit
from sillwright.setting.model import Act, Conflict, Cut, Reshoot, ReshotPad, StockUse
from sillwright.survey.model import WallPlane


def list_entries(case: Case) -> Index:
    """Return what can be asked about acts, findings, conflicts, cuts, stock, the wall and re-shots."""
    plan, index = case.plan, Index()
    for finding in plan.findings:
        index.setdefault(finding.id, Entry("finding", partial(_finding, finding)))
    for act in plan.setting.acts:
        index[f"act.{act.number}"] = Entry("act", partial(_act, case, act))
    for conflict in plan.setting.conflicts:
        index[conflict.id] = Entry("conflict", partial(_conflict, case, conflict))
    for cut in plan.setting.cuts:
        index[cut.id] = Entry("cut", partial(_cut, case, cut))
    for n, use in enumerate(plan.setting.stock, 1):
        index[f"stock.{n}"] = Entry("stock", partial(_stock, case, f"stock.{n}", use))
    if plan.survey.plane is not None:
        index["plane"] = Entry("plane", partial(_plane, case, plan.survey.plane))
    if plan.setting.reshoot is not None:
        index |= _reshoot_entries(case, plan.setting.reshoot)
    return index


def _finding(finding: Finding) -> Explanation:
    said = {
        "found": finding.value,
        "limit": finding.limit,
        "place": " ".join(part for part in (finding.place, finding.mark) if part),
        "answered": finding.answer,
    }
    return Explanation(
        ident=finding.id,
        title=f"{finding.severity.upper()}: {finding.message}",
        answer=(finding.advice,),
        formula="",
        given=tuple(Given(name=name, value=value) for name, value in said.items() if value),
        source=finding.source,
        see=(finding.place,) if finding.place else (),
    )


def _act(case: Case, act: Act) -> Explanation:
    unit = case.plan.units
    return Explanation(
        ident=f"act.{act.number}",
        title=f"Act {act.number}: {act.text}",
        answer=(f"It is number {act.number} on the drawing of {act.opening}.",),
        formula="",
        given=(
            Given(name="along the wall, x", value=tape(act.x, unit)),
            Given(name="height", value=exact(act.z, unit)),
        ),
        source=f"explained by {act.ref}",
        see=(act.ref,),
    )


def _conflict(case: Case, conflict: Conflict) -> Explanation:
    demands = tuple(Given(name=demand.name, value=demand.text) for demand in conflict.demands)
    return Explanation(
        ident=conflict.id,
        title=f"Openings {', '.join(conflict.openings)}: these demands cannot all be met",
        answer=("Take any one of them away, and the rest can be met.", f"The least change: {conflict.cure}"),
        formula="smallest set of demands that no plan keeps; least change of one of them that gives a plan",
        given=(*demands, Given(name="by", value=both(conflict.by, case.plan.units))),
        source="mixed-integer program over line, pads, shims and planing; docs/method.md",
    )


def _cut(case: Case, cut: Cut) -> Explanation:
    unit = case.plan.units
    sizes = {"length": cut.length, "width": cut.width, "thick": cut.thick, "thin edge": cut.thin}
    given = [Given(name=name, value=tape(size, unit)) for name, size in sizes.items() if size is not None]
    long = "" if cut.length is None else f": {tape(cut.length, unit)} long"
    return Explanation(
        ident=cut.id,
        title=f"Cut {cut.count} of {cut.what} for {cut.opening}{long}",
        answer=(cut.note or "It belongs to the pads and strips of that opening.",),
        formula="",
        given=tuple(given),
        source="pads and strips of the plan",
    )


def _stock(case: Case, ident: str, use: StockUse) -> Explanation:
    unit = case.plan.units
    kind = tape(use.thickness, unit) + ("" if use.thin is None else f", tapering to {tape(use.thin, unit)}")
    on_hand = "enough, as the job file gives no count" if use.on_hand is None else str(use.on_hand)
    return Explanation(
        ident=ident,
        title=f"Shims of {kind}: {use.needed} needed",
        answer=("Counted over the make-up of all pads.",),
        formula="",
        given=(Given(name="needed", value=str(use.needed)), Given(name="on hand", value=on_hand)),
        source="kit.shims of the job file",
    )


def _plane(case: Case, plane: WallPlane) -> Explanation:
    unit = case.plan.units
    lean = _lean(plane.lean_in_per_ft, unit, sd=plane.lean_sd_in_per_ft)
    return Explanation(
        ident="plane",
        title=f"The wall leans into the house by {_lean(plane.lean_in_per_ft, unit)}",
        answer=("Negative: it leans out. Twist is the lean at the right end less that at the left end.",),
        formula="mean over all jacks of (how far the top stands in − how far the bottom does) / height",
        given=(Given(name="lean", value=lean), Given(name="twist", value=_lean(plane.twist_in_per_ft, unit))),
        source="weighted least squares over all readings of the job; docs/method.md",
    )


def _lean(inches_per_foot: float, unit: Unit, *, sd: float | None = None) -> str:
    """Return a lean as a carpenter of that unit says it: inches in a foot, millimetres in a metre."""
    if unit == "in":
        return f"{exact(inches_per_foot, unit, sd=sd)} in each foot of height"
    feet_in_a_metre = from_unit(1000.0, "mm") / 12.0
    wide = None if sd is None else sd * feet_in_a_metre
    return f"{exact(inches_per_foot * feet_in_a_metre, unit, sd=wide)} in each metre of height"


def _reshoot_entries(case: Case, reshoot: Reshoot) -> Index:
    index = {"reshoot": Entry("reshoot", partial(_reshoot, case, reshoot))}
    for pad in reshoot.pads:
        ident = f"reshoot.{pad.number}.{pad.edge}"
        index[ident] = Entry("reshoot", partial(_reshot, case, ident, pad))
    return index


def _reshoot(case: Case, reshoot: Reshoot) -> Explanation:
    wrong = [pad for pad in reshoot.pads if pad.correction]
    return Explanation(
        ident="reshoot",
        title=f"Pads shot again: {reshoot.verdict}",
        answer=(reshoot.sentence, f"{len(reshoot.pads)} shot again, {len(wrong)} to correct."),
        formula="off = top of the pad − line",
        given=tuple(
            Given(
                name=f"pad {pad.number}, {pad.edge} edge",
                value=f"{both(pad.off, case.plan.units)}. {pad.correction}",
            )
            for pad in reshoot.pads
        ),
        source="tolerances.level_over_unit of the job file; the shots again under [[reshoot]]",
    )


def _reshot(case: Case, ident: str, pad: ReshotPad) -> Explanation:
    unit, tolerances = case.plan.units, case.job.tolerances
    return Explanation(
        ident=ident,
        title=f"Pad {pad.number}, {pad.edge} edge, shot again: {both(pad.off, unit)} off the line",
        answer=(pad.correction or "Leave it: it is within what is allowed, or the shots cannot tell.",),
        formula="off = top of the pad − line",
        given=(
            Given(name="place in the job file", value=pad.path),
            Given(name="off the line", value=exact(pad.off, unit, sd=pad.sd)),
            Given(name="allowed", value=exact(tolerances.level_over_unit, unit)),
        ),
        source="tolerances.level_over_unit of the job file",
        see=(f"pad.{pad.number}",),
    )
