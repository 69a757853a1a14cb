"""What can be built from the shims on hand: fewest pieces for every pair of front and back thickness.

A flat shim goes through the full depth of the sill, or under the front or back half only; a tapered one
lies with its thick edge to the front or to the back. All thicknesses are multiples of one step.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache
from math import gcd
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from sillwright.errors import OutOfRange
from sillwright.job import Kit
from sillwright.lengths import Unit, from_unit, show, to_unit
from sillwright.setting.model import Piece

FINEST = {"in": 1 / 64, "mm": 0.1}
"""Shims are told apart to this, in the job's unit."""
MOST_STEPS = 400
MOST_PIECES = 12
"""In one pad."""
UNREACHED = 99

Place = Literal["through", "front", "back", "thick edge front", "thick edge back"]
Ints = NDArray[np.int64]


@dataclass(frozen=True, slots=True)
class Move:
    """One shim laid in one way: how many steps it lifts the front and the back."""

    front: int
    back: int
    shim: int
    place: Place


@dataclass(frozen=True, slots=True, eq=False)
class Stock:
    """Fewest pieces for each pad, as a table over front and back steps."""

    step: float
    """Step of thickness [in]."""
    pieces: NDArray[np.int16]
    """Fewest pieces (front steps, back steps); UNREACHED where the stock cannot make it."""
    last: NDArray[np.int16]
    """The move laid last."""
    moves: tuple[Move, ...]
    shims: tuple[tuple[float, float | None], ...]

    @property
    def steps(self) -> int:
        """Return the thickest pad, in steps."""
        return int(self.pieces.shape[0]) - 1

    def count(self, front: Ints, back: Ints) -> Ints:
        """Return the fewest pieces for pads with these steps; UNREACHED where the stock cannot make one."""
        inside = (front >= 0) & (back >= 0) & (front <= self.steps) & (back <= self.steps)
        found = self.pieces[np.clip(front, 0, self.steps), np.clip(back, 0, self.steps)]
        return np.where(inside, found, UNREACHED).astype(np.int64)

    def make_up(self, front: int, back: int) -> tuple[Piece, ...]:
        """Return the shims of the pad with these steps, thickest first.

        Raises: OutOfRange: the stock cannot make it.
        """
        if self.pieces[front, back] >= UNREACHED:
            raise OutOfRange(f"the stock on hand cannot make a pad of {front} and {back} steps")
        laid: Counter[Move] = Counter()
        while front or back:
            move = self.moves[self.last[front, back]]
            laid[move] += 1
            front, back = front - move.front, back - move.back
        return self.pieces_of(laid)

    def pieces_of(self, laid: Mapping[Move, int]) -> tuple[Piece, ...]:
        """Return the moves of one pad as pieces: those through the sill's depth first, thick before thin."""
        ordered = sorted(laid, key=lambda m: (m.place != "through", m.place, -self.shims[m.shim][0]))
        return tuple(
            Piece(thickness=self.shims[m.shim][0], thin=self.shims[m.shim][1], count=laid[m], place=m.place)
            for m in ordered
        )


def stock_of(kit: Kit, unit: Unit) -> Stock:
    """Return what a kit's shims can build up to its largest pad."""
    shims = tuple((s.thickness, s.thin) for s in kit.shims if s.count != 0)
    return _stock(shims, kit.largest_pad, unit)


@lru_cache(maxsize=32)
def _stock(shims: tuple[tuple[float, float | None], ...], largest: float, unit: Unit) -> Stock:
    finest = from_unit(FINEST[unit], unit)
    sizes = [[round(t / finest) for t in (thick, thin or 0.0)] for thick, thin in shims]
    step_units = gcd(*(t for pair in sizes for t in pair)) if sizes else 1
    steps = int(largest / (step_units * finest) + 1e-9)
    if steps > MOST_STEPS:
        raise OutOfRange(
            "kit.shims: thicknesses so unlike each other that a pad of "
            f"{show(largest, unit=unit, mark=True)} has {steps} steps; round their thicknesses, "
            "or lower kit.largest_pad"
        )
    moves = []
    for shim, ((thick, thin), (_, given)) in enumerate(zip(sizes, shims, strict=True)):
        t, n = thick // step_units, thin // step_units
        if given is None:
            moves += [Move(t, t, shim, "through"), Move(t, 0, shim, "front"), Move(0, t, shim, "back")]
        else:
            moves += [Move(t, n, shim, "thick edge front"), Move(n, t, shim, "thick edge back")]
    pieces, last = _fewest(moves, steps)
    return Stock(step_units * finest, pieces, last, tuple(moves), shims)


def _fewest(moves: list[Move], steps: int) -> tuple[NDArray[np.int16], NDArray[np.int16]]:
    """Breadth-first over all pads: one more piece a round; earlier moves win ties."""
    pieces = np.full((steps + 1, steps + 1), UNREACHED, dtype=np.int16)
    last = np.full((steps + 1, steps + 1), -1, dtype=np.int16)
    pieces[0, 0] = 0
    order = sorted(
        range(len(moves)), key=lambda k: (moves[k].place != "through", -moves[k].front - moves[k].back)
    )
    for count in range(1, MOST_PIECES + 1):
        edge = pieces == count - 1
        grown = False
        for k in order:
            df, db = moves[k].front, moves[k].back
            if df > steps or db > steps:
                continue
            new = np.zeros_like(edge)
            new[df:, db:] = edge[: steps + 1 - df, : steps + 1 - db]
            new &= pieces > count
            pieces[new], last[new] = count, k
            grown |= bool(new.any())
        if not grown:
            break
    return pieces, last


def shim_size(thickness: float, unit: Unit) -> str:
    """Return a shim's thickness as it is called: whole millimetres without decimals."""
    whole = unit == "mm" and abs(thickness - from_unit(round(to_unit(thickness, unit)), unit)) < 1e-6
    return show(thickness, unit=unit, graduation=1.0 if whole else FINEST[unit])


def describe(pieces: tuple[Piece, ...], unit: Unit) -> str:
    """Return a make-up in words: `1/4 + 2 x 1/16 through, 1/32 more at the back`."""
    if not pieces:
        return "no pad"
    groups: dict[str, list[str]] = {}
    for piece in pieces:
        size = shim_size(piece.thickness, unit)
        if piece.thin is not None:
            size = f"taper {size} to {shim_size(piece.thin, unit)}"
        groups.setdefault(piece.place, []).append(size if piece.count == 1 else f"{piece.count} × {size}")
    said = {"through": "through", "front": "more at the front", "back": "more at the back"}
    if "through" not in groups:
        said |= {"front": "at the front only", "back": "at the back only"}
    return ", ".join(f"{' + '.join(sizes)} {said.get(place, place)}" for place, sizes in groups.items())
