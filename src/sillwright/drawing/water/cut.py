"""A plane through a dressed wall: the faces it cuts, one leg of a line each, and the layers on them.

Layers are drawn apart: each lies one gap farther out than what it covers, so that every one is seen and the
order reads from the wood outward. Lengths along the faces stay true.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

import numpy as np

from sillwright.drawing.scene import Point
from sillwright.drawing.water.faces import outward
from sillwright.water import Complex, Dressing, Panel, Sheet, Span

_ON = 1e-6


@dataclass(frozen=True, slots=True, kw_only=True)
class Leg:
    """The line in which the plane cuts a face: along its u (axis 0) or v (1), from `start` to `end`."""

    facet: str
    axis: int
    at: float
    """Where the plane is, on the other axis of the face."""
    start: float
    end: float
    first: Point
    last: Point
    """Ends of the line in the drawing [in]."""
    normal: Point
    """Out of the face, of length 1."""

    def lifted(self, along: float, by: float) -> Point:
        """Return a place on the face in the drawing, so far out from it."""
        share = (along - self.start) / (self.end - self.start)
        return (
            self.first[0] + share * (self.last[0] - self.first[0]) + by * self.normal[0],
            self.first[1] + share * (self.last[1] - self.first[1]) + by * self.normal[1],
        )

    def span(self, panel: Panel) -> Span | None:
        """Return where a panel lies on the leg, in the leg's direction; None: not there."""
        along, across = (panel.u, panel.v) if self.axis == 0 else (panel.v, panel.u)
        low, high = sorted((self.start, self.end))
        low, high = max(along[0], low), min(along[1], high)
        if panel.facet != self.facet or not across[0] - _ON < self.at < across[1] + _ON or high - low < _ON:
            return None
        return (low, high) if self.start < self.end else (high, low)


@dataclass(frozen=True, slots=True, kw_only=True)
class Piece:
    """A stretch of a sheet on one leg, in the leg's direction."""

    leg: int
    span: Span
    bonded: bool
    panel: str

    @property
    def ends(self) -> Span:
        """Return the stretch, rising."""
        low, high = sorted(self.span)
        return low, high


Run = tuple[Piece, ...]
Ranks = dict[tuple[str, str], int]
"""By sheet and face."""
Out = Callable[[Leg], float]
"""How far out of a leg something is drawn [in]."""


def leg(shape: Complex, facet: str, axis: int, *, at: float, span: Span, drop: int) -> Leg:
    """Return the leg on a face; the plane is square to the direction `drop`, 0 along the wall or 2 up."""
    face = shape.by_name[facet]
    ends = [(t, at) if axis == 0 else (at, t) for t in span]
    keep = [k for k in (0, 1, 2) if k != drop]
    (a, b), (c, d) = (face.place(*end)[keep].tolist() for end in ends)
    normal = outward(shape, face)[keep]
    x, y = (normal / np.linalg.norm(normal)).tolist()
    return Leg(
        facet=facet,
        axis=axis,
        at=at,
        start=span[0],
        end=span[1],
        first=(a, b),
        last=(c, d),
        normal=(x, y),
    )


def ranks(dressing: Dressing, legs: Sequence[Leg]) -> Ranks:
    """Return how many gaps out of each face a sheet that the plane cuts is drawn: one more than it covers."""
    found: Ranks = {}
    cut: list[tuple[str, list[Piece]]] = []
    for sheet in in_order(dressing):
        mine = list(pieces(legs, sheet))
        for number, each in enumerate(legs):
            here = [piece for piece in mine if piece.leg == number]
            if here:
                below = [found[name, each.facet] for name, others in cut if _cover(here, others)]
                found[sheet.name, each.facet] = max(below, default=0) + 1
        cut.append((sheet.name, mine))
    return found


FLAP = "#"
"""Parts the name of a piece from that of its flap, where the flap is a layer of its own."""


def in_order(dressing: Dressing) -> list[Sheet]:
    """Return the sheets in the order of work; a flap that comes down later is a layer of its own."""
    return sorted(
        (layer for sheet in dressing.sheets for layer in _parted(sheet)), key=lambda each: each.laid
    )


def _parted(sheet: Sheet) -> Iterator[Sheet]:
    now = tuple(panel for panel in sheet.panels if panel.laid in (None, sheet.laid))
    yield replace(sheet, panels=now)
    for panel in sheet.panels:
        if panel not in now:
            name = f"{sheet.name}{FLAP}{panel.name}"
            yield replace(sheet, name=name, words="head flap", panels=(panel,), laid=panel.laid or sheet.laid)


def pieces(legs: Sequence[Leg], sheet: Sheet) -> Iterator[Piece]:
    """Yield what the plane cuts of a sheet."""
    for number, each in enumerate(legs):
        for panel in sheet.panels:
            span = each.span(panel)
            if span is not None:
                yield Piece(leg=number, span=span, bonded=panel.bonded, panel=panel.name)


def _cover(mine: Sequence[Piece], others: Sequence[Piece]) -> bool:
    return any(one.leg == other.leg and shared(one, other) > _ON for one in mine for other in others)


def shared(one: Piece, other: Piece) -> float:
    """Return how much of a leg two stretches share; less than 0: how far they are apart."""
    return min(one.ends[1], other.ends[1]) - max(one.ends[0], other.ends[0])


def runs(sheet: Sheet, legs: Sequence[Leg]) -> Iterator[Run]:
    """Yield a sheet's pieces in runs, each going on where a seam joins it to the one before."""
    joined = {frozenset((seam.one, seam.other)) for seam in sheet.seams}
    forward = [each.start < each.end for each in legs]
    order = sorted(pieces(legs, sheet), key=lambda p: (p.leg, p.span[0] if forward[p.leg] else -p.span[0]))
    run: list[Piece] = []
    for piece in order:
        if run and not (_meets(run[-1], piece, legs) and frozenset((run[-1].panel, piece.panel)) in joined):
            yield tuple(run)
            run = []
        run.append(piece)
    if run:
        yield tuple(run)


def _meets(one: Piece, other: Piece, legs: Sequence[Leg]) -> bool:
    if one.leg == other.leg:
        return abs(one.span[1] - other.span[0]) < _ON
    at_end = abs(one.span[1] - legs[one.leg].end) < _ON
    return other.leg == one.leg + 1 and at_end and abs(other.span[0] - legs[other.leg].start) < _ON


def line(legs: Sequence[Leg], run: Sequence[Piece], out: Out) -> list[Point]:
    """Return a run as a line so far out of each leg, mitred where it is folded."""
    first, last = run[0], run[-1]
    points = [legs[first.leg].lifted(first.span[0], out(legs[first.leg]))]
    points += [
        _joint(legs[one.leg], legs[other.leg], out) for one, other in pairwise(run) if one.leg != other.leg
    ]
    return [*points, legs[last.leg].lifted(last.span[1], out(legs[last.leg]))]


def _joint(one: Leg, other: Leg, out: Out) -> Point:
    """Return where a layer is folded from one leg to the next."""
    a = np.array(one.lifted(one.end, out(one)))
    b = np.array(other.lifted(other.start, out(other)))
    p, q = (np.array(each.last) - np.array(each.first) for each in (one, other))
    x, y = (a + np.linalg.solve(np.column_stack([p, -q]), b - a)[0] * p).tolist()
    return x, y
