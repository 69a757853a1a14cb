"""What is worth measuring on a piece that goes on: how far it is folded, how far it reaches, what it laps."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from sillwright.drawing.water.acts import Act, Standing, named_holes
from sillwright.drawing.water.seams import Crease, creases
from sillwright.water import WALL, Kind, Panel, Span

_LEAST = 1.0 / 32
"""Nothing shorter is measured [in]."""
_LAP_MOST = 12.0
"""Where more lies over the piece below, it is a cover and no lap [in]."""
_LAPPED = (
    Kind.WRAP,
    Kind.FACE,
    Kind.STRIP,
    Kind.PAN,
    Kind.PATCH,
    Kind.LEDGER_SHEET,
    Kind.METAL,
)
_COVERED = (Kind.PATCH, Kind.UNIT, Kind.TAPE, Kind.BEAD, Kind.BACKING)
"""Pieces that lie flat on what is there: where they hang down over it is no lap."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Measure:
    """A length along one axis of a face, 0 for u, 1 for v; `at`: where it can be taken, on the other axis."""

    kind: str
    """`lap`, `fold`, `reach` or `width`."""
    facet: str
    axis: int
    span: Span
    at: tuple[tuple[str, float, int], ...]
    """Face, place on the other axis, and the side to write it on; the best first."""

    @property
    def length(self) -> float:
        """Return the length [in]."""
        return self.span[1] - self.span[0]


def measures(now: Standing) -> list[Measure]:
    """Return what is worth measuring, the most important first, each length of a kind once."""
    found: list[Measure] = []
    for each in (*_laps(now), *_folds(now), *_flaps(now), *_reaches(now), *_widths(now.act)):
        if each.length > _LEAST and _key(each) not in map(_key, found):
            found.append(each)
    return found


def _key(measure: Measure) -> tuple[str, bool, int, float]:
    on_side = measure.facet.rpartition(".")[2] in _SIDES
    return measure.kind, on_side, measure.axis, round(measure.length, 3)


_SIDES = ("left", "right")


def hub(act: Act, folds: list[Crease]) -> str | None:
    """Return the panel that the others of a piece are folded from: the one with the most folds."""
    count = {panel.name: sum(panel.name in fold.panels for fold in folds) for panel in act.panels}
    most = max(count.values(), default=0)
    if most == 0:
        return None
    area = {panel.name: (panel.u[1] - panel.u[0]) * (panel.v[1] - panel.v[0]) for panel in act.panels}
    return max((name for name in count if count[name] == most), key=lambda name: area[name])


def folds_of(now: Standing) -> list[Crease]:
    """Return the folds between the panels that the act lays."""
    laid = {panel.name for panel in now.act.panels}
    return [c for c in creases(now.dressing.complex, now.act.sheet) if set(c.panels) <= laid]


def hanging(act: Act, folds: list[Crease]) -> dict[str, Crease]:
    """Return by panel the fold that it hangs on, counted from the panel that the others are folded from."""
    first = hub(act, folds)
    found: dict[str, Crease] = {}
    reached = [first] if first else []
    for here in reached:
        for crease in folds:
            if here in crease.panels:
                there = crease.panels[1 - crease.panels.index(here)]
                if there not in reached:
                    reached.append(there)
                    found[there] = crease
    return found


def _folds(now: Standing) -> Iterator[Measure]:
    """Yield how far each panel stands out from the fold it hangs on, longest first."""
    if now.act.sheet.kind is Kind.UNIT:
        return
    folds = folds_of(now)
    panels = {panel.name: panel for panel in now.act.panels}
    found = []
    for name, crease in hanging(now.act, folds).items():
        facet, start, end = (crease.one, crease.other)[crease.panels.index(name)]
        axis = 0 if start[0] == end[0] else 1
        span = (panels[name].u, panels[name].v)[axis]
        whole = now.dressing.complex.by_name[facet]
        if span != (whole.u, whole.v)[axis] or facet.endswith(".dam"):
            found.append(_measure("fold", now, panels[name], axis, span))
    yield from sorted(found, key=lambda each: -each.length)


def _measure(kind: str, now: Standing, panel: Panel, axis: int, span: Span) -> Measure:
    """Return a measure with all places where the piece shows it: the wall first, ends before the middle."""
    name = now.dressing.complex.by_name[panel.facet].axes[axis]
    alike = [
        other
        for other in now.act.panels
        if other.name == panel.name
        or (name in ("x", "z") and _axis(now, other, name) == span and kind == "fold")
    ]
    alike.sort(key=lambda other: other.facet != WALL)
    ends = [
        (other.facet, (other.v, other.u)[_place(now, other, name)][end], (-1, 1)[end])
        for other in alike
        for end in (0, 1)
    ]
    middles = [(other.facet, sum((other.v, other.u)[_place(now, other, name)]) / 2, 1) for other in alike]
    return Measure(kind=kind, facet=panel.facet, axis=axis, span=span, at=(*ends, *middles))


def _place(now: Standing, panel: Panel, name: str) -> int:
    return now.dressing.complex.by_name[panel.facet].axes.index(name)


def _axis(now: Standing, panel: Panel, name: str) -> Span | None:
    axes = now.dressing.complex.by_name[panel.facet].axes
    return (panel.u, panel.v)[axes.index(name)] if name in axes else None


def _laps(now: Standing) -> Iterator[Measure]:
    """Yield how far lower edges of the new piece hang down over upper edges of what is there."""
    told: set[str] = set()
    if now.act.sheet.kind in _COVERED:
        return
    for panel in now.act.panels:
        for act, other in now.laid():
            if act is now.act or act.sheet.kind not in _LAPPED or other.facet != panel.facet:
                continue
            if panel.facet != WALL or not _over(panel, other) or act.sheet.kind.value in told:
                continue
            if act.sheet.kind is Kind.STRIP and now.act.sheet.kind is Kind.WRAP and _tall(other):
                continue
            told.add(act.sheet.kind.value)
            u = max(panel.u[0], other.u[0]), min(panel.u[1], other.u[1])
            at = ((WALL, u[0], -1), (WALL, u[1], 1), (WALL, (u[0] + u[1]) / 2, 1))
            yield Measure(kind="lap", facet=WALL, axis=1, span=(panel.v[0], other.v[1]), at=at)


def _tall(panel: Panel) -> bool:
    return panel.v[1] - panel.v[0] > panel.u[1] - panel.u[0]


def _over(panel: Panel, other: Panel) -> bool:
    beside = min(panel.u[1], other.u[1]) - max(panel.u[0], other.u[0])
    hangs = other.v[0] < panel.v[0] < other.v[1] <= panel.v[1]
    return beside > 0.5 and hangs and other.v[1] - panel.v[0] <= _LAP_MOST


def _flaps(now: Standing) -> Iterator[Measure]:
    """Yield where a flap is cut: how far over the head, how far past the jamb."""
    for act, flap in now.held_up():
        if act is not now.act:
            continue
        for _, (x, z) in named_holes(now.dressing):
            if flap.u[0] < x[1] and x[0] < flap.u[1]:
                left, right = (x[0] + 0.2 * (x[1] - x[0]), x[1] - 0.2 * (x[1] - x[0]))
                above = ((WALL, right, 1), (WALL, left, -1))
                yield Measure(kind="reach", facet=WALL, axis=1, span=(z[1], flap.v[0]), at=above)
                beside = ((WALL, flap.v[0], -1),)
                yield Measure(kind="reach", facet=WALL, axis=0, span=(flap.u[0], x[0]), at=beside)
                break


def _reaches(now: Standing) -> Iterator[Measure]:
    """Yield how far a piece on the wall runs past the head, the sill and the jambs of its opening."""
    act = now.act
    holes = dict(named_holes(now.dressing))
    if act.opening not in holes or act.sheet.kind in (Kind.WRAP, Kind.UNIT) or folds_of(now):
        return
    hole = holes[act.opening]
    for panel in act.panels:
        if panel.facet != WALL:
            continue
        spans = panel.u, panel.v
        for axis in (1, 0):
            for span in ((hole[axis][1], spans[axis][1]), (spans[axis][0], hole[axis][0])):
                crosses = spans[axis][0] < (hole[axis][0] + hole[axis][1]) / 2 < spans[axis][1]
                if crosses and span[1] - span[0] > _LEAST:
                    yield _measure("reach", now, panel, axis, span)


def _widths(act: Act) -> Iterator[Measure]:
    """Yield the width of a piece that is not folded."""
    if act.sheet.kind in (Kind.WRAP, Kind.FACE, Kind.MOUNT, Kind.PATCH, Kind.UNIT) and not act.flap:
        return
    panels = act.panels
    if act.sheet.kind is Kind.BACKING:
        panels = (max(panels, key=lambda panel: panel.v[1] - panel.v[0]),)
    for panel in panels:
        if panel.facet == WALL and not act.flap:
            long, tall = panel.u[1] - panel.u[0], panel.v[1] - panel.v[0]
            axis = 0 if long < tall else 1
            span, other = ((panel.u, panel.v), (panel.v, panel.u))[axis]
            at = tuple((WALL, other[end], (-1, 1)[end]) for end in (1, 0))
            yield Measure(kind="width", facet=WALL, axis=axis, span=span, at=at)
