"""Pads from a limited stock: which shims go where, so that what is on hand suffices."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass

from sillwright.job import Kit
from sillwright.program import Program
from sillwright.setting.choose import Chosen
from sillwright.setting.model import Piece
from sillwright.setting.rates import rates
from sillwright.setting.seat import RowSeats, Seat
from sillwright.setting.stock import Move, Stock

SHORT = 1e3
"""Minutes for a shim that is not on hand: the stock is kept to wherever it can be."""
MOST_OF_ONE = 8
"""Shims of one kind laid one way in a pad."""
NODES = 2000

ShimKey = tuple[float, float | None]


@dataclass(frozen=True, slots=True, kw_only=True)
class Laid:
    """One pad as it will be built, or no pad."""

    front: int
    """Steps of the stock at the outer edge."""
    back: int
    pieces: tuple[Piece, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Lot:
    """The pads of some rows on their lines, and what they take from the stock."""

    pads: dict[str, tuple[Laid, ...]]
    """By opening, one for each bearing point."""
    used: Counter[ShimKey]
    short: int
    """Shims that are not on hand."""


def on_hand(kit: Kit) -> dict[ShimKey, int]:
    """Return the counts of those shims whose number is limited."""
    return {(s.thickness, s.thin): s.count for s in kit.shims if s.count is not None}


def lay(
    stock: Stock, rows: tuple[RowSeats, ...], way: Chosen, left: Mapping[ShimKey, int], *, tolerance: float
) -> Lot:
    """Return the pads of rows on the lines chosen: fewest minutes, or what the limited stock allows.

    `left` are the shims still on hand of each limited kind; a pad may miss the line by `tolerance` [in].
    """
    seats = [seat for row in rows for seat in row.seats]
    pads = {seat.name: _freely(stock, seat, way.line_index[seat.name]) for seat in seats}
    free = _lot(pads, left)
    if not free.short:
        return free
    return _from_limited(stock, seats, way, left, tolerance) or free


def _freely(stock: Stock, seat: Seat, k: int) -> tuple[Laid, ...]:
    found = seat.costs.padding
    steps = zip(found.front[k].tolist(), found.back[k].tolist(), strict=True)
    return tuple(Laid(front=f, back=b, pieces=stock.make_up(f, b)) for f, b in steps)


def _lot(pads: dict[str, tuple[Laid, ...]], left: Mapping[ShimKey, int]) -> Lot:
    used: Counter[ShimKey] = Counter()
    for laid in pads.values():
        for pad in laid:
            for piece in pad.pieces:
                used[piece.thickness, piece.thin] += piece.count
    return Lot(pads=pads, used=used, short=sum(max(used[key] - count, 0) for key, count in left.items()))


@dataclass(frozen=True, slots=True)
class _Gap:
    """One bearing point: steps wanted at front and back, as a number that need not be whole; None: no pad."""

    opening: str
    front: float | None
    back: float | None
    flat: bool
    """The inner edge was not shot: front and back are alike."""


def _from_limited(
    stock: Stock, seats: list[Seat], way: Chosen, left: Mapping[ShimKey, int], tolerance: float
) -> Lot | None:
    """Choose make-ups for all pads at once by a small MILP; None where the solver found none."""
    program = Program()
    gaps = [gap for seat in seats for gap in _gaps(stock, seat, way.line_index[seat.name])]
    allowed = max(tolerance / stock.step, 0.5) + 1e-6
    laid: list[list[tuple[int, Move]]] = []
    takes: dict[int, list[tuple[int, float]]] = {}
    for gap in gaps:
        columns = [
            (program.variable(cost=rates()["piece"], high=MOST_OF_ONE, whole=True), move)
            for move in stock.moves
            if (gap.front is not None or not move.front) and (gap.back is not None or not move.back)
        ]
        laid.append(columns)
        for column, move in columns:
            takes.setdefault(move.shim, []).append((column, 1.0))
        _within(program, stock, gap, columns, allowed)
    for shim, terms in takes.items():
        if stock.shims[shim] in left:
            short = program.variable(cost=SHORT)
            program.row([*terms, (short, -1.0)], high=float(left[stock.shims[shim]]))
    answer = program.solve(nodes=NODES)
    if answer is None:
        return None
    pads: dict[str, tuple[Laid, ...]] = {}
    for gap, columns in zip(gaps, laid, strict=True):
        moves = {move: round(float(answer.x[column])) for column, move in columns if answer.x[column] > 0.5}
        front, back = (sum(getattr(m, edge) * n for m, n in moves.items()) for edge in ("front", "back"))
        pad = Laid(front=front, back=back, pieces=stock.pieces_of(moves))
        pads[gap.opening] = (*pads.get(gap.opening, ()), pad)
    return _lot(pads, left)


def _gaps(stock: Stock, seat: Seat, k: int) -> list[_Gap]:
    found, b = seat.costs.padding, seat.bearings
    line, flat = float(seat.costs.lines[k]), b.back is None
    back = b.front if b.back is None else b.back
    return [
        _Gap(
            seat.name,
            (line - float(b.front[i])) / stock.step if found.front[k, i] else None,
            (line - float(back[i])) / stock.step if found.back[k, i] else None,
            flat,
        )
        for i in range(len(b.x))
    ]


def _within(
    program: Program, stock: Stock, gap: _Gap, columns: list[tuple[int, Move]], allowed: float
) -> None:
    """Keep a pad within the tolerance at both edges, and count what it misses the line by."""
    miss = rates()["miss"] * stock.step
    for edge, wanted in (("front", gap.front), ("back", gap.back)):
        terms = [(column, float(getattr(move, edge))) for column, move in columns if getattr(move, edge)]
        if wanted is not None:
            program.row(terms, low=max(wanted - allowed, 1.0), high=max(wanted + allowed, 1.0))
            program.spread(terms, cost=miss, constant=-wanted)
    if gap.flat:
        tilt = [
            (column, float(move.front - move.back)) for column, move in columns if move.front != move.back
        ]
        program.row(tilt, low=0.0, high=0.0)
