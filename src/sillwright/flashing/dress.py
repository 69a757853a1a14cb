"""A wall dressed by a scheme: every piece, in the order of work."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from sillwright.flashing.lay import Rect, field, sheet_of
from sillwright.flashing.pieces import (
    SIDES,
    apron,
    corner_patch,
    head_strip,
    jamb_strip,
    ledger_pieces,
    lining,
    nosing,
    pan,
    unit,
)
from sillwright.flashing.practice import PanMake, ToDress, UnitSet, WrapWhen
from sillwright.water import (
    WALL,
    Dressing,
    Fastener,
    Join,
    Kind,
    Panel,
    RoughOpening,
    Seam,
    Sheet,
    WeakSpot,
    wall_complex,
)


def dress(job: ToDress) -> Dressing:
    """Return the dressed wall: facets, pieces in the order of work, fasteners, weak spots of the units."""
    pieces = [replace(piece, laid=number) for number, piece in enumerate(_pieces(job), 1)]
    pieces = [_flaps_last(piece, pieces) for piece in pieces]
    return Dressing(
        complex=wall_complex(job.wall),
        sheets=tuple(pieces),
        fasteners=tuple(replace(each, laid=_laid(pieces, "ledger")) for each in job.ledger_fasteners),
        weak_spots=tuple(_weak_spots(job)),
    )


def _laid(pieces: list[Sheet], name: str) -> int:
    return next((piece.laid for piece in pieces if piece.name == name), 0)


def _pieces(job: ToDress) -> Iterator[Sheet]:
    """Yield the pieces in their order: from the bottom of the wall up, what sheds later over what is there."""
    yield from _below(job)
    openings = sorted(job.wall.openings, key=lambda each: each.x)
    for opening in openings:
        yield from _before_unit(job, opening)
    for opening in openings:
        piece = unit(job.wall, opening, job.unit(opening), job.sizes)
        if piece:
            yield piece
    for opening in openings:
        yield from _after_unit(job, opening)
    yield from _above(job)


# --- the wall itself


def _below(job: ToDress) -> Iterator[Sheet]:
    wrap, wall = job.scheme.wrap, job.wall
    if wrap is WrapWhen.FACE:
        yield _wrap("face", "sheathing face", job, _holes(job), (wall.z[0], wall.z[1]), kind=Kind.FACE)
        yield from ledger_pieces(wall, job.sizes, job.rolls)
        return
    if wall.ledger is None and wrap is WrapWhen.BEFORE:
        yield _wrap_with_flaps("wrap", "wall wrap", job, wall.z[0], wall.z[1])
        return
    lap = wall.ledger.z[1] + 2.0 if wall.ledger else min(each.z[0] for each in wall.openings) - 1.0
    yield _wrap("wrap.lower", "wrap, lower course", job, _holes(job), (wall.z[0], lap))
    yield from ledger_pieces(wall, job.sizes, job.rolls)
    if wrap is WrapWhen.BEFORE:
        start = wall.ledger.z[1] + 0.25 if wall.ledger else lap
        yield _wrap_with_flaps("wrap.upper", "wrap, upper course", job, start, wall.z[1])


def _above(job: ToDress) -> Iterator[Sheet]:
    """Yield the wrap that goes on after the units."""
    wall, sizes = job.wall, job.sizes
    if job.scheme.wrap is WrapWhen.AFTER:
        yield _late_wrap("wrap.upper", "wrap, upper course", job, _late_start(job), wall.z[1])
        yield from _edge_tapes(job)
    elif job.scheme.wrap is WrapWhen.COURSES:
        heads = min(each.z[1] for each in wall.openings)
        yield _late_wrap(
            "wrap.upper", "wrap, upper course", job, _late_start(job), heads + sizes.head_strip / 2
        )
        yield from _edge_tapes(job)
        yield _late_wrap("wrap.top", "wrap, top course", job, heads + 0.5, wall.z[1])


def _late_start(job: ToDress) -> float:
    wall = job.wall
    if wall.ledger is not None:
        return wall.ledger.z[1] + 0.25
    return min(each.z[0] for each in wall.openings) - 1.0 - job.sizes.course_lap


def _holes(job: ToDress) -> list[Rect]:
    return [(each.x, each.z) for each in job.wall.openings]


def _wrap(
    name: str,
    words: str,
    job: ToDress,
    holes: list[Rect],
    span: tuple[float, float],
    *,
    kind: Kind = Kind.WRAP,
) -> Sheet:
    rects = field((job.wall.x, span), holes)
    panels, seams = sheet_of(WALL, "field", rects, bonded=kind is Kind.FACE)
    return Sheet(
        name=name,
        words=words,
        kind=kind,
        stock=job.rolls.wrap,
        panels=tuple(panels),
        seams=tuple(seams),
        laid=0,
    )


def _late_wrap(name: str, words: str, job: ToDress, low: float, high: float) -> Sheet:
    """Return wrap laid over strips and fins, cut round the units and round the aprons that drain below them."""
    holes = [(each.x, (_drain(job, each), each.z[1] + _fin(job, each) / 4)) for each in job.wall.openings]
    return _wrap(name, words, job, holes, (low, high))


def _fin(job: ToDress, opening: RoughOpening) -> float:
    return job.unit(opening).fin or 0.0


def _drain(job: ToDress, opening: RoughOpening) -> float:
    return opening.z[0] - apron(opening, _pan_stock(job)) - 1.0


def _pan_stock(job: ToDress):  # type: ignore[no-untyped-def]
    return job.rolls.metal if job.scheme.pan is PanMake.FORMED else job.rolls.pan


def _edge_tapes(job: ToDress) -> Iterator[Sheet]:
    """Yield tapes that hold the late wrap to the strips beside every unit."""
    for opening in job.wall.openings:
        for side in SIDES:
            rim = (
                (opening.x[0] - job.sizes.tape, opening.x[0])
                if side == "left"
                else (opening.x[1], opening.x[1] + job.sizes.tape)
            )
            panel = Panel(name="tape", facet=WALL, u=rim, v=opening.z, bonded=True)
            words = f"tape at the {side} jamb of {opening.name}"
            yield Sheet(
                name=f"{opening.name}.tape.{side}",
                words=words,
                kind=Kind.TAPE,
                stock=job.rolls.tape,
                panels=(panel,),
                laid=0,
                opening=opening.name,
            )


def flaps(job: ToDress) -> list[Rect]:
    """Return the head flaps of a wrap that is on before the units; neighbours that meet share one."""
    reach = job.sizes.strip + job.sizes.beyond + 1.0
    found: list[Rect] = []
    for each in sorted(job.wall.openings, key=lambda each: each.x):
        rect = ((each.x[0] - reach, each.x[1] + reach), (each.z[1], each.z[1] + job.sizes.head_strip + 2.0))
        rect = (
            (max(rect[0][0], job.wall.x[0]), min(rect[0][1], job.wall.x[1])),
            (rect[1][0], min(rect[1][1], job.wall.z[1])),
        )
        if found and found[-1][0][1] > rect[0][0]:
            last = found.pop()
            rect = ((last[0][0], rect[0][1]), (max(last[1][0], rect[1][0]), max(last[1][1], rect[1][1])))
        found.append(rect)
    return found


def _wrap_with_flaps(name: str, words: str, job: ToDress, low: float, high: float) -> Sheet:
    """Return wrap cut at the openings: sides and sill folded in, head flaps held up until the head is dressed."""
    cuts = flaps(job)
    rects = field((job.wall.x, (low, high)), [*_holes(job), *cuts])
    panels, seams = sheet_of(WALL, "field", rects, bonded=False)
    fields = list(panels)
    for number, (u, v) in enumerate(cuts, 1):
        panels.append(Panel(name=f"flap {number}", facet=WALL, u=u, v=v, bonded=False))
        seams += [
            Seam(f"flap {number}", each.name)
            for each in fields
            if each.v[0] == v[1] and each.u[0] < u[1] and u[0] < each.u[1]
        ]
    for opening in job.wall.openings:
        _fold_in(opening, fields, panels, seams)
    return Sheet(
        name=name,
        words=words,
        kind=Kind.WRAP,
        stock=job.rolls.wrap,
        panels=tuple(panels),
        seams=tuple(seams),
        laid=0,
    )


def _fold_in(opening: RoughOpening, fields: list[Panel], panels: list[Panel], seams: list[Seam]) -> None:
    n, side = opening.name, (0.0, opening.depth)
    folds = {
        "sill": (
            Panel(name=f"{n} sill", facet=f"{n}.sill", u=opening.x, v=side, bonded=False),
            "v",
            1,
            opening.z[0],
            opening.x,
        ),
        "left": (
            Panel(name=f"{n} left", facet=f"{n}.left", u=side, v=opening.z, bonded=False),
            "u",
            1,
            opening.x[0],
            opening.z,
        ),
        "right": (
            Panel(name=f"{n} right", facet=f"{n}.right", u=side, v=opening.z, bonded=False),
            "u",
            0,
            opening.x[1],
            opening.z,
        ),
    }
    for panel, across, end, at, span in folds.values():
        beside = [
            each
            for each in fields
            if getattr(each, across)[end] == at and _overlap(each.v if across == "u" else each.u, span)
        ]
        if beside:
            panels.append(panel)
            seams += [Seam(panel.name, each.name, Join.FOLD) for each in beside]


def _overlap(one: tuple[float, float], other: tuple[float, float]) -> bool:
    return one[0] < other[1] and other[0] < one[1]


def _flaps_last(piece: Sheet, pieces: list[Sheet]) -> Sheet:
    """Let a flap of wrap come down after the head strips."""
    if piece.kind is not Kind.WRAP or not any(panel.name.startswith("flap") for panel in piece.panels):
        return piece
    last = max(each.laid for each in pieces if each.kind is not Kind.TAPE)
    panels = tuple(
        replace(panel, laid=last) if panel.name.startswith("flap") else panel for panel in piece.panels
    )
    return replace(piece, panels=panels)


# --- an opening


def _before_unit(job: ToDress, own: RoughOpening) -> Iterator[Sheet]:
    found: list[Sheet | None] = []
    if job.scheme.pan is PanMake.PATCHED:
        found += [corner_patch(job.wall, own, side, "sill", job.sizes, job.rolls) for side in SIDES]
    found.append(pan(job.wall, own, job.scheme.pan, job.sizes, job.rolls))
    if job.scheme.unit is UnitSet.STRIPS_UNDER:
        found += [
            jamb_strip(job.wall, own, side, own.z[0] + 1.0, job.sizes, job.rolls, fold_in=job.sizes.fold_in)
            for side in SIDES
        ]
    if job.scheme.unit is UnitSet.LINED:
        found += [corner_patch(job.wall, own, side, "head", job.sizes, job.rolls) for side in SIDES]
        found += [lining(job.wall, own, side, job.sizes, job.rolls) for side in (*SIDES, "head")]
        if own.front > 0:
            found.append(nosing(job.wall, own, job.rolls))
    yield from (each for each in found if each)


def _after_unit(job: ToDress, own: RoughOpening) -> Iterator[Sheet]:
    found: list[Sheet | None] = []
    if job.scheme.unit is UnitSet.STRIPS_OVER:
        low = own.z[0] - apron(own, _pan_stock(job))
        found += [jamb_strip(job.wall, own, side, low, job.sizes, job.rolls) for side in SIDES]
    if job.scheme.unit is not UnitSet.LINED:
        found.append(head_strip(job.wall, own, job.sizes, job.rolls))
    yield from (each for each in found if each)


def _weak_spots(job: ToDress) -> Iterator[WeakSpot]:
    """Yield where the units themselves let water through: both sill corners, and the foot of every mull."""
    for opening in job.wall.openings:
        y = opening.front + 0.25
        for side, x in zip(SIDES, opening.x, strict=True):
            nudge = 0.125 if side == "left" else -0.125
            words = f"the {side} sill corner of the unit of {opening.name}"
            yield WeakSpot(words=words, facet=f"{opening.name}.sill", u=x + nudge, v=y)
        for x in job.unit(opening).mulls:
            yield WeakSpot(
                words=f"the foot of a mull of {opening.name}", facet=f"{opening.name}.sill", u=x, v=y
            )


__all__ = ["Fastener", "dress", "flaps"]
