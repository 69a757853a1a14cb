"""One row's sills under their level line: heights stretched, and beside it the same at true scale.

Readings stand as crow's feet, the adjusted sill as a pencil line in its ± band, pads are hatched up to the
chalk line, and a strip of figures under the sills says what each pad is.
"""

from __future__ import annotations

from dataclasses import dataclass

from sillwright.drawing.figures import SD_TO_95, Figures
from sillwright.drawing.labels import LEADER, TYPE, Label, at_largest, column, spread_within, widest
from sillwright.drawing.observed import Plotted, height_at, plotted
from sillwright.drawing.page import spread
from sillwright.drawing.scene import (
    Anchor,
    AnyItem,
    Band,
    Fill,
    Hatch,
    Mark,
    MarkKind,
    Path,
    Pattern,
    Role,
    Scene,
    Text,
)
from sillwright.job import Job
from sillwright.plan import Plan
from sillwright.setting.model import Line, Pad, Place, RowPlan
from sillwright.survey.model import OpeningShape, Station

_STRETCHES = (100, 80, 60, 50, 40, 30, 25, 20, 16, 12, 10, 8, 6, 5, 4, 3, 2, 1)
_TALL = 1.9
"""Paper for the heights themselves [paper inches]."""
_COLUMN = 0.36
_JACKS = 0.5
"""How far jacks are drawn above the highest point; balloons of planed runs stand there [paper inches]."""
_BALLOON = 0.19
_HEIGHT = 5.0
"""Most paper that a drawing may take upwards [paper inches]."""


@dataclass(frozen=True, slots=True)
class _Strip:
    """A stretch of a row: what is on it and how it is drawn."""

    job: Job
    plan: Plan
    row: RowPlan
    shapes: tuple[OpeningShape, ...]
    readings: tuple[Plotted, ...]
    figures: Figures
    scale: float
    stretch: float
    low: float
    high: float

    def across(self, inches: float) -> float:
        """Return paper inches as job inches along the wall."""
        return inches / self.scale

    def up(self, inches: float) -> float:
        """Return paper inches as job inches of height."""
        return inches / (self.scale * self.stretch)

    @property
    def names(self) -> frozenset[str]:
        """Openings on the strip."""
        return frozenset(shape.name for shape in self.shapes)

    @property
    def lines(self) -> tuple[Line, ...]:
        """Level lines that reach into the strip."""
        return tuple(line for line in self.row.lines if self.names & set(line.openings))

    @property
    def pads(self) -> tuple[Pad, ...]:
        """Pads on the strip, from left to right."""
        return tuple(
            sorted((p for p in self.plan.setting.pads if p.opening in self.names), key=lambda p: p.x)
        )


def sill_line(
    job: Job, plan: Plan, row: RowPlan, openings: tuple[str, ...], *, width: float = 9.4
) -> Scene | None:
    """Return the sill line of some openings of a row; None where none of their sills was shot.

    Args:    width: of the paper [paper inches]
    Raises:  OutOfRange: no trade scale fits
    """
    shapes = _shot(plan, openings)
    if not shapes:
        return None
    span = max(s.right for s in shapes) - min(s.left for s in shapes)
    return at_largest(
        lambda scale: _stretched(_strip(job, plan, row, shapes, scale)),
        span=(span, 0.0),
        width=width,
        height=_HEIGHT,
        metric=plan.units == "mm",
    )


def _stretched(strip: _Strip) -> Scene:
    marks: list[AnyItem] = []
    for shape in strip.shapes:
        marks += _sill(strip, shape)
    for pad in strip.pads:
        marks += _pad(strip, pad)
    marks += [*_chalk(strip), *_planed(strip), *_stations(strip), *_heads(strip), *_figures(strip)]
    names = ", ".join(shape.name for shape in strip.shapes)
    return Scene(
        tuple(marks),
        title=f"Sill line of {names}",
        alt=f"Sills of {names} under the level line, heights stretched {strip.stretch:g} times, with "
        f"{len(strip.pads)} pads by number.",
        scale_x=strip.scale,
        scale_y=strip.scale * strip.stretch,
        metric=strip.plan.units == "mm",
    )


def sill_line_true(job: Job, plan: Plan, row: RowPlan, stretched: Scene, openings: tuple[str, ...]) -> Scene:
    """Return the same stretch of a row at the same scale, with heights as they are: how little it is."""
    strip = _strip(job, plan, row, _shot(plan, openings), stretched.scale_x)
    marks: list[AnyItem] = []
    for shape in strip.shapes:
        sill = _ends(shape)
        foot = min(z for _, z in sill) - strip.across(0.12)
        outline = ((sill[0][0], foot), *sill, (sill[-1][0], foot))
        marks.append(Path(outline, closed=True, fill=Fill.TINT, weight=0.7))
    for line in strip.lines:
        left, right = _reach(strip, line)
        marks.append(Path(((left, line.z), (right, line.z)), role=Role.CHALK))
    return Scene(
        tuple(marks),
        title=f"{stretched.title}, true scale",
        alt="The same sills at true scale.",
        scale_x=strip.scale,
        scale_y=strip.scale,
        metric=plan.units == "mm",
    )


def stretches_of(plan: Plan, row: RowPlan, *, most_pads: int = 22) -> tuple[tuple[str, ...], ...]:
    """Return a row's openings in groups that one sheet holds, by their pads; an opening is never split."""
    groups: list[list[str]] = []
    count = 0
    for name in row.openings:
        own = sum(pad.opening == name for pad in plan.setting.pads)
        if not groups or count + own > most_pads:
            groups.append([])
            count = 0
        groups[-1].append(name)
        count += own
    return tuple(tuple(group) for group in groups)


# --- scale --------------------------------------------------------------------------------------------------


def _shot(plan: Plan, openings: tuple[str, ...]) -> tuple[OpeningShape, ...]:
    return tuple(s for s in plan.survey.openings if s.name in openings and s.sill_outer)


def _strip(job: Job, plan: Plan, row: RowPlan, shapes: tuple[OpeningShape, ...], scale: float) -> _Strip:
    names = {shape.name for shape in shapes}
    readings = tuple(r for r in plotted(job, plan) if r.opening in names)
    lines = [line.z for line in row.lines if set(line.openings) & names]
    stations = [s for shape in shapes for s in (*shape.sill_outer, *shape.sill_inner)]
    low = min(s.value - SD_TO_95 * s.sd for s in stations)
    high = max([*lines, *(s.value + SD_TO_95 * s.sd for s in stations)])
    stretch = next((n for n in _STRETCHES if (high - low) * scale * n <= _TALL), 1)
    return _Strip(job, plan, row, shapes, readings, Figures(plan.units), scale, stretch, low, high)


def _ends(shape: OpeningShape, *, outer: bool = True) -> list[tuple[float, float]]:
    """Return the sill from jack to jack: its stations, run level to the jacks."""
    stations = shape.sill_outer if outer else shape.sill_inner
    inner = [(s.at, s.value) for s in stations if shape.left < s.at < shape.right]
    ends = [(x, height_at(stations, x)) for x in (shape.left, shape.right)]
    return [ends[0], *inner, ends[1]]


def _reach(strip: _Strip, line: Line) -> tuple[float, float]:
    own = [shape for shape in strip.shapes if shape.name in line.openings]
    over = strip.across(0.15)
    return min(s.left for s in own) - over, max(s.right for s in own) + over


# --- what is there ------------------------------------------------------------------------------------------


def _sill(strip: _Strip, shape: OpeningShape) -> list[AnyItem]:
    sill = _ends(shape)
    foot = strip.low - strip.up(0.3)
    top = strip.high + strip.up(_JACKS)
    wood = Path(((shape.left, foot), *sill, (shape.right, foot)), closed=True, fill=Fill.TINT, weight=0.6)
    marks: list[AnyItem] = [wood, _band(shape), Path(tuple(sill), ref=f"opening.{shape.name}", weight=1.4)]
    if shape.sill_inner:
        marks.append(Path(tuple(_ends(shape, outer=False)), hidden=True, weight=0.9))
    marks += [Path(((x, foot), (x, top)), weight=0.8) for x in (shape.left, shape.right)]
    return marks


def _band(shape: OpeningShape) -> Band:
    def side(station: Station, sign: float) -> tuple[float, float]:
        return (station.at, station.value + sign * SD_TO_95 * station.sd)

    stations = shape.sill_outer
    if len(stations) == 1:
        only = stations[0]
        half = SD_TO_95 * only.sd
        return Band(
            tuple(
                (x, only.value + z)
                for x, z in (
                    (shape.left, -half),
                    (shape.right, -half),
                    (shape.right, half),
                    (shape.left, half),
                )
            )
        )
    return Band((*(side(s, 1.0) for s in stations), *(side(s, -1.0) for s in reversed(stations))))


def _stations(strip: _Strip) -> list[AnyItem]:
    """Readings as crow's feet, front edge filled with a longer sign; those set aside crossed out."""
    found: list[AnyItem] = []
    for reading in strip.readings:
        beyond = not strip.low - strip.up(0.25) <= reading.z <= strip.high + strip.up(0.08)
        if reading.set_aside:
            z = min(max(reading.z, strip.low - strip.up(0.2)), strip.high + strip.up(0.08))
            found += _crossed(strip, reading, z)
        elif not beyond:
            size = 0.13 if reading.outer else 0.08
            found.append(
                Mark(
                    (reading.x, reading.z), MarkKind.STATION, role=Role.PENCIL, size=size, ref=reading.reading
                )
            )
    return found


def _crossed(strip: _Strip, reading: Plotted, z: float) -> list[AnyItem]:
    arm_x, arm_z = strip.across(0.06), strip.up(0.06)
    return [
        Path(
            ((reading.x - arm_x, z - s * arm_z), (reading.x + arm_x, z + s * arm_z)),
            role=Role.STAMP,
            ref=reading.reading,
        )
        for s in (1.0, -1.0)
    ]


def _heads(strip: _Strip) -> list[AnyItem]:
    """Names of the openings, and the row's low end and high point."""
    top = strip.high + strip.up(_JACKS)
    marks: list[AnyItem] = [
        Text(((s.left + s.right) / 2, top), s.name, anchor=Anchor.S, nudge=(0, 0.34), size=0.2, bold=True)
        for s in strip.shapes
    ]
    places: list[tuple[Place, str]] = [(strip.row.high_point, "high point"), (strip.row.low_end, "low end")]
    places = [(place, words) for place, words in places if place.opening in strip.names]
    texts = [f"{words} {strip.figures.fine(place.z)}" for place, words in places]
    xs = spread([place.x * strip.scale for place, _ in places], widest(texts) + 0.15)
    for (place, _), text, x in zip(places, texts, xs, strict=True):
        at = (x / strip.scale, top)
        marks.append(Path(((place.x, place.z), at), role=Role.NOTE, weight=LEADER))
        marks.append(Text(at, text, anchor=Anchor.S, nudge=(0, 0.08), size=TYPE))
    return marks


# --- what to do ---------------------------------------------------------------------------------------------


def _chalk(strip: _Strip) -> list[AnyItem]:
    marks: list[AnyItem] = []
    labels: list[Label] = []
    for line in strip.lines:
        left, right = _reach(strip, line)
        marks.append(Path(((left, line.z), (right, line.z)), role=Role.CHALK, ref=line.id, weight=1.4))
        words = f"level line {strip.figures.fine(line.z)}"
        labels.append(Label(at=(right, line.z), text=words, role=Role.CHALK, ref=line.id))
    x = max(shape.right for shape in strip.shapes) + strip.across(0.4)
    return [*marks, *column(labels, x=x, scale=(strip.scale, strip.scale * strip.stretch))]


def _pad(strip: _Strip, pad: Pad) -> list[AnyItem]:
    """A pad from the sill's front edge up to the line; from its back edge where only that is padded."""
    line = next((line for line in strip.lines if pad.opening in line.openings), None)
    shape = next(shape for shape in strip.shapes if shape.name == pad.opening)
    if line is None:
        return []
    half = max(strip.job.kit.shim_width / 2, strip.across(0.05))
    for stations in (shape.sill_outer, shape.sill_inner):
        if not stations:
            continue
        left, right = (min(height_at(stations, pad.x + side * half), line.z) for side in (-1, 1))
        if min(left, right) < line.z:
            points = ((-half, left), (half, right), (half, line.z), (-half, line.z))
            return [Hatch(tuple((pad.x + x, z) for x, z in points), Pattern.PAD, ref=pad.id)]
    return []


def _planed(strip: _Strip) -> list[AnyItem]:
    """Crayon along the stretch of sill to be planed, its balloon above."""
    runs = [run for run in strip.plan.setting.planed if run.opening in strip.names]
    top = strip.high + strip.up(_JACKS - 0.14)
    xs = spread([run.deepest_x * strip.scale for run in runs], _BALLOON + 0.05)
    marks: list[AnyItem] = []
    for run, x in zip(runs, xs, strict=True):
        shape = next(shape for shape in strip.shapes if shape.name == run.opening)
        stations = shape.sill_outer if run.edge == "outer" or not shape.sill_inner else shape.sill_inner
        inner = [(s.at, s.value) for s in stations if run.start < s.at < run.end]
        ends = [(at, height_at(stations, at)) for at in (run.start, run.end)]
        marks.append(Path((ends[0], *inner, ends[1]), role=Role.CRAYON, ref=run.id))
        marks.append(
            Path(
                ((run.deepest_x, height_at(stations, run.deepest_x)), (x / strip.scale, top)),
                role=Role.CRAYON,
                weight=0.25,
            )
        )
        marks.append(
            Mark(
                (x / strip.scale, top),
                MarkKind.BALLOON,
                text=str(run.number),
                role=Role.CRAYON,
                size=_BALLOON,
                ref=run.id,
            )
        )
    return marks


def _figures(strip: _Strip) -> list[AnyItem]:
    """Under the sills: number, place, thickness at the front and at the back of every pad."""
    foot = strip.low - strip.up(0.3)
    left = min(s.left for s in strip.shapes) * strip.scale
    right = max(s.right for s in strip.shapes) * strip.scale
    pads = strip.pads
    if not pads:
        return []
    # row heads first, at the left; columns start beside them
    xs = spread_within([pad.x * strip.scale for pad in pads], _COLUMN, low=left - 0.1, high=right + 0.9)
    drops = {"pad": 0.3, "front": 0.56, "back": 0.76, "at": 0.93}
    marks: list[AnyItem] = [
        Text(((left - 0.35) / strip.scale, foot), words, anchor=Anchor.E, nudge=(0, -drops[row]), size=0.1)
        for row, words in (("pad", "pad"), ("front", "front"), ("back", "back"))
    ]
    marks.append(
        Text(
            ((left - 0.35) / strip.scale, foot), "from wall mark", anchor=Anchor.E, nudge=(0, -1.1), size=0.1
        )
    )
    for pad, x in zip(pads, xs, strict=True):
        at = (x / strip.scale, foot)
        marks.append(Path(((pad.x, foot), (at[0], foot - strip.up(0.2))), role=Role.CRAYON, weight=0.25))
        marks += _column(strip, pad, at, drops)
    return marks


def _column(strip: _Strip, pad: Pad, at: tuple[float, float], drops: dict[str, float]) -> list[AnyItem]:
    back = "–" if pad.back is None else strip.figures.fine(pad.back)
    return [
        Mark(
            at,
            MarkKind.BALLOON,
            text=str(pad.number),
            role=Role.CRAYON,
            size=_BALLOON,
            ref=pad.id,
            nudge=(0, -drops["pad"]),
        ),
        Text(
            at,
            strip.figures.fine(pad.front),
            anchor=Anchor.C,
            size=TYPE,
            nudge=(0, -drops["front"]),
            ref=pad.id,
        ),
        Text(at, back, anchor=Anchor.C, size=TYPE, nudge=(0, -drops["back"]), ref=pad.id),
        Text(
            at,
            strip.figures.place(pad.x),
            anchor=Anchor.E,
            angle=90.0,
            size=TYPE,
            nudge=(0, -drops["at"]),
            ref=pad.id,
        ),
    ]
