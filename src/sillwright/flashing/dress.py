"""A wall dressed by a scheme: every piece, in the order of work."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from itertools import pairwise

from sillwright.flashing.lay import LEAST, Rect, cut_to_wall, field, sheet_of
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
    Kind,
    Panel,
    RoughOpening,
    Seam,
    Sheet,
    Span,
    Stock,
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
    yield _lower_wrap(job)
    yield from ledger_pieces(wall, job.sizes, job.rolls)
    if early:
        for opening in _between_courses(job):
            yield from (_first_patch(each) for each in _sill_patches(job, opening))
            yield from _foot_seals(job, opening)
        yield _early_wrap("wrap.upper", "upper course of wrap", job, _late_start(job), top)


def _above(job: ToDress) -> Iterator[Sheet]:
    """Yield the wrap that goes on after the units."""
    wall = job.wall
    if job.scheme.wrap is WrapWhen.BEFORE:
        yield from _flap_seals(job)
        yield from _flap_tapes(job)
    elif job.scheme.wrap is WrapWhen.AFTER:
        yield from _head_seals(job)
        yield _late_wrap("wrap.upper", "upper course of wrap", job, _late_start(job), wall.z[1])
        yield from _edge_tapes(job)
    elif job.scheme.wrap is WrapWhen.COURSES:
        low = min(each.z[1] for each in wall.openings) + 0.5
        yield _wrap("wrap.top", "top course of wrap", job, _holes(job), (low, wall.z[1]))


LIP = 0.25
"""How far above a ledger the wrap over its ledger sheet ends, inches."""


def _lower_top(job: ToDress) -> float:
    """Return the upper edge of the low course: well above a ledger, or just below the sills."""
    if job.wall.ledger is not None:
        return job.wall.ledger.z[1] + LIP + job.sizes.course_lap
    return min(each.z[0] for each in job.wall.openings) - 1.0


def _late_start(job: ToDress) -> float:
    """Return the lower edge of the course above it."""
    if job.wall.ledger is not None:
        return job.wall.ledger.z[1] + LIP
    return _lower_top(job) - job.sizes.course_lap


def _low_sills(job: ToDress) -> list[RoughOpening]:
    """Return the openings whose sills the low course reaches: it is folded in there."""
    return [each for each in job.wall.openings if each.z[0] < _lower_top(job)]


def _between_courses(job: ToDress) -> list[RoughOpening]:
    """Return the openings at whose sill corners both courses of an early wrap are slit, one over the other.

    What gets between the courses would find the slit of the lower one: first patches lie between them.
    """
    early = job.scheme.wrap in (WrapWhen.BEFORE, WrapWhen.COURSES)
    return _low_sills(job) if early and job.wall.ledger is not None else []


def _sill_patches(job: ToDress, opening: RoughOpening) -> list[Sheet]:
    found = [corner_patch(job.wall, opening, side, "sill", job.sizes, job.rolls) for side in SIDES]
    return [each for each in found if each]


def _first_patch(patch: Sheet) -> Sheet:
    return replace(patch, name=f"{patch.name}.first", words=f"first {patch.words}")


def _foot_seals(job: ToDress, opening: RoughOpening) -> Iterator[Sheet]:
    """Yield double-faced tapes that close the lap of the two courses beside a low opening."""
    t = job.sizes.tape
    for side in SIDES:
        up = (_late_start(job), max(opening.z[0] + t, _lower_top(job)))
        rect = cut_to_wall(job.wall, opening, (beside(opening, side, 0.0, t), up))
        if rect is not None:
            words = f"double-faced tape at the foot of the {side} jamb of {opening.name}"
            yield _double_faced(job, f"{opening.name}.foot.{side}", words, rect, opening)


def _tape(job: ToDress, name: str, words: str, rect: Rect, opening: RoughOpening | None = None) -> Sheet:
    """Return a tape over an edge."""
    panel = Panel(name="tape", facet=WALL, u=rect[0], v=rect[1], bonded=True)
    own = opening.name if opening else None
    roll = job.rolls.tape
    return Sheet(name=name, words=words, kind=Kind.TAPE, stock=roll, panels=(panel,), laid=0, opening=own)


def _double_faced(
    job: ToDress, name: str, words: str, rect: Rect, opening: RoughOpening | None = None
) -> Sheet:
    """Return a tape that holds what comes over it."""
    tape = _tape(job, name, words, rect, opening)
    return replace(tape, kind=Kind.BEAD, panels=(replace(tape.panels[0], bonds_above=True),))


def _lower_wrap(job: ToDress) -> Sheet:
    rects = field((job.wall.x, (job.wall.z[0], _lower_top(job))), _holes(job))
    panels, seams = sheet_of(WALL, "field", rects, bonded=False)
    fields = list(panels)
    for opening in _low_sills(job):
        _fold_in(opening, fields, panels, seams)
    return _wrap_sheet("wrap.lower", "lower course of wrap", job, panels, seams)


def _wrap_sheet(
    name: str,
    words: str,
    job: ToDress,
    panels: list[Panel],
    seams: list[Seam],
    *,
    kind: Kind = Kind.WRAP,
) -> Sheet:
    return Sheet(
        name=name,
        words=words,
        kind=kind,
        stock=job.rolls.wrap,
        panels=tuple(panels),
        seams=tuple(seams),
        laid=0,
    )


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
    return _wrap_sheet(name, words, job, panels, seams, kind=kind)


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


def _pan_stock(job: ToDress) -> Stock:
    return job.rolls.metal if job.scheme.pan is PanMake.FORMED else job.rolls.pan


def _edge_tapes(job: ToDress) -> Iterator[Sheet]:
    """Yield tapes that hold the edges of late wrap to the strips beside every unit, down to the drain."""
    t = job.sizes.tape
    for opening in job.wall.openings:
        for side in SIDES:
            x = opening.x[0] - t if side == "left" else opening.x[1] + t
            along = (_drain(job, opening), opening.z[1] + t / 4)
            rect = cut_to_wall(job.wall, opening, ((x - t, x + t), along))
            if rect is not None:
                words = f"tape at the {side} jamb of {opening.name}"
                yield _tape(job, f"{opening.name}.tape.{side}", words, rect, opening)


def _head_seals(job: ToDress) -> Iterator[Sheet]:
    """Yield double-faced tapes beside every head, which hold late wrap to what is under it."""
    t, height = job.sizes.tape, head_piece(job)[1]
    for opening in job.wall.openings:
        for side in SIDES:
            up = (opening.z[1] - 0.75 * t, opening.z[1] + height)
            rect = cut_to_wall(job.wall, opening, (beside(opening, side, t, 2 * t), up))
            if rect is not None:
                words = f"double-faced tape at the {side} end of the head of {opening.name}"
                yield _double_faced(job, f"{opening.name}.seal.{side}", words, rect, opening)


def _flap_seals(job: ToDress) -> Iterator[Sheet]:
    """Yield double-faced tapes at both ends of every flap, which hold it to the strip under it."""
    for number, (u, v) in enumerate(flaps(job), 1):
        over, own = _under_flap(job, u)
        for side, rim in zip(SIDES, _rims(u, job.sizes.tape), strict=True):
            words = f"double-faced tape under the {side} end of the head flap {over}"
            yield _double_faced(job, f"flap.{number}.seal.{side}", words, (rim, v), own)


def _under_flap(job: ToDress, u: Span) -> tuple[str, RoughOpening | None]:
    """Return which openings a head flap hangs over, in words, and the one if it is one."""
    under = sorted((each for each in job.wall.openings if _overlap(each.x, u)), key=lambda each: each.x)
    if len(under) == 1:
        return f"of {under[0].name}", under[0]
    return f"over {under[0].name} to {under[-1].name}", None


def _rims(span: Span, width: float) -> tuple[Span, Span]:
    return (span[0], span[0] + width), (span[1] - width, span[1])


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
        if found and found[-1][0][1] >= rect[0][0] and _overlap(found[-1][1], rect[1]):
            (start, _), (low, high) = found.pop()
            rect = ((start, rect[0][1]), (min(low, rect[1][0]), max(high, rect[1][1])))
        found.append(rect)
    return found


def _early_wrap(name: str, words: str, job: ToDress, low: float, high: float) -> Sheet:
    """Return wrap cut at the openings: sides and sill folded in, head flaps up until heads are dressed."""
    cuts = flaps(job) if job.scheme.wrap is WrapWhen.BEFORE else []
    under = [(each.x, (low, each.z[0])) for each in _between_courses(job)]
    rects = field((job.wall.x, (low, high)), [*_holes(job), *under, *cuts])
    panels, seams = sheet_of(WALL, "field", rects, bonded=False)
    fields = list(panels)
    for number, (u, v) in enumerate(cuts, 1):
        flap = Panel(name=f"flap {number}", facet=WALL, u=u, v=v, bonded=False)
        panels.append(flap)
        seams += [Seam(flap.name, each.name) for each in fields if _hangs_on(flap, each)]
    for opening in job.wall.openings:
        _fold_in(opening, fields, panels, seams)
    return _wrap_sheet(name, words, job, panels, seams)


def _hangs_on(flap: Panel, other: Panel) -> bool:
    """Tell whether a flap hangs on another part of the wrap: from above only, for its sides are cut."""
    return other.v[0] == flap.v[1] and _overlap(other.u, flap.u)


def _flap_tapes(job: ToDress) -> Iterator[Sheet]:
    """Yield the tapes over the cuts at both sides of every flap."""
    t = job.sizes.tape
    for number, (u, v) in enumerate(flaps(job), 1):
        over, own = _under_flap(job, u)
        for side, x in zip(SIDES, u, strict=True):
            if x not in job.wall.x:
                words = f"tape over the {side} cut of the head flap {over}"
                rect = ((x - t, x + t), (v[0] - t, v[1] + t))
                yield _tape(job, f"flap.{number}.tape.{side}", words, rect, own)


def _fold_in(opening: RoughOpening, fields: list[Panel], panels: list[Panel], seams: list[Seam]) -> None:
    """Fold wrap that ends at an opening into it, over the sill and the jambs.

    The sill's fold is cut as wide as the opening: those of the jambs begin above what it takes.
    """
    n, deep = opening.name, (0.0, opening.depth)
    below = [each for each in fields if each.v[1] == opening.z[0] and _overlap(each.u, opening.x)]
    if below:
        fold = Panel(name=f"{n} sill", facet=f"{n}.sill", u=opening.x, v=deep, bonded=False)
        panels.append(fold)
        seams += [Seam(fold.name, each.name) for each in below]
    foot = opening.z[0] + (opening.depth if below else 0.0)
    for side, x, end in (("left", opening.x[0], 1), ("right", opening.x[1], 0)):
        spans = [
            (each, (max(each.v[0], foot), min(each.v[1], opening.z[1])))
            for each in fields
            if each.u[end] == x
        ]
        folds = [
            (each, Panel(name=f"{n} {side} {number}", facet=f"{n}.{side}", u=deep, v=span, bonded=False))
            for number, (each, span) in enumerate(((e, v) for e, v in spans if v[1] - v[0] > LEAST), 1)
        ]
        panels += [fold for _, fold in folds]
        seams += [Seam(fold.name, each.name) for each, fold in folds]
        seams += [Seam(one.name, other.name) for (_, one), (_, other) in pairwise(folds)]


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
        found += _sill_patches(job, own)
    found.append(pan(job.wall, own, job.scheme.pan, job.sizes, job.rolls))
    if job.scheme.unit is UnitSet.STRIPS_UNDER:
        found += [
            jamb_strip(job.wall, own, side, own.z[0] + 1.0, job.sizes, job.rolls, fold_in=job.sizes.fold_in)
            for side in SIDES
        ]
    if job.scheme.unit is UnitSet.LINED:
        found += [lining(job.wall, own, side, job.sizes, job.rolls) for side in SIDES]
        found += [corner_patch(job.wall, own, side, "head", job.sizes, job.rolls) for side in SIDES]
        found.append(lining(job.wall, own, "head", job.sizes, job.rolls))
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
