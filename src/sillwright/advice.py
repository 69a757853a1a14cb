"""Findings and cautions: what the survey and the setting plan mean for the next step."""

from __future__ import annotations

from sillwright.findings import Finding, Severity
from sillwright.job import Job
from sillwright.lengths import show
from sillwright.setting.model import Setting, UnitPosition
from sillwright.survey.model import OpeningShape, Survey

ADJUSTMENT = "data snooping, W. Baarda 1968; docs/method.md"
PRACTICE = "common practice, no source"
MAKER = "the unit's own instructions, as entered in the job"


def findings(job: Job, survey: Survey, setting: Setting) -> list[Finding]:
    """Return what a person must know before the next step, in the order of the pipeline."""
    found = [*_of_readings(survey), *_of_lasers(survey), *_of_conflicts(setting), *_of_shapes(job, survey)]
    for unit in setting.units:
        found += _of_unit(job, unit)
    found += _of_stock(job, setting)
    if setting.reshoot is not None and setting.reshoot.verdict != "accept":
        advice = "Correct the pads named, then shoot them again."
        found.append(_finding("reshoot", "fix", setting.reshoot.sentence, advice, PRACTICE))
    return found


def _finding(ident: str, severity: Severity, message: str, advice: str, source: str, place: str = "") -> Finding:
    return Finding(id=ident, severity=severity, message=message, advice=advice, source=source, place=place)


def _of_readings(survey: Survey) -> list[Finding]:
    found = []
    for suspect in survey.suspects:
        advice = f"Take it again before anything is cut or ordered ({suspect.path} in the job file)."
        found.append(_finding(f"finding.{suspect.id}", "fix", suspect.sentence, advice, ADJUSTMENT, suspect.reading))
    for knock in survey.disturbed:
        severity: Severity = "stop" if knock.action == "refused" else "fix"
        advice = "Set the laser up afresh and shoot the marks and the sills named again."
        found.append(_finding(f"finding.{knock.id}", severity, knock.sentence, advice, ADJUSTMENT, knock.id))
    test = survey.global_test
    if test is not None and not test.passed:
        text = f"The readings fit together less well than stated ({test.statistic:.1f} against {test.limit:.1f})."
        advice = "State larger standard deviations, or look for a second mistake."
        found.append(_finding("finding.global", "watch", text, advice, "chi-square test at 95 %; docs/method.md"))
    if survey.not_determined:
        text = "Not determined: " + "; ".join(survey.not_determined) + "."
        found.append(_finding("finding.open", "watch", text, "Read what is missing if a decision rests on it.", ADJUSTMENT))
    return found


def _of_lasers(survey: Survey) -> list[Finding]:
    found = []
    for laser in survey.lasers:
        if laser.verdict == "within its statement":
            continue
        severity: Severity = "fix" if laser.verdict == "out of true" else "watch"
        advice = "Have it adjusted before it is used alone." if severity == "fix" else "Two marks far apart tell most."
        found.append(_finding(f"finding.{laser.id}", severity, laser.sentence, advice, ADJUSTMENT, laser.id))
    return found


def _of_conflicts(setting: Setting) -> list[Finding]:
    return [
        _finding(
            f"finding.{c.id}",
            "stop",
            f"{c.row} cannot be set as asked. These demands clash: " + "; ".join(d.text for d in c.demands) + ".",
            c.cure,
            "linear program over the demands, smallest clashing set; docs/method.md",
            c.id,
        )
        for c in setting.conflicts
    ]


def _of_shapes(job: Job, survey: Survey) -> list[Finding]:
    found = []
    for shape in survey.openings:
        found += _sill_fall(job, shape)
        if shape.head_sag is not None and shape.head_sag > max(0.25, shape.height / 400.0):
            amount = show(shape.head_sag, unit=job.units, mark=True)
            text = f"The head of {shape.name} sags {amount} in the middle."
            advice = "Find out why before a unit goes under it: a header that moves is a matter for an engineer."
            found.append(_finding(f"finding.sag.{shape.name}", "stop", text, advice, PRACTICE, shape.name))
    return found


def _sill_fall(job: Job, shape: OpeningShape) -> list[Finding]:
    if shape.fall_outward is None or shape.fall_outward > -1 / 16:
        return []
    amount = show(-shape.fall_outward, unit=job.units, graduation=1 / 32 if job.units == "in" else 1.0, mark=True)
    text = f"The sill of {shape.name} falls {amount} into the house."
    advice = "Pads and strip must turn it outward, and the pan needs its back dam."
    return [_finding(f"finding.fall.{shape.name}", "fix", text, advice, PRACTICE, shape.name)]


def _of_unit(job: Job, unit: UnitPosition) -> list[Finding]:
    found = []
    fit = unit.fit
    asked = next(u for u in job.unit if u.opening == unit.opening)
    if (asked.frame_width, asked.frame_height) != (unit.width, unit.height):

        def size(width: float, height: float) -> str:
            return f"{show(width, unit=job.units)} x {show(height, unit=job.units)}"

        text = (
            f"{unit.opening} is not ordered yet: {size(asked.frame_width, asked.frame_height)} does not fit surely; "
            f"planned with {size(unit.width, unit.height)}."
        )
        advice = "Order by the size sheet, after the readings named under measure next."
        found.append(_finding(f"finding.size.{unit.opening}", "fix", text, advice, MAKER, unit.id))
    if fit is not None and fit.probability < job.tolerances.fit_probability:
        severity: Severity = "stop" if fit.probability < 0.5 else "fix"
        text = f"{unit.opening} fits with {fit.probability:.1%}; what may fail is the {fit.governed_by}."
        advice = (
            "No reading will change that: see the order sizes, or what clashes."
            if fit.probability < 0.05
            else "Take the readings named under measure next, then plan again before ordering or cutting."
        )
        found.append(_finding(f"finding.fit.{unit.opening}", severity, text, advice, MAKER, unit.id))
    if unit.cross_leg is not None and abs(unit.cross_leg) > unit.largest_out_of_plane:
        gap = show(abs(unit.cross_leg), unit=job.units, graduation=1 / 32 if job.units == "in" else 1.0, mark=True)
        limit = show(unit.largest_out_of_plane, unit=job.units, graduation=1 / 32 if job.units == "in" else 1.0, mark=True)
        text = f"The jacks of {unit.opening} are cross-legged: strings would gap {gap}, the unit takes {limit}."
        advice = "Pack the corners as listed so that the frame stays in one plane, or move a jack."
        found.append(_finding(f"finding.cross.{unit.opening}", "fix", text, advice, MAKER, unit.id))
    return found


def _of_stock(job: Job, setting: Setting) -> list[Finding]:
    short = [s for s in setting.stock if s.on_hand is not None and s.needed > s.on_hand]
    return [
        _finding(
            f"finding.stock.{k + 1}",
            "fix",
            f"Pads take {s.needed} shims of {show(s.thickness, unit=job.units, graduation=1 / 64 if job.units == 'in' else 0.1, mark=True)}; "
            f"{s.on_hand} are on hand.",
            f"Get {s.needed - (s.on_hand or 0)} more.",
            "counted from the pads",
        )
        for k, s in enumerate(short)
    ]


def cautions(job: Job) -> tuple[str, ...]:
    """Return the usual cautions for this work; local code and licensed people always decide."""
    heavy = [u for u in job.unit if (u.weight_kg or (u.weight_lb or 0.0) / 2.2046) > 45.0]
    found = [
        "Local code, the unit's own instructions and licensed people decide over anything printed here.",
        "Headers, cut jacks and bearing walls: nothing is cut or loaded before someone qualified has looked; "
        "shore first. This plan sizes no header.",
        "Glass and heavy frames: weigh before lifting, enough people or a lift, gloves, never stand under.",
        "Ladders and open doors above ground: tie off or guard; bar a door that has no deck yet.",
        "Paint older than 1978: take it as lead until tested; old putty and siding may hold asbestos.",
        "Wires and pipes in the wall: trace and shut off before planing, cutting or driving a fastener.",
    ]
    if heavy:
        names = ", ".join(u.opening for u in heavy)
        found.insert(3, f"Too heavy for two people to set by hand: {names}. Plan the lift.")
    return tuple(found)
