"""A hand-made job and plan, invented: one of everything that a plan can hold."""

from __future__ import annotations

from tests.inspected_fixture import ENGINEER, FRAME, FRAMING, HEIGHTS, LEDGER, ROWS
from tests.watered_fixture import WATER

from sillwright.findings import Finding
from sillwright.job import Job, read_job
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

JOB_TEXT = """\
sillwright = 1
units = "in"
title = "Invented back wall"
invented = true
[kit]
shims = ["1/32", "1/16", "1/8", "1/4", { thickness = "3/8", thin = "1/32", count = 40 }]
shim_width = "1 1/2"
planing_max = "1/4"
stack_above_line = "1/2"
[[row]]
openings = ["A"]
[[unit]]
opening = "A"
kind = "casement, hinged left"
frame_width = 35
frame_height = 47
jamb_depth = "4 9/16"
least_side_clearance = "1/4"
least_head_clearance = "1/4"
largest_out_of_plane = "1/8"
[[mark]]
name = "M1"
x = 2
[[setup]]
name = "lawn"
x = 50
series = [
  { mark = "M1", down = 30 },
  { sill = "A", x = 32, down = "26 1/4" },
  { sill = "A", x = 48, down = 26 },
  { sill = "A", x = 64, down = "26 1/2" },
  { mark = "M1", down = 30 },
]
[[opening]]
name = "A"
left_jack_x = 30
right_jack_x = 66
width = { bottom = 36, middle = "37 1/8", top = 36 }
"""


def a_job() -> Job:
    """Return the job of the plan below."""
    return read_job(JOB_TEXT)


def _reading(ident: str, path: str, label: str, *, observed: float, residual: float = 0.01) -> ReadingResult:
    bad = ident == "A.width.middle"
    return ReadingResult(
        id=ident,
        path=path,
        label=label,
        kind="laser" if ident.startswith("setup") else "width",
        opening="A",
        observed=observed,
        adjusted=observed + residual,
        residual=residual,
        sd=0.03,
        redundancy=0.4,
        w=residual / 0.03 / 0.4**0.5,
        detectable=0.03 * 4.13 / 0.4**0.5,
        status="set aside" if bad else "used",
    )


READINGS = (
    _reading(
        "setup1.2", "setup[0].series[1].down", "set-up 1, shot 2: sill of A, outer edge", observed=26.25
    ),
    _reading("setup1.3", "setup[0].series[2].down", "set-up 1, shot 3: sill of A, outer edge", observed=26.0),
    _reading("setup1.4", "setup[0].series[3].down", "set-up 1, shot 4: sill of A, outer edge", observed=26.5),
    _reading("A.width.middle", "opening[0].width.middle", "A: width, middle", observed=37.125, residual=-1.0),
)

SUSPECT = Suspect(
    id="suspect.1",
    reading="A.width.middle",
    path="opening[0].width.middle",
    label="A: width, middle",
    observed=37.125,
    error=1.0,
    would_be=36.125,
    would_be_sd=0.04,
    w=21.0,
    cannot_tell_from=(),
    against_assumption=False,
    action="set aside",
    sentence="A: width, middle reads 37 1/8; the rest of the wall says 36 1/8.",
)

DISTURBED = Disturbed(
    id="disturbed.1",
    setup=1,
    name="lawn",
    path="setup[0]",
    after="set-up 1, shot 3: sill of A, outer edge",
    before="set-up 1, shot 4: sill of A, outer edge",
    after_path="setup[0].series[2].down",
    before_path="setup[0].series[3].down",
    rose=0.125,
    rose_sd=0.03,
    set_aside=(),
    also_explained_by=("setup1.4",),
    action="corrected",
    sentence="The laser of set-up 1 rose by 1/8 between shots 3 and 4.",
)


def _stations(*values: float) -> tuple[Station, ...]:
    return tuple(
        Station(at=32.0 + 16.0 * n, value=value, sd=0.02, measured=True) for n, value in enumerate(values)
    )


SHAPE = OpeningShape(
    name="A",
    left=30.0,
    right=66.0,
    height=48.0,
    level_known=True,
    position_known=True,
    sill_outer=_stations(3.75, 4.0, 3.5),
    sill_inner=(),
    head_outer=(),
    head_inner=(),
    left_jack=(),
    right_jack=(),
    left_face=(),
    right_face=(),
    wall_thickness={"top_left": Station(at=0.0, value=5.0, sd=0.03, measured=True)},
    low_end="right",
    sill_drop=0.25,
    sill_drop_sd=0.03,
    sill_crown=0.375,
    head_sag=None,
    fall_outward=None,
    cross_leg=0.0625,
    cross_leg_sd=0.04,
    not_determined=("sill of A, inner edge",),
)

SURVEY = Survey(
    datum="M1",
    readings=READINGS,
    suspects=(SUSPECT,),
    disturbed=(DISTURBED,),
    lasers=(
        LaserCheck(
            id="laser.1",
            setups=(1,),
            slope_mm_per_m=0.05,
            slope_sd_mm_per_m=0.1,
            stated_mm_per_m=0.3,
            verdict="within its statement",
            sentence="The beam is level within what its maker states.",
        ),
    ),
    setups=(
        SetUpResult(
            number=1,
            name="lawn",
            height=30.0,
            height_sd=0.02,
            slope_mm_per_m=0.05,
            slope_sd_mm_per_m=0.1,
        ),
    ),
    marks=(Level(name="M1", x=2.0, z=0.0, sd=0.0),),
    points=(),
    openings=(SHAPE,),
    plane=WallPlane(lean_in_per_ft=0.02, lean_sd_in_per_ft=0.01, twist_in_per_ft=0.0),
    global_test=GlobalTest(statistic=5.0, dof=6.0, limit=12.6, tail=0.54, passed=True),
    critical_w=3.3,
    not_determined=("head of A",),
)


def _pad(number: int, x: float, front: float, *pieces: Piece, make_up: str) -> Pad:
    return Pad(
        id=f"pad.{number}",
        number=number,
        opening="A",
        x=x,
        why="spacing" if number == 2 else "jamb",
        front=front,
        back=None,
        pieces=pieces,
        make_up=make_up,
        front_miss=0.0,
        back_miss=None,
        sd=0.02,
    )


QUARTER = Piece(thickness=0.25, thin=None, count=1, place="through")
WEDGE = Piece(thickness=0.375, thin=0.03125, count=1, place="thick edge front")
PADS = (
    _pad(1, 32.0, 0.25, QUARTER, make_up="1/4 through"),
    _pad(2, 48.0, 0.0, make_up="nothing: the sill is on the line"),
    _pad(3, 64.0, 0.5, QUARTER, WEDGE, make_up="1/4 through, 3/8 wedge"),
)

UNIT = UnitPosition(
    id="unit.A",
    opening="A",
    kind="casement, hinged left",
    left=30.5,
    right=65.5,
    bottom=4.5,
    top=51.5,
    width=35.0,
    height=47.0,
    position_known=True,
    left_clearance=Clearance(least=0.5, sd=0.05, where="top", demanded=0.25),
    right_clearance=Clearance(least=0.4, sd=0.05, where="middle", demanded=0.25),
    head_clearance=None,
    fit=Fit(probability=0.9986, governed_by="right jack, middle", not_determined=("head of A",)),
    corners=(
        Corner(corner="bottom_left", fur_out=0.0, extension=0.4375, sd=0.03),
        Corner(corner="top_right", fur_out=0.125, extension=None, sd=None),
    ),
    out_of_level=0.01,
    out_of_level_95=0.06,
    cross_leg=0.0625,
    largest_out_of_plane=0.125,
)


def _option(number: int, kind: str, *, chosen: bool, minutes: float) -> Option:
    return Option(
        id=f"option.{number}",
        openings=("A",),
        kind=kind,
        sentence="Pad up to the high point." if chosen else "Plane the hump at 48 by 1/8 and save one pad.",
        minutes=minutes,
        pads=3,
        pieces=3,
        planed_runs=0 if chosen else 1,
        line=4.0,
        chosen=chosen,
        terms=(
            Term(name="pad", count=3, minutes_each=4.0, length=None, minutes_per_inch=None, minutes=12.0),
            Term(name="lift", count=None, minutes_each=None, length=0.25, minutes_per_inch=16, minutes=4.0),
        ),
    )


SETTING = Setting(
    rows=(
        RowPlan(
            id="row.1",
            openings=("A",),
            lines=(Line(id="line.1", openings=("A",), z=4.0, unit_bottom=4.5),),
            stepped=False,
            low_end=Place(opening="A", x=64.0, edge="outer", z=3.5, sd=0.02),
            high_point=Place(opening="A", x=48.0, edge="outer", z=4.0, sd=0.02),
        ),
    ),
    pads=PADS,
    planed=(
        PlanedRun(
            id="run.1",
            number=4,
            opening="A",
            edge="outer",
            start=44.0,
            end=52.0,
            deepest=0.0625,
            deepest_x=48.0,
        ),
    ),
    trims=(Trim(id="trim.1", number=5, opening="A", side="left", amount=0.125),),
    units=(UNIT,),
    options=(
        _option(1, "pad", chosen=True, minutes=12.0),
        _option(2, "plane", chosen=False, minutes=20.0),
    ),
    order_sizes=(
        OrderSize(
            id="order.A",
            opening="A",
            asked=SizeOdds(width=35.0, height=47.0, probability=0.9986),
            largest=SizeOdds(width=35.25, height=47.0, probability=0.994),
            wanted_probability=0.99,
            offered=(
                SizeOdds(width=35.25, height=47.0, probability=0.994),
                SizeOdds(width=35.5, height=47.0, probability=0.7),
            ),
            smallest_tape=(35.5, 47.5),
            jamb_depth=(4.9, 5.1),
        ),
    ),
    conflicts=(
        Conflict(
            id="conflict.1",
            openings=("A",),
            in_rows=(("A",),),
            demands=(
                Demand(name="line", text="one line for the row"),
                Demand(name="pad", text="no pad over 1/8"),
            ),
            cure="Allow pads of 1/2.",
            by=0.375,
        ),
    ),
    reshoot=Reshoot(
        verdict="correct",
        sentence="Pad 3 is 1/16 low at the front.",
        pads=(
            ReshotPad(
                number=3,
                edge="outer",
                path="reshoot[0].series[1].down",
                off=-0.0625,
                sd=0.03,
                correction="Add 1/16 at the front of pad 3.",
            ),
        ),
    ),
    stock=(StockUse(thickness=0.25, thin=None, needed=2, on_hand=None),),
    cuts=(
        Cut(
            id="cut.1",
            what="shim",
            opening="A",
            count=2,
            length=5.0,
            width=1.5,
            thick=0.25,
            thin=None,
            note="for pads 1 and 3",
        ),
    ),
    acts=(
        Act(number=1, kind="pad", opening="A", x=32.0, z=4.0, text="Pad 1/4 at 32.", ref="pad.1"),
        Act(
            number=4, kind="plane", opening="A", x=48.0, z=4.0, text="Plane 1/16 from 44 to 52.", ref="run.1"
        ),
        Act(number=6, kind="set", opening="A", x=48.0, z=4.5, text="Set the casement.", ref="unit.A"),
    ),
    objective="Least minutes of work: pads, pieces and planing.",
)


def a_plan() -> Plan:
    """Return a plan that holds one of everything."""
    return Plan(
        plan_version=PLAN_VERSION,
        title="Invented back wall",
        units="in",
        fingerprint="0123456789ab",
        invented=True,
        findings=(
            Finding(
                id="finding.1",
                severity="fix",
                message="A: width, middle reads 37 1/8; the rest says 36 1/8.",
                advice="Take it again.",
                source="Baarda 1968",
                place="A.width.middle",
                value='37 1/8"',
                limit='36 1/8"',
                answer="taped again on Tuesday: 36 1/8.",
            ),
        ),
        cautions=("Old paint may hold lead: test before you sand.",),
        survey=SURVEY,
        measure_next=(
            NextReading(
                label="A: height, centre",
                opening="A",
                decision="whether the unit of A fits",
                sd_now=0.25,
                sd_then=0.05,
                reduction=0.8,
            ),
        ),
        setting=SETTING,
        heights=HEIGHTS,
        ledger=LEDGER,
        frame=FRAME,
        framing=FRAMING,
        engineer=ENGINEER,
        inspection=ROWS,
        water=WATER,
    )
