"""Findings and cautions: what the survey and the setting plan mean for the next step."""

from __future__ import annotations

from dataclasses import replace

from sillwright.findings import Finding, Severity
from sillwright.job import Job
from sillwright.lengths import show
from sillwright.setting.model import Conflict, OrderSize, Setting, UnitPosition
from sillwright.setting.words import enough, small
from sillwright.survey.model import OpeningShape, Survey

ADJUSTMENT = "data snooping, W. Baarda 1968; docs/method.md"
PRACTICE = "common practice, no source"
MAKER = "the unit's own instructions, as entered in the job"
LEAST_SAG, SAG_SHARE = 0.25, 360.0
SAG_LIMIT = "more than 1/4 in and span/360: building codes' usual limit of deflection (from memory)"
LEAST_SPREAD = 1 / 8
SPREAD_LIMIT = (
    "1/8 in: spread of an opening's three widths in a trade measuring guide, not a standard (docs/checks.md)"
)
LEAST_FALL = 1 / 16
"""Fall of a sill into the house that is worth a word [in]: common practice, no source."""
TWO_PEOPLE_KG = 45.0
"""What two people set by hand [kg]: common practice, no source."""
KG_PER_LB = 0.45359237


def findings(job: Job, survey: Survey, setting: Setting) -> list[Finding]:
    """Return what a person must know before the next step, in the order of the pipeline: readings first."""
    found = [*_of_readings(survey), *_of_lasers(survey), *_of_conflicts(job, setting)]
    for shape in survey.openings:
        found += [*_of_shape(job, shape), *_of_square(job, shape)]
    clashing = {name for conflict in setting.conflicts for name in conflict.openings}
    for unit in setting.units:
        found += _of_unit(job, setting, unit, clashing=unit.opening in clashing)
    return [
        *found,
        *_of_trims(job, setting),
        *_of_stock(job, setting),
        *_left_out(job, survey),
        *_after(job, setting),
    ]


def _finding(
    ident: str, severity: Severity, message: str, advice: str, source: str, place: str = ""
) -> Finding:
    return Finding(id=ident, severity=severity, message=message, advice=advice, source=source, place=place)


def _of_readings(survey: Survey) -> list[Finding]:
    found = []
    for suspect in survey.suspects:
        advice = f"Before anything is cut or ordered. In the job file: {suspect.path}."
        found.append(
            _finding(f"finding.{suspect.id}", "fix", suspect.sentence, advice, ADJUSTMENT, suspect.reading)
        )
    for knock in survey.disturbed:
        severity: Severity = "stop" if knock.action == "refused" else "fix"
        advice = "Set the laser up afresh and shoot the marks and the sills named again."
        found.append(_finding(f"finding.{knock.id}", severity, knock.sentence, advice, ADJUSTMENT, knock.id))
    test = survey.global_test
    if test is not None and not test.passed:
        score = f"{test.statistic:.1f} against {test.limit:.1f}"
        text = f"The readings fit together less well than stated ({score})."
        advice = "State larger standard deviations, or look for a second mistake."
        source = "chi-square test at 95 %; docs/method.md"
        found.append(_finding("finding.global", "watch", text, advice, source))
    if survey.not_determined:
        text = "Not determined: " + "; ".join(_grouped(survey.not_determined)) + "."
        advice = "Read what is missing if a decision rests on it."
        found.append(_finding("finding.open", "watch", text, advice, ADJUSTMENT))
    return found


def _grouped(open_: tuple[str, ...]) -> list[str]:
    """Return statements of the form `A: what` with the names of all openings that share one."""
    names: dict[str, list[str]] = {}
    for statement in open_:
        name, colon, what = statement.partition(": ")
        names.setdefault(what if colon else statement, []).extend([name] if colon else [])
    return [f"{', '.join(own)}: {what}" if own else what for what, own in names.items()]


def _of_lasers(survey: Survey) -> list[Finding]:
    found = []
    for laser in survey.lasers:
        if laser.verdict == "within its statement":
            continue
        bad = laser.verdict == "out of true"
        advice = "Have it adjusted before it is used alone." if bad else "Two marks far apart tell most."
        severity: Severity = "fix" if bad else "watch"
        found.append(_finding(f"finding.{laser.id}", severity, laser.sentence, advice, ADJUSTMENT, laser.id))
    return found


def _of_conflicts(job: Job, setting: Setting) -> list[Finding]:
    sizes = {size.opening: size for size in setting.order_sizes}
    return [_of_conflict(job, conflict, sizes) for conflict in setting.conflicts]


def _of_conflict(job: Job, conflict: Conflict, sizes: dict[str, OrderSize]) -> Finding:
    clash = "; ".join(demand.text for demand in conflict.demands)
    one = len(conflict.demands) == 1
    text = f"{', '.join(conflict.openings)} cannot be set as asked. "
    text += f"This cannot be met: {clash}." if one else f"These demands clash: {clash}."
    fitting = [_fitting(job, sizes[name]) for name in conflict.openings if name in sizes]
    advice = " ".join([conflict.cure, *(said for said in fitting if said)])
    source = "smallest set of bounds that cannot all be met; docs/method.md, Setting"
    return _finding(f"finding.{conflict.id}", "stop", text, advice, source, conflict.id)


def _fitting(job: Job, size: OrderSize) -> str:
    """Say which size would fit, where the one asked for does not."""
    if size.largest is None or size.asked is None or size.asked.probability >= size.wanted_probability:
        return ""
    largest = _size(job, size.largest.width, size.largest.height)
    return f"Largest that fits {size.opening} as surely as asked: {largest}."


def _size(job: Job, width: float, height: float) -> str:
    return f"{show(width, unit=job.units)} x {show(height, unit=job.units)}"


def _of_shape(job: Job, shape: OpeningShape) -> list[Finding]:
    found = []
    if shape.fall_outward is not None and shape.fall_outward <= -LEAST_FALL:
        text = f"The sill of {shape.name} falls {small(-shape.fall_outward, job.units)} into the house."
        advice = "Pads and strip must turn it outward, and the pan needs its back dam."
        fall = _finding(f"finding.fall.{shape.name}", "fix", text, advice, PRACTICE, shape.name)
        level = small(0.0, job.units)
        found.append(replace(fall, value=small(shape.fall_outward, job.units), limit=level, mark="sill"))
    limit = max(LEAST_SAG, (shape.right - shape.left) / SAG_SHARE)
    if shape.head_sag is not None and shape.head_sag > limit:
        text = (
            f"The head of {shape.name} sags {show(shape.head_sag, unit=job.units, mark=True)} in the middle."
        )
        advice = "Find out why before a unit goes under it: a header that moves is a matter for an engineer."
        sag = _finding(f"finding.sag.{shape.name}", "stop", text, advice, SAG_LIMIT, shape.name)
        seen, most = (show(length, unit=job.units, mark=True) for length in (shape.head_sag, limit))
        found.append(replace(sag, value=seen, limit=most, mark="head"))
    return found


def _of_square(job: Job, shape: OpeningShape) -> list[Finding]:
    """Say when jacks spread or lean together: neither shows in the diagonals alone.

    A trapezium has equal diagonals, a leaning parallelogram equal widths.
    """
    if not shape.left_jack or not shape.right_jack:
        return []
    jacks = (shape.left_jack, shape.right_jack)
    left, right = (jack[-1].value - jack[0].value for jack in jacks)
    sure = 1.96 * max(station.sd for jack in jacks for station in (jack[0], jack[-1]))
    spread, lean, name = right - left, (right + left) / 2.0, shape.name
    if abs(spread) > LEAST_SPREAD + sure:
        amount, way = small(abs(spread), job.units), "top" if spread > 0 else "bottom"
        text = f"{name} is {amount} wider at the {way}: its jacks spread, which equal diagonals do not show."
    elif abs(lean) > LEAST_SPREAD + sure:
        amount, way = small(abs(lean), job.units), "right" if lean > 0 else "left"
        text = f"{name} leans {amount} to the {way}: equal widths do not show it; a plumb unit loses as much."
    else:
        return []
    finding = _finding(
        f"finding.square.{shape.name}",
        "watch",
        text,
        "The unit is planned plumb in what room that leaves; casing will show the taper.",
        SPREAD_LIMIT,
        shape.name,
    )
    return [replace(finding, value=amount, limit=small(LEAST_SPREAD, job.units), mark="jacks")]


def _of_unit(job: Job, setting: Setting, unit: UnitPosition, *, clashing: bool) -> list[Finding]:
    size = next(size for size in setting.order_sizes if size.opening == unit.opening)
    found = _unordered(job, unit)
    if not clashing:
        found += _of_fit(job, unit, size)
    if unit.fit is not None and unit.fit.not_determined:
        what = " and ".join(unit.fit.not_determined)
        text = f"Whether {unit.opening} fits is judged without its {what}: nothing was read that tells."
        advice = "Tape it before the unit is ordered or carried to the wall."
        found.append(_finding(f"finding.unread.{unit.opening}", "fix", text, advice, PRACTICE, unit.id))
    if unit.cross_leg is not None and abs(unit.cross_leg) > unit.largest_out_of_plane:
        gap, limit = (small(length, job.units) for length in (abs(unit.cross_leg), unit.largest_out_of_plane))
        text = (
            f"The jacks of {unit.opening} are cross-legged: strings would gap {gap}, the unit takes {limit}."
        )
        advice = "Pack the corners as listed so that the frame stays in one plane, or move a jack."
        cross = _finding(f"finding.cross.{unit.opening}", "fix", text, advice, MAKER, unit.id)
        found.append(replace(cross, value=gap, limit=limit))
    return found


def _unordered(job: Job, unit: UnitPosition) -> list[Finding]:
    asked = next(u for u in job.unit if u.opening == unit.opening)
    if (asked.frame_width, asked.frame_height) == (unit.width, unit.height):
        return []
    wish, plan = _size(job, asked.frame_width, asked.frame_height), _size(job, unit.width, unit.height)
    text = f"{unit.opening} is not ordered yet: {wish} does not fit surely; planned with {plan}."
    advice = "Order by the size sheet, after the readings named under measure next."
    return [_finding(f"finding.size.{unit.opening}", "fix", text, advice, MAKER, unit.id)]


def _of_fit(job: Job, unit: UnitPosition, size: OrderSize) -> list[Finding]:
    fit = unit.fit
    if fit is None or fit.probability >= job.tolerances.fit_probability:
        return []
    hopeless = fit.probability < 0.05
    said = f"{fit.probability:.1%}" if fit.probability >= 0.0005 else "less than 0.1%"
    text = f"{unit.opening} fits with {said}; what may fail is the {fit.governed_by}."
    advice = (
        "No reading will change that."
        if hopeless
        else "Take the readings named under measure next, then plan again."
    )
    advice = f"{advice} {_fitting(job, size)}".strip()
    severity: Severity = "stop" if fit.probability < 0.5 else "fix"
    finding = _finding(f"finding.fit.{unit.opening}", severity, text, advice, MAKER, unit.id)
    return [replace(finding, value=said, limit=f"{job.tolerances.fit_probability:.1%}")]


def _of_trims(job: Job, setting: Setting) -> list[Finding]:
    found = []
    for trim in setting.trims:
        text = f"{small(trim.amount, job.units)} has to come off the {trim.side} jack of {trim.opening}."
        advice = "A jack carries the header: cut nothing before someone qualified has looked."
        found.append(_finding(f"finding.{trim.id}", "stop", text, advice, PRACTICE, trim.id))
    return found


def _of_stock(job: Job, setting: Setting) -> list[Finding]:
    found = []
    for k, use in enumerate(u for u in setting.stock if u.on_hand is not None and u.needed > u.on_hand):
        fine = 1 / 64 if job.units == "in" else 0.1
        size = show(use.thickness, unit=job.units, graduation=fine, mark=True)
        have = use.on_hand or 0
        verb = "is" if have == 1 else "are"
        text = f"The pads take {use.needed} shims of {size}; {have or 'none'} {verb} on hand."
        advice = f"Get {use.needed - have} more before starting."
        found.append(_finding(f"finding.stock.{k + 1}", "fix", text, advice, "counted from the pads"))
    return found


def _left_out(job: Job, survey: Survey) -> list[Finding]:
    """Say which units and openings the setting plan leaves out, and why."""
    found = []
    level = {shape.name: shape.level_known for shape in survey.openings}
    for unit in job.unit:
        if not level.get(unit.opening, False):
            text = f"{unit.opening} is not planned: its sill was not shot, so it has no line and no pads."
            advice = "Shoot its sill from a set-up that shoots a mark too."
            found.append(
                _finding(f"finding.unset.{unit.opening}", "fix", text, advice, PRACTICE, unit.opening)
            )
    filled = {unit.opening for unit in job.unit}
    empty = [name for row in job.row for name in row.openings if name not in filled]
    if empty:
        text = (
            f"No unit is given for {', '.join(empty)}: nothing is planned there, and the line leaves it out."
        )
        advice = "Add its unit before the line is chalked, if it is to share it."
        found.append(_finding("finding.empty", "watch", text, advice, PRACTICE))
    return found


def _after(job: Job, setting: Setting) -> list[Finding]:
    """Say where pads must be shot again, as readings leave their level open, and what shots again found."""
    found = []
    if setting.reshoot is not None and setting.reshoot.verdict != "accept":
        again = setting.reshoot.verdict == "shoot again"
        advice = (
            "Shoot the pads again from the marks."
            if again
            else "Correct the pads named, then shoot them again."
        )
        found.append(_finding("reshoot", "fix", setting.reshoot.sentence, advice, PRACTICE))
    limit = job.tolerances.level_over_unit
    open_ = [unit for unit in setting.units if unit.out_of_level_95 > limit]
    if open_ and setting.reshoot is None:
        names, most = ", ".join(u.opening for u in open_), max(u.out_of_level_95 for u in open_)
        text = (
            f"After padding, the ends of {names} may still differ by up to {enough(most, job.units)} "
            f"(19 times in 20); {small(limit, job.units)} is allowed."
        )
        advice = "Shoot the pads again before setting, and enter the shots as a re-shoot."
        source = "95 % of the adjusted heights; limit: tolerances.level_over_unit"
        level = _finding("finding.level", "watch", text, advice, source)
        found.append(replace(level, value=enough(most, job.units), limit=small(limit, job.units)))
    return found


def cautions(job: Job) -> tuple[str, ...]:
    """Return the usual cautions for this work; local code and licensed people always decide."""
    heavy = [u for u in job.unit if (u.weight_kg or (u.weight_lb or 0.0) * KG_PER_LB) > TWO_PEOPLE_KG]
    found = [
        "Local code, the unit's own instructions and licensed people decide over anything printed here.",
        "Headers, cut jacks and bearing walls: nothing is cut or loaded before someone qualified has looked; "
        "shore first. A header named here is a row of a table, to be confirmed, not leave to cut.",
        "Glass and heavy frames: weigh before lifting, enough people or a lift, gloves, never stand under.",
        "Ladders and open doors above ground: tie off or guard; bar a door that has no deck yet.",
        "Paint older than 1978: take it as lead until tested; old putty and siding may hold asbestos.",
        "Wires and pipes in the wall: trace and shut off before planing, cutting or driving a fastener.",
    ]
    if heavy:
        names = ", ".join(u.opening for u in heavy)
        found.insert(3, f"Too heavy for two people to set by hand: {names}. Plan the lift.")
    return tuple(found)
