"""A wall dressed by a scheme: every piece, in the order of work."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from sillwright.flashing.lay import Rect, cut_to_wall, field, sheet_of
from sillwright.flashing.pieces import (
    SIDES,
    apron,
    beside,
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
    Span,
    WeakSpot,
    wall_complex,
)


def dress(job: ToDress) -> Dressing:
    """Return the dressed wall: facets, pieces in the order of work, fasteners, weak spots of the units."""
    pieces = _numbered(list(_pieces(job)))
    return Dressing(
        complex=wall_complex(job.wall),
        sheets=tuple(pieces),
        fasteners=tuple(replace(each, laid=_laid(pieces, "ledger")) for each in job.ledger_fasteners),
        weak_spots=tuple(_weak_spots(job)),
    )


def _laid(pieces: list[Sheet], name: str) -> int:
    return next((piece.laid for piece in pieces if piece.name == name), 0)


def _pieces(job: ToDress) -> Iterator[Sheet]:
    """Yield the pieces in their order: from the bottom up, what sheds later over what is there."""
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
    early = wrap in (WrapWhen.BEFORE, WrapWhen.COURSES)
    top = (
        wall.z[1]
        if wrap is WrapWhen.BEFORE
        else max(each.z[1] for each in wall.openings) + head_piece(job)[1] - TUCK
    )
    if wall.ledger is None and early:
        yield _early_wrap("wrap", "wall wrap", job, wall.z[0], top)
        return
    lap = wall.ledger.z[1] + 2.0 if wall.ledger else min(each.z[0] for each in wall.openings) - 1.0
    yield _wrap("wrap.lower", "wrap, lower course", job, _holes(job), (wall.z[0], lap))
    yield from ledger_pieces(wall, job.sizes, job.rolls)
    if early:
        start = wall.ledger.z[1] + 0.25 if wall.ledger else lap
        yield _early_wrap("wrap.upper", "wrap, upper course", job, start, top)


def _above(job: ToDress) -> Iterator[Sheet]:
    """Yield the wrap that goes on after the units."""
    wall, sizes = job.wall, job.sizes
    reach, height = head_piece(job)
    if job.scheme.wrap is WrapWhen.BEFORE:
        yield from _end_seals(job, reach - sizes.tape, height - TUCK, height)
        yield from _flap_tapes(job)
    elif job.scheme.wrap is WrapWhen.AFTER:
        yield from _end_seals(job, sizes.tape, sizes.tape / 4 - sizes.tape, height)
        yield _late_wrap("wrap.upper", "wrap, upper course", job, _late_start(job), wall.z[1])
        yield from _edge_tapes(job)
    elif job.scheme.wrap is WrapWhen.COURSES:
        low = min(each.z[1] for each in wall.openings) + 0.5
        yield _wrap("wrap.top", "wrap, top course", job, _holes(job), (low, wall.z[1]))


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
    """Return wrap laid over strips and fins, kept back from the units and the aprons that drain below."""
    rim = job.sizes.tape
    holes = [
        ((each.x[0] - rim, each.x[1] + rim), (_drain(job, each), each.z[1] + rim / 4))
        for each in job.wall.openings
    ]
    return _wrap(name, words, job, holes, (low, high))


def _drain(job: ToDress, opening: RoughOpening) -> float:
    return opening.z[0] - apron(opening, _pan_stock(job)) - 1.0


def _pan_stock(job: ToDress):  # type: ignore[no-untyped-def]
    return job.rolls.metal if job.scheme.pan is PanMake.FORMED else job.rolls.pan


def _edge_tapes(job: ToDress) -> Iterator[Sheet]:
    """Yield tapes that hold the edges of late wrap to the strips beside every unit, down to the drain."""
    t = job.sizes.tape
    for opening in job.wall.openings:
        for side in SIDES:
            x = opening.x[0] - t if side == "left" else opening.x[1] + t
            along = (_drain(job, opening), opening.z[1] + t / 4)
            rect = cut_to_wall(job.wall, opening, ((x - t, x + t), along))
            if rect is None:
                continue
            panel = Panel(name="tape", facet=WALL, u=rect[0], v=rect[1], bonded=True)
            yield Sheet(
                name=f"{opening.name}.tape.{side}",
                words=f"tape at the {side} jamb of {opening.name}",
                kind=Kind.TAPE,
                stock=job.rolls.tape,
                panels=(panel,),
                laid=0,
                opening=opening.name,
            )


def _end_seals(job: ToDress, out: float, low: float, high: float) -> Iterator[Sheet]:
    """Yield double-faced tapes at both ends of every head, which hold the wrap to the strip under it.

    Each begins `out` inches out from the jamb, and reaches from `low` to `high` inches above the head.
    """
    for opening in job.wall.openings:
        for side in SIDES:
            rim = beside(opening, side, out, out + job.sizes.tape)
            rect = cut_to_wall(job.wall, opening, (rim, (opening.z[1] + low, opening.z[1] + high)))
            if rect is None or _inside_a_flap(job, rim):
                continue
            panel = Panel(name="tape", facet=WALL, u=rect[0], v=rect[1], bonded=True, bonds_above=True)
            yield Sheet(
                name=f"{opening.name}.seal.{side}",
                words=f"double-faced tape at the {side} end of the head of {opening.name}",
                kind=Kind.BEAD,
                stock=job.rolls.tape,
                panels=(panel,),
                laid=0,
                opening=opening.name,
            )


def _inside_a_flap(job: ToDress, rim: Span) -> bool:
    """Tell whether a flap shared by neighbours runs on over an end of one of their heads."""
    early = job.scheme.wrap is WrapWhen.BEFORE
    return early and any(u[0] < rim[0] and rim[1] < u[1] for u, _ in flaps(job))


def head_piece(job: ToDress) -> tuple[float, float]:
    """Return how far the piece over a head runs past the opening, and how high, inches."""
    if job.scheme.unit is UnitSet.LINED:
        return job.sizes.lining, job.sizes.lining
    return job.sizes.strip + job.sizes.beyond, job.sizes.head_strip


TUCK = 2.0
"""How far the top of a head strip goes under the flap of wrap above it, inches."""


def flaps(job: ToDress) -> list[Rect]:
    """Return the head flaps of a wrap that is on before the units; neighbours that meet share one."""
    reach, height = head_piece(job)
    found: list[Rect] = []
    for each in sorted(job.wall.openings, key=lambda each: each.x):
        top = each.z[1] + height
        rect = cut_to_wall(job.wall, each, ((each.x[0] - reach, each.x[1] + reach), (top - TUCK, top)))
        if rect is None:
            continue
        if found and found[-1][0][1] >= rect[0][0] and found[-1][1] == rect[1]:
            rect = ((found.pop()[0][0], rect[0][1]), rect[1])
        found.append(rect)
    return found


def _early_wrap(name: str, words: str, job: ToDress, low: float, high: float) -> Sheet:
    """Return wrap cut at the openings: sides and sill folded in, head flaps up until heads are dressed."""
    cuts = flaps(job) if job.scheme.wrap is WrapWhen.BEFORE else []
    rects = field((job.wall.x, (low, high)), [*_holes(job), *cuts])
    panels, seams = sheet_of(WALL, "field", rects, bonded=False)
    fields = list(panels)
    for number, (u, v) in enumerate(cuts, 1):
        flap = Panel(name=f"flap {number}", facet=WALL, u=u, v=v, bonded=False)
        panels.append(flap)
        seams += [Seam(flap.name, each.name) for each in fields if _hangs_on(flap, each)]
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


def _hangs_on(flap: Panel, other: Panel) -> bool:
    """Tell whether a flap hangs on another part of the wrap: from above only, for its sides are cut."""
    return other.v[0] == flap.v[1] and _overlap(other.u, flap.u)


def _flap_tapes(job: ToDress) -> Iterator[Sheet]:
    """Yield the tapes over the cuts at both sides of every flap."""
    t = job.sizes.tape
    for number, (u, v) in enumerate(flaps(job), 1):
        for side, x in zip(SIDES, u, strict=True):
            if x in job.wall.x:
                continue
            panel = Panel(name="tape", facet=WALL, u=(x - t, x + t), v=(v[0] - t, v[1] + t), bonded=True)
            yield Sheet(
                name=f"flap.{number}.tape.{side}",
                words=f"tape over the {side} cut of head flap {number}",
                kind=Kind.TAPE,
                stock=job.rolls.tape,
                panels=(panel,),
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


def _numbered(pieces: list[Sheet]) -> list[Sheet]:
    """Number the acts: a flap of wrap comes down after the head strips, before the tapes over its cuts."""
    flapped = any(panel.name.startswith("flap") for piece in pieces for panel in piece.panels)
    down = sum(piece.kind is not Kind.TAPE for piece in pieces) + 1
    numbers = [n + (flapped and piece.kind is Kind.TAPE) for n, piece in enumerate(pieces, 1)]
    return [
        replace(piece, laid=number, panels=tuple(_flap_down(panel, down) for panel in piece.panels))
        for number, piece in zip(numbers, pieces, strict=True)
    ]


def _flap_down(panel: Panel, act: int) -> Panel:
    return replace(panel, laid=act) if panel.name.startswith("flap") else panel


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
