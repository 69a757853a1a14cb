"""The outline of several rectangles as one area: loops, and the same filled without a seam."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

Flat = tuple[float, float]
Rect = tuple[tuple[float, float], tuple[float, float]]
Loop = list[Flat]
_SAME = 1e-6


def loops(rects: Sequence[Rect]) -> list[Loop]:
    """Return the borders of the area that rectangles cover: outer ones anticlockwise, holes clockwise.

    Corners only: two pieces that meet along a line leave no point there.
    """
    us, vs = _lines(rects, 0), _lines(rects, 1)
    inside = {
        (i, j)
        for u, v in rects
        for i in range(_at(us, u[0]), _at(us, u[1]))
        for j in range(_at(vs, v[0]), _at(vs, v[1]))
    }
    ahead: dict[tuple[int, int], list[tuple[int, int]]] = {}
    for i, j in sorted(inside):
        for start, end, beyond in (
            ((i, j), (i + 1, j), (i, j - 1)),
            ((i + 1, j), (i + 1, j + 1), (i + 1, j)),
            ((i + 1, j + 1), (i, j + 1), (i, j + 1)),
            ((i, j + 1), (i, j), (i - 1, j)),
        ):
            if beyond not in inside:
                ahead.setdefault(start, []).append(end)
    found = []
    while ahead:
        found.append([(us[i], vs[j]) for i, j in _straight(_walk(ahead))])
    return found


def _lines(rects: Iterable[Rect], axis: int) -> list[float]:
    lines: list[float] = []
    for value in sorted(end for rect in rects for end in rect[axis]):
        if not lines or value - lines[-1] > _SAME:
            lines.append(value)
    return lines


def _at(lines: list[float], value: float) -> int:
    return min(range(len(lines)), key=lambda place: abs(lines[place] - value))


def _walk(ahead: dict[tuple[int, int], list[tuple[int, int]]]) -> list[tuple[int, int]]:
    """Follow one border, turning left where two touch in a point, so that they stay apart."""
    start = min(ahead)
    path, heading = [start], (0, 0)
    while True:
        here = path[-1]
        ways = ahead[here]
        step = max(ways, key=lambda end: _left_turn(heading, (end[0] - here[0], end[1] - here[1])))
        ways.remove(step)
        if not ways:
            del ahead[here]
        if step == start:
            return path
        heading = (step[0] - here[0], step[1] - here[1])
        path.append(step)


def _left_turn(heading: tuple[int, int], step: tuple[int, int]) -> int:
    return heading[0] * step[1] - heading[1] * step[0]


def _straight(path: list[tuple[int, int]]) -> list[tuple[int, int]]:
    """Drop the points that lie on a straight run."""
    around = zip([path[-1], *path[:-1]], path, [*path[1:], path[0]], strict=True)
    return [b for a, b, c in around if (b[0] - a[0]) * (c[1] - b[1]) != (b[1] - a[1]) * (c[0] - b[0])]


def solid(borders: Sequence[Loop]) -> list[Loop]:
    """Return the same area as outlines without holes: a cut joins each hole to the border left of it."""
    outer = [list(loop) for loop in borders if _turning(loop) > 0]
    holes = sorted((loop for loop in borders if _turning(loop) < 0), key=min)
    for hole in holes:
        first = hole.index(min(hole))
        _cut_in(outer, [*hole[first:], *hole[: first + 1]])
    return outer


def _turning(loop: Loop) -> float:
    return sum(a[0] * b[1] - a[1] * b[0] for a, b in zip(loop, [*loop[1:], loop[0]], strict=True))


def _cut_in(outer: list[Loop], hole: Loop) -> None:
    u, v = hole[0]
    best: tuple[float, int, int] | None = None
    for number, loop in enumerate(outer):
        for place, (a, b) in enumerate(zip(loop, [*loop[1:], loop[0]], strict=True)):
            spans = a[0] == b[0] and min(a[1], b[1]) <= v <= max(a[1], b[1])
            if spans and a[0] < u and (best is None or a[0] > best[0]):
                best = a[0], number, place
    if best is None:
        raise AssertionError("a hole lies inside no border")
    at, number, place = best
    outer[number][place + 1 : place + 1] = [(at, v), *hole, (at, v)]


def with_lines(
    loop: Sequence[Flat], us: Sequence[float], vs: Sequence[float], *, closed: bool = True
) -> Loop:
    """Return a border of straight runs with a point wherever it crosses a line at u or v."""
    found: Loop = []
    ends = [*loop[1:], loop[0]] if closed else [*loop[1:]]
    for a, b in zip(loop, ends, strict=False):
        axis = 0 if a[1] == b[1] else 1
        lines = us if axis == 0 else vs
        low, high = sorted((a[axis], b[axis]))
        cuts = sorted((at for at in lines if low < at < high), reverse=a[axis] > b[axis])
        found += [a, *((at, a[1]) if axis == 0 else (a[0], at) for at in cuts)]
    return found if closed else [*found, loop[-1]]
