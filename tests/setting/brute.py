"""The setting plan by brute force, in plain Python: every line, every step, every place, every make-up.

Written from docs/method.md, not from the program: it shares no code with it but the adjusted heights.
"""

from __future__ import annotations

import csv
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from itertools import combinations_with_replacement, product
from math import ceil, erf, floor, sqrt
from pathlib import Path
from typing import Any

import sillwright
from sillwright.job import Job
from sillwright.survey import Wall

MARK, PLACE = 1 / 32, 1 / 16


@dataclass(frozen=True)
class Makes:
    """Fewest pieces for each (front, back), in steps of the stock."""

    step: float
    pieces: dict[tuple[int, int], int]


@cache
def minutes() -> dict[str, float]:
    """Return the labour minutes of the program's own table."""
    text = (Path(sillwright.__file__).parent / "setting/data/minutes.csv").read_text()
    rows = csv.DictReader(line for line in text.splitlines() if not line.startswith("#"))
    return {row["name"]: float(row["minutes"]) for row in rows}


@cache
def make_ups(step: float, shims: tuple[tuple[int, int | None], ...], most: int) -> Makes:
    """Return the fewest pieces for each pad: every multiset of up to `most` pieces."""
    lays = []
    for thick, thin in shims:
        lays += [(thick, thick), (thick, 0), (0, thick)] if thin is None else [(thick, thin), (thin, thick)]
    found = {(0, 0): 0}
    for count in range(1, most + 1):
        for pick in combinations_with_replacement(lays, count):
            key = (sum(p[0] for p in pick), sum(p[1] for p in pick))
            found.setdefault(key, count)
    return Makes(step, found)


@dataclass(frozen=True)
class Seat:
    """One opening, as brute force sees it."""

    name: str
    x: list[float]
    front: list[float]
    back: list[float] | None
    along: list[float]
    along_front: list[float]
    along_back: list[float] | None
    heads: list[tuple[float, float]]
    """Line that just leaves the least clearance, and its standard deviation."""
    lefts: tuple[float, float] | None
    """Rightmost left jack, leftmost right jack."""
    width: float
    least: float


def seat_of(job: Job, wall: Wall, name: str) -> Seat:
    """Return an opening with everything worked out from the adjusted stations."""
    net: Any = wall.openings[name]
    unit = next(u for u in job.unit if u.opening == name)

    def at(profile: Any, place: float) -> float:
        s: list[float] = list(profile.stations)
        z = [wall.value(((k, 1.0),)) for k in profile.unknown]
        for k in range(1, len(s)):
            if place <= s[k] or k == len(s) - 1:
                return z[k - 1] + (z[k] - z[k - 1]) * (place - s[k - 1]) / (s[k] - s[k - 1])
        return z[0]

    lefts = None
    if net.left is not None:
        top = min(net.frame.height, unit.frame_height + 1.0)
        heights = [0.0, top, *(h for h in net.left.stations if h < top)]
        lefts = (max(at(net.left, h) for h in heights), min(at(net.right, h) for h in heights))
        plain = (
            max(at(net.left, h) for h in net.left.stations),
            min(at(net.right, h) for h in net.right.stations),
        )
        left = (plain[0] + plain[1] - unit.frame_width) / 2.0
    else:
        left = (net.sill.stations[0] + net.sill.stations[-1]) / 2.0 - unit.frame_width / 2.0
    inset, middle = job.kit.shim_width / 2.0, left + unit.frame_width / 2.0
    ends = (left + inset, left + unit.frame_width - inset)
    parts = max(1, ceil((ends[1] - ends[0]) / 16.0 - 1e-9))
    raw = [ends[0] + (ends[1] - ends[0]) * k / parts for k in range(parts + 1)]
    x = [(floor(p / 0.5 + 0.5) if p < middle else ceil(p / 0.5 - 0.5)) * 0.5 for p in raw]
    right = left + unit.frame_width
    along = sorted({*x, *(s for s in net.sill.stations if left < s < right)})
    used = job.kit.stack_above_line + unit.frame_height + unit.least_head_clearance
    heads = []
    if net.head is not None:
        for place in (left, *(s for s in net.head.stations if left < s < right), right):
            over = dict(net.head.at(place))
            for k, c in net.sill.at(place):
                over[k] = over.get(k, 0.0) - c
            heads.append((at(net.head, place) - used, wall.sd(tuple(over.items()))))
    inner = net.sill_inner
    return Seat(
        name,
        x,
        [at(net.sill, p) for p in x],
        None if inner is None else [at(inner, p) for p in x],
        along,
        [at(net.sill, p) for p in along],
        None if inner is None else [at(inner, p) for p in along],
        heads,
        lefts,
        unit.frame_width,
        unit.least_side_clearance,
    )


def cost(job: Job, seat: Seat, line: float, makes: Makes) -> float | None:
    """Return the minutes of one opening on a line, lift left out; None: it cannot be built."""
    minute, tol = minutes(), job.tolerances.pad
    total = 0.0
    backs = seat.front if seat.back is None else seat.back
    for f, b in zip(seat.front, backs, strict=True):
        best = _best_pad(line - f, line - b, makes, tol, flat=seat.back is None)
        if best is None:
            return None
        total += best
    for sill in (seat.along_front, seat.along_back):
        if sill is None:
            continue
        over = [z - line for z in sill]
        if max(over) > tol and max(over) > job.kit.planing_max + 1e-9:
            return None
        total += _planing(seat.along, over, tol)
    if seat.heads:
        if line > min(h for h, _ in seat.heads) + 1e-9:
            return None
        failing = [0.5 * (1.0 + erf((line - h) / sd / sqrt(2.0))) for h, sd in seat.heads]
        total += minute["misfit"] * max(failing)
        total += minute["unsure"] if min(sum(failing), 1.0) > 1.0 - job.tolerances.fit_probability else 0.0
    return total


def _best_pad(front: float, back: float, makes: Makes, tol: float, *, flat: bool) -> float | None:
    minute, allowed, best = minutes(), max(tol, makes.step / 2.0) + 1e-9, None
    near = [max(floor(gap / makes.step + 0.5), 0) for gap in (front, back)]
    for f, b in product(*(range(max(n - 3, 0), n + 4) for n in near)):
        pieces = makes.pieces.get((f, b))
        if pieces is None or (flat and f != b):
            continue
        total, ok = minute["piece"] * pieces + (minute["pad"] if f or b else 0.0), True
        for steps, gap, nearest, counted in ((f, front, near[0], True), (b, back, near[1], not flat)):
            # above the line by more than the tolerance it is planed to the line: no pad, nothing missed
            miss = 0.0 if gap < -tol - 1e-9 and steps == 0 else abs(steps * makes.step - gap)
            ok = ok and (steps > 0) == (nearest > 0) and miss <= allowed
            total += minute["miss"] * miss if counted else 0.0
        if ok and (best is None or total < best):
            best = total
    return best


def _planing(along: list[float], over: list[float], tol: float) -> float:
    minute, total = minutes(), 0.0
    for k, high in enumerate(over):
        if high <= tol + 1e-9:
            continue
        if k == 0 or over[k - 1] <= tol + 1e-9:
            total += minute["plane_run"]
        before = along[k] - along[k - 1] if k else 0.0
        after = along[k + 1] - along[k] if k + 1 < len(along) else 0.0
        total += minute["plane_inch"] * (before + after) / 2.0
    return total + minute["plane_depth"] * max((z for z in over if z > tol + 1e-9), default=0.0)


def planed(job: Job, seat: Seat, line: float) -> frozenset[tuple[str, int]]:
    """Return the edges planed on a line."""
    edges = [sill for sill in (seat.along_front, seat.along_back) if sill is not None]
    return frozenset((seat.name, e) for e, s in enumerate(edges) if max(s) - line > job.tolerances.pad + 1e-9)


Way = tuple[float, tuple[float, ...], tuple[frozenset[tuple[str, int]], bool]]
"""Minutes, lines and kind."""


def ways(job: Job, seats: list[Seat], makes: Makes, *, step: bool) -> list[Way]:
    """Return every way to set a row's lines, best first."""
    minute = minutes()
    every = [z for s in seats for z in (*s.along_front, *(s.along_back or ()))]
    lowest, highest = min(every) - job.kit.planing_max - 1.0, max(every) + job.kit.largest_pad
    lines = [k * MARK for k in range(ceil(lowest / MARK), floor(highest / MARK) + 1)]
    table = [{z: c for z in lines if (c := cost(job, s, z, makes)) is not None} for s in seats]
    if not all(table):
        return []
    own = [min(t) for t in table]
    found: list[Way] = []
    for pick in _picks(table, step=step):
        stepped = len(set(pick)) > 1
        total = sum(t[z] + minute["lift"] * (z - low) for t, z, low in zip(table, pick, own, strict=True))
        cuts = frozenset().union(*(planed(job, s, z) for s, z in zip(seats, pick, strict=True)))
        found.append((total + minute["step"] * stepped, pick, (cuts, stepped)))
    return sorted(found)


def _picks(table: list[dict[float, float]], *, step: bool) -> Iterator[tuple[float, ...]]:
    if step and len(table) > 1:
        yield from product(*table)
    else:
        yield from ((z,) * len(table) for z in table[0] if all(z in t for t in table))


def places(seats: list[Seat], *, tie: float) -> float:
    """Return the least minutes for where units stand along the wall: every combination of marks.

    Of places that cost the same the left one is taken: each mark from the wall mark costs `tie`.
    """
    minute = minutes()
    ranges = []
    for s in seats:
        assert s.lefts is not None
        low, high = s.lefts[0] + s.least, s.lefts[1] - s.least - s.width
        marks = [k * PLACE for k in range(ceil(low / PLACE - 1e-9), floor(high / PLACE + 1e-9) + 1)]
        ranges.append(marks)
    best = float("inf")
    for pick in product(*ranges):
        total = 0.0
        for s, p in zip(seats, pick, strict=True):
            assert s.lefts is not None
            total += minute["off_centre"] * abs(2.0 * p + s.width - s.lefts[0] - s.lefts[1])
            total += tie * round(p / PLACE)
        for a, b, c in zip(range(len(pick)), range(1, len(pick)), range(2, len(pick)), strict=False):
            first = pick[b] - pick[a] - seats[a].width
            second = pick[c] - pick[b] - seats[b].width
            total += minute["pier"] * abs(second - first)
        best = min(best, total)
    return best
