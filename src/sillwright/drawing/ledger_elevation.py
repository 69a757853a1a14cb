"""The ledger from outside, to scale: every fastener with its distance from the left end, joists, band, studs.

A long ledger is drawn in stretches, one under another; running distances go on from the ledger's left end.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from itertools import pairwise

from sillwright.drawing.figures import Figures
from sillwright.drawing.labels import at_largest, spread_within
from sillwright.drawing.scene import Anchor, AnyItem, Fill, Path, Point, Role, Scene, Text
from sillwright.inspection import LedgerFastener, LedgerPlan
from sillwright.plan import Plan

_STRETCH = {"in": 84.0, "mm": 72.0}
"""A stretch of ledger that fits a page at 1 in to the foot, or at 1:10 [in]."""
_TYPE = 0.1
_DOT = 0.045
_HANGER = 2.25
"""Half of what a joist hanger takes along the ledger: half a joist and a flange of 1 1/2 in [in]."""
_STUD = 5.0
"""How far up studs are drawn [in]."""

_Span = tuple[float, float]


def ledger_elevations(plan: Plan) -> dict[str, Scene]:
    """Return the drawings of a ledger by name: `ledger`, or `ledger-part-1` ... from the left."""
    ledger = plan.ledger
    if ledger is None:
        return {}
    length = ledger.right - ledger.left
    count = max(1, math.ceil(length / _STRETCH[plan.units] - 1e-9))
    spans = [(length * n / count, length * (n + 1) / count) for n in range(count)]
    if count == 1:
        return {"ledger": _fitted(plan, ledger, spans[0], "The ledger from outside")}
    return {
        f"ledger-part-{n}": _fitted(plan, ledger, span, f"The ledger from outside, part {n} of {count}")
        for n, span in enumerate(spans, start=1)
    }


def _fitted(plan: Plan, ledger: LedgerPlan, span: _Span, title: str) -> Scene:
    figures = Figures(plan.units)

    def build(scale: float) -> Scene:
        return Scene(
            tuple(_marks(ledger, span, figures, scale)),
            title=title,
            alt=f"{title}: {len(ledger.fasteners)} fasteners in two rows, each with its distance from the "
            "ledger's left end.",
            scale_x=scale,
            scale_y=scale,
            metric=plan.units == "mm",
        )

    tall = ledger.top - ledger.bottom + 2 * _STUD
    return at_largest(build, span=(span[1] - span[0], tall), width=9.3, height=3.2, metric=plan.units == "mm")


def _marks(ledger: LedgerPlan, span: _Span, figures: Figures, scale: float) -> list[AnyItem]:
    """All in job inches, x from the ledger's left end."""
    inside = [each for each in ledger.fasteners if span[0] - 1e-6 <= each.from_left <= span[1] + 1e-6]
    marks: list[AnyItem] = [*_studs(ledger, span), *_band(ledger, span), *_board(ledger, span)]
    marks += [*_joists(ledger, span), *_kept_clear(ledger, span, scale), *_rows(ledger, span)]
    for each in inside:
        marks.append(_dot(each, scale))
    marks += [*_running(ledger, inside, span, figures, scale), *_ties(ledger, span, scale)]
    return [*marks, *_heights(ledger, span, figures, scale)]


def _board(ledger: LedgerPlan, span: _Span) -> Iterable[AnyItem]:
    box = _box(span[0], span[1], ledger.bottom, ledger.top)
    yield Path(box, closed=True, role=Role.NEW, ref="ledger")


def _box(left: float, right: float, bottom: float, top: float) -> tuple[Point, ...]:
    return ((left, bottom), (right, bottom), (right, top), (left, top))


def _studs(ledger: LedgerPlan, span: _Span) -> Iterable[AnyItem]:
    for start, end in ledger.studs:
        left, right = max(start - ledger.left, span[0]), min(end - ledger.left, span[1])
        if left < right:
            foot = max((place.top for place in ledger.band), default=ledger.top)
            yield Path(_box(left, right, foot, max(foot, ledger.top) + _STUD), closed=True, fill=Fill.TINT)


def _band(ledger: LedgerPlan, span: _Span) -> Iterable[AnyItem]:
    """Top and underside of the band joist behind, hidden."""
    for name in ("top", "bottom"):
        line = [(place.x - ledger.left, getattr(place, name)) for place in ledger.band]
        inside = [point for point in line if span[0] < point[0] < span[1]]
        points = (_at(line, span[0]), *inside, _at(line, span[1])) if line else ()
        if len(points) > 1:
            yield Path(points, hidden=True, role=Role.PENCIL)


def _at(line: list[Point], x: float) -> Point:
    """Return the point of a line at x; level beyond its ends."""
    if x <= line[0][0]:
        return (x, line[0][1])
    for a, b in pairwise(line):
        if x <= b[0]:
            return (x, a[1] + (b[1] - a[1]) * (x - a[0]) / (b[0] - a[0]))
    return (x, line[-1][1])


def _joists(ledger: LedgerPlan, span: _Span) -> Iterable[AnyItem]:
    if ledger.joist_top is None:
        return
    for x in ledger.joists:
        if span[0] <= x <= span[1]:
            low = ledger.joist_top - ledger.joist_depth
            left, right = max(x - _HANGER, span[0]), min(x + _HANGER, span[1])
            yield Path(_box(left, right, low, ledger.joist_top), closed=True, role=Role.NOTE, hidden=True)
            yield Path(
                _box(max(x - 0.75, span[0]), min(x + 0.75, span[1]), low, ledger.joist_top),
                closed=True,
                fill=Fill.TINT,
                role=Role.NEW,
                weight=0.6,
            )


def _kept_clear(ledger: LedgerPlan, span: _Span, scale: float) -> Iterable[AnyItem]:
    for each in ledger.kept_clear:
        left, right = max(each.left - ledger.left, span[0]), min(each.right - ledger.left, span[1])
        if left >= right:
            continue
        bottom = ledger.bottom if each.bottom is None else max(each.bottom, ledger.bottom)
        top = ledger.top if each.top is None else min(each.top, ledger.top)
        if bottom < top:
            yield Path(_box(left, right, bottom, top), closed=True, fill=Fill.TINT, role=Role.PENCIL)
        middle = (left + right) / 2
        yield Path(
            ((middle, min(top, ledger.top)), (middle, ledger.top + 0.28 / scale)), role=Role.NOTE, weight=0.5
        )
        yield Text((middle, ledger.top), each.what, anchor=Anchor.S, nudge=(0, 0.3), size=0.1)


def _rows(ledger: LedgerPlan, span: _Span) -> Iterable[AnyItem]:
    for row in ("low", "high"):
        points = [(each.from_left, each.z) for each in ledger.fasteners if each.row == row]
        if points:
            yield Path((_at(points, span[0]), _at(points, span[1])), role=Role.CHALK, weight=0.6)


def _dot(fastener: LedgerFastener, scale: float) -> AnyItem:
    r = _DOT / scale
    around = [(r * math.cos(math.pi * k / 6), r * math.sin(math.pi * k / 6)) for k in range(12)]
    points = tuple((fastener.from_left + dx, fastener.z + dz) for dx, dz in around)
    return Path(points, closed=True, fill=Fill.INK, role=Role.CRAYON, weight=0.3, ref=fastener.id)


def _running(
    ledger: LedgerPlan, inside: list[LedgerFastener], span: _Span, figures: Figures, scale: float
) -> Iterable[AnyItem]:
    """Under the ledger: the distance of every fastener from the left end, and the ends themselves."""
    places = [(each.from_left, each.z, each.id) for each in inside]
    places += [(x, ledger.bottom, "ledger") for x in span]
    places.sort()
    base = ledger.bottom - 0.3 / scale
    gap = _TYPE * 1.25
    spots = spread_within([x * scale for x, _, _ in places], gap, low=span[0] * scale, high=span[1] * scale)
    for (x, z, ref), spot in zip(places, spots, strict=True):
        at = (spot / scale, base)
        yield Path(((x, z), (x, base + 0.12 / scale), at), role=Role.NOTE, weight=0.5)
        bold = ref != "ledger"
        yield Text(
            at,
            figures.place(x),
            anchor=Anchor.E,
            angle=90.0,
            size=_TYPE,
            bold=bold,
            nudge=(0, -0.04),
            ref=ref,
        )


def _ties(ledger: LedgerPlan, span: _Span, scale: float) -> Iterable[AnyItem]:
    for x in ledger.ties:
        if span[0] <= x <= span[1]:
            top = ledger.top
            tip = (
                (x, top + 0.02 / scale),
                (x - 0.06 / scale, top + 0.14 / scale),
                (x + 0.06 / scale, top + 0.14 / scale),
            )
            yield Path(tip, closed=True, fill=Fill.INK, role=Role.CRAYON, weight=0.3)
            yield Text((x, top + 0.17 / scale), "tie", anchor=Anchor.S, size=0.1, role=Role.CRAYON)


def _heights(ledger: LedgerPlan, span: _Span, figures: Figures, scale: float) -> Iterable[AnyItem]:
    """At the right end: top, rows and underside, with their heights and how far below the top."""
    found = [
        (ledger.top, f"top {figures.fine(ledger.top)}"),
        (ledger.bottom, f"bottom {figures.fine(ledger.bottom)}"),
    ]
    for row in ("high", "low"):
        own = [each for each in ledger.fasteners if each.row == row]
        if own:
            last = max(own, key=lambda each: each.from_left)
            found.append(
                (last.z, f"{row} row {figures.fine(last.z)}, {figures.fine(last.below_top)} below top")
            )
    found.sort()
    x = span[1]
    spots = spread_within([z * scale for z, _ in found], _TYPE * 1.7, low=-1e9, high=1e9)
    for (z, words), spot in zip(found, spots, strict=True):
        knee = (x + 0.2 / scale, spot / scale)
        yield Path(((x, z), (x + 0.06 / scale, z), knee), role=Role.NOTE, weight=0.5)
        yield Text(knee, words, anchor=Anchor.W, nudge=(0.07, 0), size=_TYPE)
