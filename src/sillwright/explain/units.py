"""Why a unit stands where it does, how surely it fits, what to order, and what each corner needs."""

from __future__ import annotations

from functools import partial

from sillwright.explain.model import Case, Entry, Explanation, Given, Index
from sillwright.explain.sill import line_of
from sillwright.explain.words import both, chance_above, exact, percent, plain_id, tape
from sillwright.setting.model import Clearance, Corner, OrderSize, SizeOdds, UnitPosition
from sillwright.survey.model import OpeningShape

NORMAL = "normal distribution with the covariance of the adjustment; docs/method.md"


def unit_entries(case: Case) -> Index:
    """Return what can be asked about units, their fit, corners and sizes, and about the openings."""
    index = Index()
    for shape in case.plan.survey.openings:
        index[f"opening.{shape.name}"] = Entry("opening", partial(_opening, case, shape))
    for unit in case.plan.setting.units:
        index[unit.id] = Entry("unit", partial(_unit, case, unit))
        index[f"fit.{unit.opening}"] = Entry("fit", partial(_fit, case, unit))
        for corner in unit.corners:
            ident = f"corner.{unit.opening}.{corner.corner}"
            index[ident] = Entry("corner", partial(_corner, case, unit, corner))
    for order in case.plan.setting.order_sizes:
        index[order.id] = Entry("order", partial(_order, case, order))
    return index


def _opening(case: Case, shape: OpeningShape) -> Explanation:
    unit = case.plan.units
    size = f"{tape(shape.right - shape.left, unit)} by {tape(shape.height, unit)}"
    low = (
        f"The {shape.low_end} end is low." if shape.low_end else "Neither end is surely lower than the other."
    )
    answer = [low]
    if shape.not_determined:
        answer.append(f"Not determined: {'; '.join(shape.not_determined)}.")
    given = [
        Given(name="sill, left end less right end", value=both(shape.sill_drop, unit, sd=shape.sill_drop_sd)),
        Given(name="sill, crown over its ends (dip: −)", value=both(shape.sill_crown, unit)),
    ]
    if shape.head_sag is not None:
        given.append(Given(name="head, sag under its ends", value=both(shape.head_sag, unit)))
    if shape.fall_outward is not None:
        given.append(
            Given(name="sill, fall outward (into the house: −)", value=both(shape.fall_outward, unit))
        )
    if shape.cross_leg is not None:
        given.append(
            Given(name="crossed strings, gap", value=both(shape.cross_leg, unit, sd=shape.cross_leg_sd))
        )
    return Explanation(
        ident=f"opening.{shape.name}",
        title=f"Opening {shape.name}: about {size}",
        answer=tuple(answer),
        formula="all readings adjusted together, each with the weight 1 / sd²",
        given=tuple(given),
        source="weighted least squares over all readings of the job; docs/method.md",
        see=(f"unit.{shape.name}", f"order.{shape.name}"),
    )


def _sides(unit: UnitPosition) -> tuple[tuple[str, Clearance | None], ...]:
    return ("left", unit.left_clearance), ("right", unit.right_clearance), ("head", unit.head_clearance)


def _unit(case: Case, position: UnitPosition) -> Explanation:
    unit, line = case.plan.units, line_of(case, position.opening)
    answer = [
        "Its underside stands on the pads and whatever lies between; its sides share the room there is."
    ]
    if not position.position_known:
        answer.append("No jack was taped from the wall mark: its place is counted from the opening itself.")
    given = [] if line is None else [Given(name="line", value=exact(line.z, unit), ident=line.id)]
    given += [
        Given(name="underside", value=exact(position.bottom, unit)),
        Given(name="left side, from the wall mark", value=both(position.left, unit)),
        Given(name="right side", value=both(position.right, unit)),
        Given(name="out of level, expected", value=exact(position.out_of_level, unit)),
        Given(name="out of level, at most (95%)", value=exact(position.out_of_level_95, unit)),
    ]
    for side, clearance in _sides(position):
        room = _room(case, clearance) if clearance else "not determined"
        given.append(Given(name=f"room, {side}", value=room))
    if position.cross_leg is not None:
        value = f"{exact(position.cross_leg, unit)}, allowed {exact(position.largest_out_of_plane, unit)}"
        given.append(Given(name="one corner out of the plane of the others", value=value))
    return Explanation(
        ident=position.id,
        title=f"Unit in {position.opening}: {position.kind}, left side at {tape(position.left, unit)}",
        answer=tuple(answer),
        formula="room = jack − side of the frame, least over its height; underside = line + stack above it",
        given=tuple(given),
        source=NORMAL,
        see=(f"fit.{position.opening}", f"order.{position.opening}"),
    )


def _room(case: Case, clearance: Clearance) -> str:
    unit = case.plan.units
    where = f", least {clearance.where}" if clearance.where else ""
    return f"{both(clearance.least, unit, sd=clearance.sd)}{where}; needs {exact(clearance.demanded, unit)}"


def _fit(case: Case, position: UnitPosition) -> Explanation:
    fit = position.fit
    wanted = percent(case.job.tolerances.fit_probability)
    if fit is None:
        answer = ["Not determined: too little was read to say."]
    else:
        answer = [f"The tightest place: {fit.governed_by}." if fit.governed_by else "No place is tight."]
        if fit.not_determined:
            answer.append(f"Left out, for want of readings: {'; '.join(fit.not_determined)}.")
    given = [
        Given(
            name=f"{side}: chance of enough room",
            value=f"{percent(chance_above(c.demanded, mean=c.least, sd=c.sd))}; {_room(case, c)}",
        )
        for side, c in _sides(position)
        if c is not None
    ]
    given.append(Given(name="asked for", value=f"{wanted} (tolerances.fit_probability of the job file)"))
    title = "not determined" if fit is None else percent(fit.probability)
    return Explanation(
        ident=f"fit.{position.opening}",
        title=f"The unit in {position.opening} fits with {title}",
        answer=tuple(answer),
        formula="P(every room ≥ what it needs, at every place), all rooms together with their covariance",
        given=tuple(given),
        source=NORMAL,
        see=(position.id, f"order.{position.opening}"),
    )


def _corner(case: Case, position: UnitPosition, corner: Corner) -> Explanation:
    unit = case.plan.units
    job_unit = next((each for each in case.job.unit if each.opening == position.opening), None)
    given = []
    for name, value in (("fur-out", corner.fur_out), ("extension", corner.extension)):
        said = "not determined" if value is None else both(value, unit, sd=corner.sd)
        given.append(Given(name=name, value=said))
    if job_unit is not None and job_unit.jamb_depth is not None:
        given.append(
            Given(name="jamb depth", value=f"{exact(job_unit.jamb_depth, unit)} (unit of the job file)")
        )
    proud = corner.extension is not None and corner.extension < 0
    return Explanation(
        ident=f"corner.{position.opening}.{corner.corner}",
        title=f"Unit in {position.opening}, {plain_id(corner.corner)} corner, across the wall",
        answer=(
            "Fur-out is the packing between sheathing and unit that brings the unit into one plane.",
            "The jamb stands proud of the wall inside."
            if proud
            else "The extension brings the jamb to the wall inside.",
        ),
        formula="extension = fur-out + wall thickness − jamb depth",
        given=tuple(given),
        source="adjusted faces of the jacks and wall thickness; docs/method.md",
        see=(position.id,),
    )


def _order(case: Case, order: OrderSize) -> Explanation:
    unit, asked, largest = case.plan.units, order.asked, order.largest
    title = "no size on offer fits surely enough, or it is not determined"
    if largest is not None:
        title = f"order up to {_size(case, largest)}"
    answer = [
        "The largest size on offer that goes in as surely as you ask.",
        "A size may stand wherever it has most room; the fit of a unit holds it where the plan sets it.",
    ]
    given = [Given(name="asked for", value=percent(order.wanted_probability))]
    if asked is not None:
        given.append(
            Given(name="size in the job file", value=f"{_size(case, asked)}: {percent(asked.probability)}")
        )
    given += [
        Given(name="on offer", value=f"{_size(case, o)}: {percent(o.probability)}") for o in order.offered
    ]
    if order.smallest_tape is not None:
        width, height = (exact(each, unit) for each in order.smallest_tape)
        given.append(Given(name="smallest tape less clearances", value=f"{width} × {height}"))
        answer.append(
            "The smallest tape less a clearance overlooks racking, bows, crown and sag: do not order by it."
        )
    if order.jamb_depth is not None:
        least, most = (exact(each, unit) for each in order.jamb_depth)
        given.append(Given(name="depth to the wall inside", value=f"{least} to {most}"))
    return Explanation(
        ident=order.id,
        title=f"Opening {order.opening}: {title}",
        answer=tuple(answer),
        formula="largest size with P(every room ≥ what it needs) ≥ what you ask for",
        given=tuple(given),
        source=NORMAL,
        see=(f"opening.{order.opening}", f"fit.{order.opening}"),
    )


def _size(case: Case, size: SizeOdds) -> str:
    return f"{tape(size.width, case.plan.units)} × {tape(size.height, case.plan.units)}"
