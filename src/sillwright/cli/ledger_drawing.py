"""The layout of a ledger as a drawing: its face, hangers, every fastener with its running dimension."""

from __future__ import annotations

from collections.abc import Iterator
from math import cos, pi, sin

from sillwright.cli.ledger import Answer
from sillwright.cli.ledger_case import FLANGE, JOIST, Case
from sillwright.drawing import (
    Anchor,
    AnyItem,
    Fill,
    Path,
    Point,
    Role,
    Scene,
    Text,
    fit,
    overlapping_texts,
    to_dxf,
    to_svg,
)
from sillwright.errors import OutOfRange
from sillwright.lengths import show, show_feet
from sillwright.structure import Fastener, Layout

WASHER = 0.6875
"""Radius of a washer under a 1/2 in head [in]; common practice, no source."""
TYPE = 0.1
"""[paper inches]"""
SHEETS = ((10.0, 7.5), (16.0, 10.0), (34.0, 22.0), (400.0, 60.0))
"""Drawing areas tried, smallest first [paper inches]."""
CROSS = 1.6
"""Arms of a fastener's cross, in radii of its washer."""


def drawings(found: Answer) -> dict[str, bytes]:
    """Return the drawing as files by name."""
    scene = ledger_scene(found)
    return {"ledger.svg": to_svg(scene).encode(), "ledger.dxf": to_dxf(scene).encode()}


def ledger_scene(found: Answer) -> Scene:
    """Return the ledger seen from outside, x from its left end, heights from its bottom edge.

    Raises:  OutOfRange: there is no layout
    """
    case, laid = found.case, found.layout
    if laid is None or case.length is None or not laid.fasteners:
        raise OutOfRange("drawing: a ledger without a layout cannot be drawn")
    scene = Scene(
        (
            *_timber(case, case.length),
            *_joists(case, case.length),
            *_obstacles(case),
            *_fasteners(case, laid),
            *_ties(found),
        ),
        title=f"Ledger {case.asked.ledger}, {show_feet(case.length)}",
        alt=f"A ledger from outside with {len(laid.fasteners)} fasteners in two staggered rows, each "
        "dimensioned from the left end.",
        margin=0.25,
    )
    return _fitted(scene)


def _fitted(scene: Scene) -> Scene:
    """Return the scene on the smallest sheet on which no words lie on others."""
    for width, height in SHEETS:
        try:
            fitted = fit(scene, width=width, height=height)
        except OutOfRange:
            continue
        if not overlapping_texts(fitted):
            break
    return fitted


def _timber(case: Case, length: float) -> Iterator[AnyItem]:
    top = case.depth - case.band_drop
    for z in (top, top - case.band_depth):
        yield Path(((0.0, z), (length, z)), role=Role.PENCIL, hidden=True)
    yield Path(_box(0.0, 0.0, length, case.depth), closed=True, role=Role.NEW)
    yield Text(
        (0.0, case.depth),
        f"{case.asked.ledger} ledger, from outside; places from this end, heights above its bottom edge",
        size=TYPE,
        nudge=(0.0, 1.2),
    )


def _box(left: float, bottom: float, right: float, top: float) -> tuple[Point, ...]:
    return ((left, bottom), (right, bottom), (right, top), (left, top))


def _joists(case: Case, length: float) -> Iterator[AnyItem]:
    for x in case.joists:
        half = JOIST / 2.0
        yield Path(_box(x - half, 0.0, x + half, case.depth), closed=True, role=Role.NOTE, fill=Fill.TINT)
        sides = (x - half - FLANGE, x + half + FLANGE)
        for side in (side for side in sides if 0.0 < side < length):
            yield Path(((side, 0.0), (side, case.depth)), role=Role.NOTE, hidden=True)


def _obstacles(case: Case) -> Iterator[AnyItem]:
    for each in case.obstacles:
        yield Path(_box(each.left, 0.0, each.right, case.depth), closed=True, role=Role.PENCIL)
        yield Text(
            ((each.left + each.right) / 2.0, 0.0), each.what, anchor=Anchor.N, size=TYPE, nudge=(0.0, -0.1)
        )


def _fasteners(case: Case, laid: Layout) -> Iterator[AnyItem]:
    for number, each in enumerate(laid.fasteners, start=1):
        yield from _cross(each, number)
        yield Text(
            (each.x, case.depth),
            show(each.x, mark=True),
            anchor=Anchor.W,
            angle=90.0,
            size=TYPE,
            nudge=(0.0, 0.1),
            ref=f"fastener.{number}",
        )
    for row in ("low", "high"):
        first = next((each for each in laid.fasteners if each.row == row), None)
        if first is not None:
            yield Text(
                (0.0, first.z),
                f"{row} {show(first.z, mark=True)}",
                anchor=Anchor.E,
                size=TYPE,
                nudge=(-0.1, 0.0),
            )


def _cross(each: Fastener, number: int) -> Iterator[AnyItem]:
    turns = [2.0 * pi * k / 12.0 for k in range(12)]
    ring = tuple((each.x + WASHER * cos(turn), each.z + WASHER * sin(turn)) for turn in turns)
    ref = f"fastener.{number}"
    yield Path(ring, closed=True, role=Role.CRAYON, weight=0.5, fill=Fill.PAPER, ref=ref)
    arm = CROSS * WASHER
    yield Path(((each.x - arm, each.z), (each.x + arm, each.z)), role=Role.CRAYON, weight=0.3, ref=ref)
    yield Path(((each.x, each.z - arm), (each.x, each.z + arm)), role=Role.CRAYON, weight=0.3, ref=ref)


def _ties(found: Answer) -> Iterator[AnyItem]:
    for x in found.ties or ():
        yield Text(
            (x, 0.0), "tie", anchor=Anchor.N, size=TYPE, bold=True, role=Role.CRAYON, nudge=(0.0, -0.25)
        )
