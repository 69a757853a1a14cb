"""Invented plans in the form that planning gives, made straight from a job file by crude means.

Only for looking at pages and drawings: no number here is a result. Heights come from the first set-up's
readings as they stand; pads fill up to the highest of them.
"""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise
from pathlib import Path

from sillwright.findings import Finding
from sillwright.job import Job, Opening, UnitToSet, load_job, read_job
from sillwright.plan import PLAN_VERSION, Plan
from sillwright.setting.model import (
    Act,
    Clearance,
    Conflict,
    Corner,
    Cut,
    Demand,
    Fit,
    Line,
    Option,
    OrderSize,
    Pad,
    Piece,
    Place,
    PlanedRun,
    Reshoot,
    ReshotPad,
    RowPlan,
    Setting,
    SizeOdds,
    StockUse,
    Term,
    Trim,
    UnitPosition,
)
from sillwright.survey.model import (
    Disturbed,
    GlobalTest,
    LaserCheck,
    Level,
    NextReading,
    OpeningShape,
    ReadingResult,
    SetUpResult,
    Station,
    Survey,
    Suspect,
    WallPlane,
)

SD = 0.018


def invented_plan(job: Job, *, conflict: bool = False, trouble: bool = True) -> Plan:
    """Return a plan of a job; with a conflict its first row has no pads; without trouble nothing is wrong."""
    survey = _survey(job, trouble=trouble)
    setting = _setting(job, survey, conflict=conflict, trouble=trouble)
    return Plan(
        plan_version=PLAN_VERSION,
        title=job.title,
        units=job.units,
        fingerprint="3f9c01d2ab47",
        invented=True,
        findings=_findings(setting, trouble=trouble),
        cautions=(
            "Two people to every unit above 75 lb; keep ladders off the new sills.",
            "Paint from before 1978 may hold lead: test before you sand or plane.",
            "Local code, the maker's instructions and licensed people decide on headers, wiring and glass.",
        ),
        survey=survey,
        measure_next=_next(job),
        setting=setting,
        heights=None,
        ledger=None,
        frame=None,
        framing=(),
        inspection=(),
    )


def long_job(
    openings: int, *, title: str = "Long wall of like windows, invented", metric: bool = False
) -> Job:
    """Return a job with a row of so many like openings, invented."""
    scale = 25.4 if metric else 1.0
    lines = [
        "sillwright = 1",
        f'units = "{"mm" if metric else "in"}"',
        f'title = "{title}"',
        "invented = true",
    ]
    shims = "[1, 2, 3, 5, 10]" if metric else '["1/32", "1/16", "1/8", "1/4"]'
    lines += ["[kit]", f"shims = {shims}", f"shim_width = {1.5 * scale}", f"planing_max = {0.25 * scale}"]
    names = ", ".join(f'"W{n + 1}"' for n in range(openings))
    lines += ["[[row]]", f"openings = [{names}]", "[[mark]]", 'name = "M1"', "x = 0"]
    lines += ["[[setup]]", 'name = "only one"', "x = 0", "series = [", '  { mark = "M1", down = 30 },']
    for n in range(openings):
        for k in range(3):
            x = (20.0 + 48 * n + 15 * k) * scale
            lines.append(f'  {{ sill = "W{n + 1}", x = {x}, down = {(26 + 0.06 * ((n + k) % 5)) * scale} }},')
    lines.append("]")
    for n in range(openings):
        lines += ["[[opening]]", f'name = "W{n + 1}"', f"left_jack_x = {(18.0 + 48 * n) * scale}"]
        lines += [f"width = {{ middle = {34 * scale} }}", f"height = {{ centre = {50 * scale} }}"]
        lines += ["[[unit]]", f'opening = "W{n + 1}"', 'kind = "fixed"', f"frame_width = {33.25 * scale}"]
        lines += [f"frame_height = {49.25 * scale}", f"least_side_clearance = {0.25 * scale}"]
        lines += [f"least_head_clearance = {0.25 * scale}", f"largest_out_of_plane = {0.125 * scale}"]
    return read_job("\n".join(lines))


def example(name: str) -> Job:
    """Return an example job by the start of its file's name."""
    (path,) = (Path(__file__).parents[2] / "examples").glob(f"{name}*.toml")
    return load_job(path).job


def _findings(setting: Setting, *, trouble: bool) -> tuple[Finding, ...]:
    watch = Finding(
        id="finding.wall_twist",
        severity="watch",
        message="The wall leans in more at its right end than at its left.",
        advice="Set the units in one plane and take the difference up in the casing.",
        source="common practice, no source",
    )
    if not trouble:
        return (watch,)
    stop = Finding(
        id="finding.stop",
        severity="stop",
        message="The unit of the first opening does not clear the head by what its maker asks.",
        advice="Do not cut the header. Ask the engineer, or order a lower unit.",
        source="job file: least_head_clearance",
        place=setting.units[0].opening,
    )
    fix = Finding(
        id="finding.fix",
        severity="fix",
        message="The sill falls into the house.",
        advice="Set the sloped strip so that it falls outward before the pan goes in.",
        source="common practice, no source",
        place=setting.units[-1].opening,
    )
    return (stop, fix, watch)


def _beam(job: Job) -> float:
    if not job.setup:
        return 0.0
    return next(
        (shot.down[0].value for shot in job.setup[0].series if shot.mark),
        job.setup[0].series[0].down[0].value,
    )


def _readings(job: Job) -> list[ReadingResult]:
    found: list[ReadingResult] = []

    def add(path: str, label: str, kind: str, opening: str | None, value: float) -> None:
        number = len(found)
        residual = 0.012 * ((number * 7) % 5 - 2)
        checked = number % 9 != 8
        found.append(
            ReadingResult(
                id=path,
                path=path,
                label=label,
                kind=kind,
                opening=opening,
                observed=value,
                adjusted=value + residual,
                residual=residual,
                sd=0.03,
                redundancy=0.4 if checked else 0.0,
                w=residual / 0.019 if checked else None,
                detectable=0.19 if checked else None,
                status="used",
            )
        )

    for i, setup in enumerate(job.setup):
        for order, shot in enumerate(setup.series):
            what = next(
                getattr(shot, key) for key in ("mark", "sill", "head", "pad", "point") if getattr(shot, key)
            )
            label = f"set-up {i + 1}, shot {order + 1}: {what}"
            path = f"setup[{i}].series[{order}].down"
            add(path, label, "laser", shot.sill or shot.head, shot.down[0].value)
    for i, opening in enumerate(job.opening):
        for group in ("width", "height", "diagonal", "wall_thickness"):
            for name, readings in getattr(opening, group):
                for reading in readings or ():
                    label = f"{opening.name}: {group.replace('_', ' ')}, {name.replace('_', ' ')}"
                    add(f"opening[{i}].{group}.{name}", label, group, opening.name, reading.value)
    return found


def _survey(job: Job, *, trouble: bool) -> Survey:
    readings = _readings(job)
    suspects: tuple[Suspect, ...] = ()
    disturbed: tuple[Disturbed, ...] = ()
    if trouble and readings:
        suspects, disturbed = (_suspect(readings),), (_knock(readings),)
    return Survey(
        datum=job.mark[0].name if job.mark else "beam of set-up 1",
        readings=tuple(readings),
        suspects=suspects,
        disturbed=disturbed,
        lasers=(
            LaserCheck(
                id="laser.1",
                setups=(1,),
                slope_mm_per_m=0.12,
                slope_sd_mm_per_m=0.2,
                stated_mm_per_m=0.3,
                verdict="within its statement",
                sentence="Laser of set-up 1: within what its maker states, as far as one set-up can tell.",
            ),
        ),
        setups=tuple(
            SetUpResult(
                number=i + 1,
                name=s.name,
                height=_beam(job),
                height_sd=SD,
                slope_mm_per_m=0.1,
                slope_sd_mm_per_m=0.1,
            )
            for i, s in enumerate(job.setup)
        ),
        marks=tuple(
            Level(name=m.name, x=m.x, z=0.0 if i == 0 else -0.2, sd=0.0 if i == 0 else SD)
            for i, m in enumerate(job.mark)
        ),
        points=(),
        openings=tuple(_shape(job, o, n) for n, o in enumerate(job.opening)),
        plane=WallPlane(lean_in_per_ft=0.02, lean_sd=0.01, twist=0.01),
        global_test=GlobalTest(statistic=61.2, dof=58.0, limit=76.8, passed=True),
        critical_w=3.29,
        not_determined=("plane of the wall above the heads",),
    )


def _suspect(readings: list[ReadingResult]) -> Suspect:
    bad, other = readings[min(4, len(readings) - 1)], readings[min(5, len(readings) - 1)]
    index = readings.index(bad)
    readings[index] = _with_status(bad)
    return Suspect(
        id=f"suspect.{bad.id}",
        reading=bad.id,
        path=bad.path,
        label=bad.label,
        observed=bad.observed,
        error=1.0,
        would_be=bad.observed - 1.0,
        would_be_sd=0.03,
        w=14.2,
        cannot_tell_from=(other.id,),
        against_assumption=False,
        action="set aside",
        sentence="It contradicts its neighbours by about an inch: likely the wrong inch was read.",
    )


def _with_status(reading: ReadingResult) -> ReadingResult:
    return replace(reading, status="set aside", w=14.2, residual=-1.0)


def _knock(readings: list[ReadingResult]) -> Disturbed:
    after, before = readings[min(8, len(readings) - 1)], readings[min(9, len(readings) - 1)]
    return Disturbed(
        id="disturbed.1",
        setup=1,
        name="set-up 1",
        path="setup[0]",
        after=after.label,
        before=before.label,
        after_path=after.path,
        before_path=before.path,
        rose=-0.19,
        rose_sd=0.02,
        set_aside=(),
        also_explained_by=(),
        action="corrected",
        sentence="The beam of set-up 1 dropped between two shots; later shots were corrected.",
    )


def _left(opening: Opening, n: int) -> float:
    return opening.left_jack_x[0].value if opening.left_jack_x else 20.0 + 60 * n


def _first(three: object, names: tuple[str, ...], otherwise: float) -> float:
    for name in names:
        found = getattr(three, name)
        if found:
            return float(found[0].value)
    return otherwise


def _shape(job: Job, o: Opening, n: int) -> OpeningShape:
    left = _left(o, n)
    wide = _first(o.width, ("bottom", "middle", "top"), 36.0)
    high = _first(o.height, ("centre", "left", "right"), 50.0)
    outer = _sill(job, o.name, "outer") or (_at(left, 0.0), _at(left + wide, 0.1))
    read_head = any((o.height.left, o.height.centre, o.height.right))
    z = outer[0].value
    return OpeningShape(
        name=o.name,
        left=left,
        right=left + wide,
        height=high,
        level_known=True,
        position_known=True,
        sill_outer=outer,
        sill_inner=_sill(job, o.name, "inner"),
        head_outer=(_at(left, z + high), _at(left + wide / 2, z + high - 0.12), _at(left + wide, z + high))
        if read_head
        else (),
        head_inner=(),
        left_jack=(_at(0, left), _at(high / 2, left + 0.08), _at(high, left + 0.06)),
        right_jack=(_at(0, left + wide), _at(high / 2, left + wide - 0.1), _at(high, left + wide - 0.06)),
        left_face=(_at(0, 0.0), _at(high, 0.12)),
        right_face=(_at(0, 0.05), _at(high, 0.3)),
        wall_thickness={},
        low_end="left",
        sill_drop=-0.2,
        sill_drop_sd=SD,
        sill_crown=0.06,
        head_sag=0.12,
        fall_outward=0.03,
        cross_leg=0.0,
        cross_leg_sd=0.04,
        not_determined=() if read_head else ("head",),
    )


def _at(at: float, value: float) -> Station:
    return Station(at=at, value=value, sd=SD, measured=True)


def _sill(job: Job, name: str, edge: str) -> tuple[Station, ...]:
    beam = _beam(job)
    shots = [
        s
        for s in (job.setup[0].series if job.setup else ())
        if s.sill == name and s.edge == edge and s.x is not None
    ]
    heights = [beam - s.down[0].value for s in shots]
    middle = sorted(heights)[len(heights) // 2] if heights else 0.0
    return tuple(
        _at(float(s.x or 0), z if abs(z - middle) < 0.6 else middle)
        for s, z in zip(shots, heights, strict=True)
    )


def _next(job: Job) -> tuple[NextReading, ...]:
    name = job.opening[0].name if job.opening else "A"
    return tuple(
        NextReading(
            label=label, opening=name, decision=decision, sd_now=now, sd_then=then, reduction=1 - then / now
        )
        for label, decision, now, then in (
            (f"{name}: width at the room side, middle", "side clearance", 0.062, 0.031),
            (f"{name}: laser to head, left", "head clearance", 0.055, 0.04),
            ("mark M2 shot again at the end", "level line", 0.03, 0.022),
        )
    )


def _setting(job: Job, survey: Survey, *, conflict: bool, trouble: bool) -> Setting:
    shapes = {shape.name: shape for shape in survey.openings}
    rows = [tuple(row.openings) for row in job.row] or [tuple(shapes)]
    pads: list[Pad] = []
    plans: list[RowPlan] = []
    planed: list[PlanedRun] = []
    for number, names in enumerate(rows):
        blocked = conflict and number == 0
        high = max(s.value for name in names for s in (*shapes[name].sill_outer, *shapes[name].sill_inner))
        line = high + 0.03 - (0.06 if trouble else 0.0)
        if not blocked:
            for name in names:
                pads += _pads(job, shapes[name], line, len(pads))
            if trouble:
                planed.append(_plane(shapes, names, line, len(planed)))
        plans.append(_row(names, shapes, line, number, blocked=blocked, job=job))
    units = tuple(_unit(unit, shapes[unit.opening], plans) for unit in job.unit if unit.opening in shapes)
    trims = (Trim(id="trim.1", number=90, opening=rows[0][0], side="left", amount=0.06),) if trouble else ()
    return Setting(
        rows=tuple(plans),
        pads=tuple(pads),
        planed=tuple(planed),
        trims=trims,
        units=units,
        options=tuple(_options(plans)),
        order_sizes=tuple(_order(unit) for unit in job.unit if not unit.ordered),
        conflicts=(_conflict(rows[0]),) if conflict else (),
        reshoot=_reshoot(pads) if trouble and pads else None,
        stock=tuple(
            StockUse(thickness=s.thickness, thin=s.thin, needed=7 + n, on_hand=s.count)
            for n, s in enumerate(job.kit.shims)
        ),
        cuts=_cuts(job, pads),
        acts=tuple(_acts(pads, planed, trims, units, shapes, plans)),
        objective="Least minutes: 4 for a pad, 1 for each piece in it, 12 for a planed run "
        "and 6 for each foot of it.",
    )


def _row(
    names: tuple[str, ...],
    shapes: dict[str, OpeningShape],
    line: float,
    number: int,
    *,
    blocked: bool,
    job: Job,
) -> RowPlan:
    edges = [(name, s) for name in names for s in shapes[name].sill_outer]
    low, high = min(edges, key=lambda e: e[1].value), max(edges, key=lambda e: e[1].value)

    def place(edge: tuple[str, Station]) -> Place:
        return Place(opening=edge[0], x=edge[1].at, edge="outer", z=edge[1].value, sd=edge[1].sd)

    lines = (
        ()
        if blocked
        else (
            Line(
                id=f"line.{number + 1}", openings=names, z=line, unit_bottom=line + job.kit.stack_above_line
            ),
        )
    )
    return RowPlan(
        id=f"row.{number + 1}",
        openings=names,
        lines=lines,
        stepped=False,
        low_end=place(low),
        high_point=place(high),
    )


def _pads(job: Job, shape: OpeningShape, line: float, done: int) -> list[Pad]:
    count = max(2, round((shape.right - shape.left) / 16) + 1)
    width = job.kit.shim_width
    found = []
    for k in range(count):
        x = shape.left + width / 2 + 0.2 + k * (shape.right - shape.left - width - 0.4) / (count - 1)
        front = max(0.0, line - _between(shape.sill_outer, x))
        back = max(0.0, line - _between(shape.sill_inner, x)) if shape.sill_inner else None
        number = done + k + 1
        found.append(
            Pad(
                id=f"pad.{number}",
                number=number,
                opening=shape.name,
                x=x,
                why="jamb" if k in (0, count - 1) else "spacing",
                front=front,
                back=back,
                pieces=(Piece(thickness=job.kit.shims[0].thickness, thin=None, count=2, place="through"),),
                make_up="1/8 + 1/16 through, 1/32 more at the back"
                if job.units == "in"
                else "3 + 2 through, 1 more at the back",
                front_miss=0.01,
                back_miss=-0.01 if back is not None else None,
                sd=0.02,
            )
        )
    return found


def _between(stations: tuple[Station, ...], x: float) -> float:
    if x <= stations[0].at:
        return stations[0].value
    for a, b in pairwise(stations):
        if x <= b.at:
            return a.value + (b.value - a.value) * (x - a.at) / (b.at - a.at)
    return stations[-1].value


def _plane(shapes: dict[str, OpeningShape], names: tuple[str, ...], line: float, done: int) -> PlanedRun:
    name, top = max(((name, s) for name in names for s in shapes[name].sill_outer), key=lambda e: e[1].value)
    shape = shapes[name]
    start, end = max(shape.left, top.at - 7), min(shape.right, top.at + 7)
    return PlanedRun(
        id=f"plane.{done + 1}",
        number=80 + done,
        opening=name,
        edge="outer",
        start=start,
        end=end,
        deepest=max(top.value - line, 0.03),
        deepest_x=top.at,
    )


def _unit(unit: UnitToSet, shape: OpeningShape, rows: list[RowPlan]) -> UnitPosition:
    line = next((ln for row in rows for ln in row.lines if shape.name in ln.openings), None)
    bottom = line.unit_bottom if line else 0.0
    gap = (shape.right - shape.left - unit.frame_width) / 2
    left = shape.left + gap
    head = shape.sill_outer[0].value + shape.height - bottom - unit.frame_height
    return UnitPosition(
        id=f"unit.{unit.opening}",
        opening=unit.opening,
        kind=unit.kind,
        left=left,
        right=left + unit.frame_width,
        bottom=bottom,
        top=bottom + unit.frame_height,
        width=unit.frame_width,
        height=unit.frame_height,
        position_known=True,
        left_clearance=Clearance(
            least=gap - 0.05, sd=0.03, where="middle", demanded=unit.least_side_clearance
        ),
        right_clearance=Clearance(least=gap - 0.04, sd=0.03, where="top", demanded=unit.least_side_clearance),
        head_clearance=Clearance(least=head, sd=0.04, where="centre", demanded=unit.least_head_clearance)
        if shape.head_outer
        else None,
        fit=Fit(
            probability=0.9973,
            governed_by="right side, middle",
            not_determined=() if shape.head_outer else ("head clearance",),
        ),
        corners=tuple(
            Corner(corner=c, fur_out=f, extension=None if c == "top_right" else 1.1 + f, sd=0.03)  # type: ignore[arg-type]
            for c, f in zip(
                ("bottom_left", "bottom_right", "top_left", "top_right"), (0.0, 0.06, 0.12, 0.0), strict=True
            )
        ),
        out_of_level=0.03,
        out_of_level_95=0.055,
        cross_leg=0.02,
        largest_out_of_plane=unit.largest_out_of_plane,
    )


def _options(rows: list[RowPlan]) -> list[Option]:
    found = []
    for row in rows:
        if not row.lines:
            continue
        line = row.lines[0].z
        for n, (kind, minutes) in enumerate(
            (("plane the hump", 74.0), ("pads only", 92.5), ("step the line", 101.0))
        ):
            found.append(
                Option(
                    id=f"option.{row.id}.{n + 1}",
                    row=row.id,
                    kind=kind,
                    sentence="Plane the hump and save seven pads."
                    if n == 0
                    else "Leave the sill as it is and pad everything.",
                    minutes=minutes,
                    pads=9 + 4 * n,
                    pieces=21 + 8 * n,
                    planed_runs=1 if n == 0 else 0,
                    line=line + 0.06 * n,
                    chosen=n == 0,
                    terms=(
                        Term(name="pads", quantity=9 + 4 * n, minutes_each=4.0, minutes=36.0 + 16 * n),
                        Term(name="pieces", quantity=21 + 8 * n, minutes_each=1.0, minutes=21.0 + 8 * n),
                    ),
                )
            )
    return found


def _order(unit: UnitToSet) -> OrderSize:
    odds = [
        SizeOdds(width=unit.frame_width + d, height=unit.frame_height + d, probability=p)
        for d, p in ((-0.4, 0.9999), (-0.2, 0.999), (0.0, 0.996), (0.2, 0.87), (0.4, 0.21))
    ]
    return OrderSize(
        id=f"order.{unit.opening}",
        opening=unit.opening,
        asked=odds[2],
        largest=odds[2],
        wanted_probability=0.99,
        offered=tuple(odds),
        smallest_tape=(unit.frame_width + 0.3, unit.frame_height + 0.25),
        jamb_depth=(5.2, 5.6),
    )


def _conflict(names: tuple[str, ...]) -> Conflict:
    return Conflict(
        id="conflict.1",
        row="row.1",
        openings=names,
        demands=(
            Demand(name="planing_max", text="plane no more than 1/4 off the sill"),
            Demand(name="least_head_clearance", text=f"leave 1/4 above the unit in {names[0]}"),
        ),
        cure="Plane 3/32 more at the hump, or order the first unit 1/8 lower.",
        by=0.09,
    )


def _reshoot(pads: list[Pad]) -> Reshoot:
    shot = tuple(
        ReshotPad(
            number=p.number,
            edge="outer",
            path=f"reshoot[0].series[{n + 1}].down",
            off=0.02 * (n % 3 - 1),
            sd=0.02,
            correction="Add 1/32." if n % 3 == 0 else "",
        )
        for n, p in enumerate(pads)
    )
    return Reshoot(
        verdict="correct", sentence="Some pads stand low; add what is said and shoot them again.", pads=shot
    )


def _cuts(job: Job, pads: list[Pad]) -> tuple[Cut, ...]:
    found = [
        Cut(
            id=f"cut.{n + 1}",
            what="shim",
            opening=name,
            count=6,
            length=4.5,
            width=job.kit.shim_width,
            thick=0.125,
            thin=None,
            note="grain along the length",
        )
        for n, name in enumerate(dict.fromkeys(p.opening for p in pads))
    ]
    strip = job.kit.sloped_strip
    if strip:
        found.append(
            Cut(
                id="cut.strip",
                what="sloped strip",
                opening=pads[0].opening if pads else "",
                count=1,
                length=36.2,
                width=None,
                thick=strip.thick,
                thin=strip.thin,
                note="thick edge to the room",
            )
        )
    return tuple(found)


def _acts(
    pads: list[Pad],
    planed: list[PlanedRun],
    trims: tuple[Trim, ...],
    units: tuple[UnitPosition, ...],
    shapes: dict[str, OpeningShape],
    rows: list[RowPlan],
) -> list[Act]:
    lines = {name: row.lines[0].z for row in rows if row.lines for name in row.openings}
    acts = [
        Act(
            number=p.number,
            kind="pad",
            opening=p.opening,
            x=p.x,
            z=lines[p.opening],
            text=f"Pad {p.make_up} at pad {p.number}.",
            ref=p.id,
        )
        for p in pads
    ]
    acts += [
        Act(
            number=r.number,
            kind="plane",
            opening=r.opening,
            x=r.deepest_x,
            z=lines[r.opening],
            text="Plane the hump down to the line.",
            ref=r.id,
        )
        for r in planed
    ]
    acts += [
        Act(
            number=t.number,
            kind="trim",
            opening=t.opening,
            x=shapes[t.opening].left,
            z=20.0,
            text="Trim the left jack by 1/16.",
            ref=t.id,
        )
        for t in trims
    ]
    acts += [
        Act(
            number=100 + n,
            kind="set",
            opening=u.opening,
            x=(u.left + u.right) / 2,
            z=(u.bottom + u.top) / 2,
            text=f"Set {u.kind} with its left side at the mark.",
            ref=u.id,
        )
        for n, u in enumerate(units)
    ]
    return acts
