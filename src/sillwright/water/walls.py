"""The facets of a wall: its face, the returns of every opening, the back dams, and the ledger."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from sillwright.errors import BadInput, Fault
from sillwright.water.model import Complex, Corner, Edge, Face, Facet, Glue, Mount, Point, Span, Warp, Zone

WALL = "wall"
LEDGER = "ledger"
Flat = tuple[float, float]
NEAR = 12.0
"""How far round an opening the wall is called after it, inches."""
END = 6.0
"""Length of the ends of a sill, and of the foot of a jamb, inches."""


@dataclass(frozen=True, slots=True, kw_only=True)
class RoughOpening:
    """A hole in the wall for a unit."""

    name: str
    corners: tuple[Flat, Flat, Flat, Flat]
    """x and z of the sill's left and right ends and the head's right and left ends, inches."""
    depth: float
    """From the face of the sheathing to the room, inches."""
    sill_rise: float = 0.0
    """Of the sill toward the room, inches in one inch; less than 0: it falls to the room."""
    dam: float = 0.0
    """Height of the back dam or of the lip of the pan, inches; 0: none."""
    front: float = 0.0
    """How far the unit stands back from the face of the sheathing, inches."""

    @property
    def x(self) -> Span:
        """Return the sides of the true rectangle that stands for the opening."""
        (a, _), (b, _), (c, _), (d, _) = self.corners
        return (a + d) / 2, (b + c) / 2

    @property
    def z(self) -> Span:
        """Return the sill and head of that rectangle."""
        (_, a), (_, b), (_, c), (_, d) = self.corners
        return (a + b) / 2, (c + d) / 2


@dataclass(frozen=True, slots=True, kw_only=True)
class LedgerBoard:
    """A ledger on the wall."""

    x: Span
    z: Span
    thickness: float


@dataclass(frozen=True, slots=True, kw_only=True)
class WallFace:
    """A wall as seen by water."""

    x: Span
    z: Span
    openings: tuple[RoughOpening, ...]
    ledger: LedgerBoard | None = None


def wall_complex(wall: WallFace) -> Complex:
    """Return the facets of a wall, joined edge to edge.

    Raises:
        BadInput: openings overlap or lie outside the wall, or a ledger does, or an opening has no size
    """
    _check(wall)
    openings = sorted(wall.openings, key=lambda each: each.x)
    holes = tuple((each.x, each.z) for each in openings)
    (x0, x1), (z0, z1) = wall.x, wall.z
    face = Facet(
        name=WALL,
        words="wall",
        axes=("x", "z"),
        u=wall.x,
        v=wall.z,
        face=Face.UPRIGHT,
        corners=((x0, 0.0, z0), (x1, 0.0, z0), (x1, 0.0, z1), (x0, 0.0, z1)),
        dry=True,
        rain=(wall.x, wall.z),
        holes=holes,
        zones=tuple(_wall_zones(wall, openings)),
        warp=_warp(wall, openings) if openings else None,
    )
    facets, glues, room, corners = [face], [], [], []
    for opening in openings:
        returns = _returns(opening)
        facets += returns
        glues += list(_opening_glues(opening))
        room += list(_room_edges(opening))
        corners += list(_opening_corners(opening, face, {each.name: each for each in returns}))
    mounts: tuple[Mount, ...] = ()
    if wall.ledger is not None:
        faces = _ledger_faces(wall.ledger, face)
        facets += faces
        glues += list(_ledger_glues(wall.ledger))
        corners += list(_ledger_corners(wall.ledger, face))
        names = tuple(each.name for each in faces)
        mounts = (
            Mount(name=LEDGER, words=LEDGER, facet=WALL, u=wall.ledger.x, v=wall.ledger.z, faces=names),
        )
    return Complex(
        facets=tuple(facets), glues=tuple(glues), mounts=mounts, corners=tuple(corners), room=tuple(room)
    )


def _check(wall: WallFace) -> None:
    for each in wall.openings:
        where = f"opening {each.name}"
        if each.x[1] - each.x[0] <= 0 or each.z[1] - each.z[0] <= 0 or each.depth <= 0:
            raise BadInput(
                Fault(where, "it has no size.", "Give a width, a height and a depth greater than 0.")
            )
        inside = wall.x[0] < each.x[0] and each.x[1] < wall.x[1]
        if not (inside and wall.z[0] < each.z[0] and each.z[1] < wall.z[1]):
            what = "it reaches past the end of the wall, so nothing can lap there."
            raise BadInput(Fault(where, what, "Measure the wall's ends again, or have the corner detailed."))
    for one, other in pairwise(sorted(wall.openings, key=lambda each: each.x)):
        if one.x[1] >= other.x[0]:
            what = f"it overlaps opening {other.name}."
            raise BadInput(Fault(f"opening {one.name}", what, "Check where both openings are on the wall."))
    _check_ledger(wall)


def _check_ledger(wall: WallFace) -> None:
    board = wall.ledger
    if board is None:
        return
    if board.x[0] <= wall.x[0] or board.x[1] >= wall.x[1]:
        what = "the ledger reaches past the end of the wall."
        raise BadInput(Fault("ledger", what, "Check where it starts and how long it is."))
    if board.thickness <= 0 or board.z[1] <= board.z[0]:
        raise BadInput(Fault("ledger", "it has no size.", "Give a depth and a thickness greater than 0."))
    for each in wall.openings:
        if each.z[0] <= board.z[1] and each.x[0] < board.x[1] and board.x[0] < each.x[1]:
            what = f"the ledger's top is not below the sill of opening {each.name}."
            raise BadInput(Fault("ledger", what, "Lower the ledger, or measure the sill again."))


def _wall_zones(wall: WallFace, openings: list[RoughOpening]) -> Iterator[Zone]:
    """Yield the parts of the wall round every opening, then the part behind the ledger."""
    yield Zone(name=WALL, words="sheathing away from the openings", u=wall.x, v=wall.z)
    for number, each in enumerate(openings):
        before = (openings[number - 1].x[1] + each.x[0]) / 2 if number else wall.x[0]
        after = (each.x[1] + openings[number + 1].x[0]) / 2 if number + 1 < len(openings) else wall.x[1]
        (x0, x1), (z0, z1) = each.x, each.z
        across = (
            ("left", (max(x0 - NEAR, before), x0)),
            ("", each.x),
            ("right", (x1, min(x1 + NEAR, after))),
        )
        up = (
            ("under", (max(z0 - NEAR, wall.z[0]), z0)),
            ("", each.z),
            ("over", (z1, min(z1 + NEAR, wall.z[1]))),
        )
        for side, u in across:
            for part, v in up:
                if side or part:
                    name = ".".join(word for word in (each.name, "wall", part, side) if word)
                    yield Zone(name=name, words=_wall_words(each.name, part, side), u=u, v=v)
    if wall.ledger is not None:
        yield Zone(name=f"{LEDGER}.behind", words="wall behind the ledger", u=wall.ledger.x, v=wall.ledger.z)


_BESIDE = {"under": "below", "over": "above"}


def _wall_words(name: str, part: str, side: str) -> str:
    if part and side:
        corner = "sill" if part == "under" else "head"
        return f"sheathing at the {side} {corner} corner of {name}"
    return f"sheathing {_BESIDE[part]} {name}" if part else f"sheathing to the {side} of {name}"


def _warp(wall: WallFace, openings: list[RoughOpening]) -> Warp:
    """Return the shifts that bring every opening's true rectangle onto its own four corners."""
    xs = sorted({wall.x[0], wall.x[1], *(x for each in openings for x in each.x)})
    zs = sorted({wall.z[0], wall.z[1], *(z for each in openings for z in each.z), *_ledger_lines(wall)})
    shifts = [[_shift(wall, openings, x, z) for z in zs] for x in xs]
    du = tuple(tuple(each[0] for each in row) for row in shifts)
    dv = tuple(tuple(each[1] for each in row) for row in shifts)
    return Warp(tuple(xs), tuple(zs), du, dv)


def _ledger_lines(wall: WallFace) -> tuple[float, ...]:
    return (wall.ledger.z[1],) if wall.ledger else ()


def _shift(wall: WallFace, openings: list[RoughOpening], x: float, z: float) -> Flat:
    if x in wall.x or z in wall.z:
        return 0.0, 0.0
    near = min(openings, key=lambda each: max(each.x[0] - x, x - each.x[1], 0.0))
    a, b, c, d = near.corners
    s = 0.0 if x <= near.x[0] else 1.0
    t = min(max((z - near.z[0]) / (near.z[1] - near.z[0]), 0.0), 1.0)
    left, right = (1 - t) * a[0] + t * d[0] - near.x[0], (1 - t) * b[0] + t * c[0] - near.x[1]
    low, high = (1 - s) * a[1] + s * b[1] - near.z[0], (1 - s) * d[1] + s * c[1] - near.z[1]
    dx, dz = (1 - s) * left + s * right, (1 - t) * low + t * high
    if wall.ledger is not None and z < near.z[0]:
        top = wall.ledger.z[1]
        fade = min(max((z - top) / (near.z[0] - top), 0.0), 1.0)
        return fade * dx, fade * dz
    return dx, dz


def _returns(opening: RoughOpening) -> list[Facet]:
    """Return the sill, the jambs, the head and the back dam of an opening."""
    name, depth, x, z = opening.name, opening.depth, opening.x, opening.z
    outer = [(px, 0.0, pz) for px, pz in opening.corners]
    inner = _inner(opening)
    axis = f"depth of {name}"
    side: Span = (0.0, depth)
    wet: Span | None = (0.0, opening.front) if opening.front > 0 else None

    def facet(
        part: str,
        words: str,
        axes: tuple[str, str],
        spans: tuple[Span, Span],
        face: Face,
        corners: tuple[Point, Point, Point, Point],
    ) -> Facet:
        deep_first = axes[0] == axis
        rain = ((wet, spans[1]) if deep_first else (spans[0], wet)) if wet else None
        return Facet(
            name=f"{name}.{part}",
            zones=tuple(_end_zones(f"{name}.{part}", f"{words} of {name}", spans)),
            words=f"{words} of {name}",
            axes=axes,
            u=spans[0],
            v=spans[1],
            face=face,
            corners=corners,
            dry=True,
            rain=rain,
        )

    o, i = outer, inner
    jamb, sill = (axis, "z"), ("x", axis)
    returns = [
        facet("sill", "rough sill", sill, (x, side), Face.LYING, (o[0], o[1], i[1], i[0])),
        facet("left", "left jack", jamb, (side, z), Face.UPRIGHT, (o[0], i[0], i[3], o[3])),
        facet("right", "right jack", jamb, (side, z), Face.UPRIGHT, (o[1], i[1], i[2], o[2])),
        facet("head", "header", sill, (x, side), Face.UNDERSIDE, (o[3], o[2], i[2], i[3])),
    ]
    if opening.dam > 0:
        top = z[0] + opening.dam
        left, right = (_point(each.place(depth, top)) for each in returns[1:3])
        returns.append(
            Facet(
                name=f"{name}.dam",
                words=f"back dam of {name}",
                axes=("x", "z"),
                u=x,
                v=(z[0], top),
                face=Face.UPRIGHT,
                corners=(inner[0], inner[1], right, left),
                dry=True,
                rain=None,
            )
        )
    return returns


def _end_zones(name: str, words: str, spans: tuple[Span, Span]) -> Iterator[Zone]:
    """Yield the ends of a sill, and the foot of a jamb."""
    (u0, u1), (v0, v1) = spans
    part = name.rsplit(".", 1)[-1]
    if part == "sill":
        end = min(END, (u1 - u0) / 3)
        yield Zone(name=f"{name}.left", words=f"left end of the {words}", u=(u0, u0 + end), v=spans[1])
        yield Zone(name=f"{name}.right", words=f"right end of the {words}", u=(u1 - end, u1), v=spans[1])
    elif part in ("left", "right"):
        yield Zone(name=f"{name}.foot", words=f"foot of the {words}", u=spans[0], v=(v0, min(v0 + END, v1)))


def _inner(opening: RoughOpening) -> list[Point]:
    """Return the corners on the room side: where the planes of sill and jambs meet, at full depth."""
    a, b, c, d = (np.array([x, 0.0, z]) for x, z in opening.corners)
    inward = np.array([0.0, opening.depth, 0.0])
    rise = opening.depth * opening.sill_rise
    feet = []
    for foot, top in ((a, d), (b, c)):
        sill, jamb = b - a, top - foot
        up = rise / (jamb[2] - jamb[0] * sill[2] / sill[0])
        feet.append(foot + inward + up * jamb)
    return [_point(each) for each in (*feet, c + inward, d + inward)]


def _point(values: np.ndarray) -> Point:
    x, y, z = values.tolist()
    return x, y, z


def _opening_glues(opening: RoughOpening) -> Iterator[Glue]:
    n, d = opening.name, opening.depth
    (x0, x1), (z0, z1) = opening.x, opening.z

    def glue(one: Edge, side_one: int, other: Edge, side_other: int) -> Glue:
        return Glue(one=one, other=other, side_one=side_one, side_other=side_other)

    yield glue(Edge(WALL, "v", z0, opening.x), -1, Edge(f"{n}.sill", "v", 0.0, opening.x), 1)
    yield glue(Edge(WALL, "v", z1, opening.x), 1, Edge(f"{n}.head", "v", 0.0, opening.x), 1)
    for side, x, out in (("left", x0, -1), ("right", x1, 1)):
        yield glue(Edge(WALL, "u", x, opening.z), out, Edge(f"{n}.{side}", "u", 0.0, opening.z), 1)
        yield glue(Edge(f"{n}.sill", "u", x, (0.0, d)), -out, Edge(f"{n}.{side}", "v", z0, (0.0, d)), 1)
        yield glue(Edge(f"{n}.head", "u", x, (0.0, d)), -out, Edge(f"{n}.{side}", "v", z1, (0.0, d)), -1)
        if opening.dam > 0:
            up = (z0, z0 + opening.dam)
            yield glue(Edge(f"{n}.dam", "u", x, up), -out, Edge(f"{n}.{side}", "u", d, up), -1)
    if opening.dam > 0:
        yield glue(Edge(f"{n}.sill", "v", d, opening.x), -1, Edge(f"{n}.dam", "v", z0, opening.x), 1)


def _room_edges(opening: RoughOpening) -> Iterator[Edge]:
    n, d, foot = opening.name, opening.depth, opening.z[0] + opening.dam
    yield Edge(f"{n}.dam", "v", foot, opening.x) if opening.dam > 0 else Edge(f"{n}.sill", "v", d, opening.x)
    yield Edge(f"{n}.head", "v", d, opening.x)
    for side in ("left", "right"):
        yield Edge(f"{n}.{side}", "u", d, (foot, opening.z[1]))


def _opening_corners(opening: RoughOpening, wall: Facet, returns: dict[str, Facet]) -> Iterator[Corner]:
    n, d = opening.name, opening.depth
    for side, x in zip(("left", "right"), opening.x, strict=True):
        for part, z in zip(("sill", "head"), opening.z, strict=True):
            at = ((WALL, x, z), (f"{n}.{part}", x, 0.0), (f"{n}.{side}", 0.0, z))
            words = f"{side} {part} corner of {n}"
            yield _corner(f"{n}.{part}.{side}", words, at, {**returns, WALL: wall})
        if opening.dam > 0:
            z = opening.z[0]
            at = ((f"{n}.sill", x, d), (f"{n}.dam", x, z), (f"{n}.{side}", d, z))
            yield _corner(f"{n}.back.{side}", f"{side} back corner of the sill of {n}", at, returns)


def _corner(
    name: str, words: str, at: tuple[tuple[str, float, float], ...], facets: dict[str, Facet]
) -> Corner:
    point = _point(facets[at[0][0]].place(at[0][1], at[0][2]))
    angle = math.fsum(_angle(facets[facet], u, v) for facet, u, v in at)
    return Corner(name=name, words=words, point=point, at=at, angle_deg=angle)


def _angle(facet: Facet, u: float, v: float) -> float:
    """Return the angle of a facet at one of its corners, or round the corner of one of its holes; degrees."""
    spans = next((hole for hole in facet.holes if u in hole[0] and v in hole[1]), (facet.u, facet.v))
    far = tuple(span[1] if at == span[0] else span[0] for at, span in zip((u, v), spans, strict=True))
    here = facet.place(u, v)
    a, b = facet.place(far[0], v) - here, facet.place(u, far[1]) - here
    angle = math.degrees(math.atan2(float(np.linalg.norm(np.cross(a, b))), float(a @ b)))
    return angle if spans == (facet.u, facet.v) else 360.0 - angle


def _ledger_faces(board: LedgerBoard, wall: Facet) -> list[Facet]:
    (x0, x1), (z0, z1), out = board.x, board.z, (0.0, board.thickness)

    def at(x: float, y: float, z: float) -> Point:
        px, _, pz = wall.place(x, z).tolist()
        return px, -y, pz

    t = board.thickness
    top = (at(x0, 0, z1), at(x1, 0, z1), at(x1, t, z1), at(x0, t, z1))
    under = (at(x0, 0, z0), at(x1, 0, z0), at(x1, t, z0), at(x0, t, z0))
    face = (under[3], under[2], top[2], top[3])
    ends = ((under[0], under[3], top[3], top[0]), (under[1], under[2], top[2], top[1]))

    def facet(
        name: str,
        words: str,
        axes: tuple[str, str],
        spans: tuple[Span, Span],
        face: Face,
        corners: tuple[Point, Point, Point, Point],
        *,
        dry: bool = False,
    ) -> Facet:
        return Facet(
            name=f"{LEDGER}.{name}",
            words=words,
            axes=axes,
            u=spans[0],
            v=spans[1],
            face=face,
            corners=corners,
            dry=dry,
            rain=spans,
        )

    return [
        facet("top", "top of the ledger", ("x", "out"), (board.x, out), Face.LYING, top, dry=True),
        facet("face", "face of the ledger", ("x", "z"), (board.x, board.z), Face.UPRIGHT, face),
        facet("under", "underside of the ledger", ("x", "out"), (board.x, out), Face.UNDERSIDE, under),
        facet("left", "left end of the ledger", ("out", "z"), (out, board.z), Face.UPRIGHT, ends[0]),
        facet("right", "right end of the ledger", ("out", "z"), (out, board.z), Face.UPRIGHT, ends[1]),
    ]


def _ledger_glues(board: LedgerBoard) -> Iterator[Glue]:
    (x0, x1), (z0, z1), t = board.x, board.z, board.thickness
    out = (0.0, t)

    def glue(one: Edge, side_one: int, part: str, across: str, at: float, span: Span, side: int) -> Glue:
        other = Edge(f"{LEDGER}.{part}", across, at, span)
        return Glue(one=one, other=other, side_one=side_one, side_other=side)

    yield glue(Edge(WALL, "v", z1, board.x), 1, "top", "v", 0.0, board.x, 1)
    yield glue(Edge(WALL, "v", z0, board.x), -1, "under", "v", 0.0, board.x, 1)
    yield glue(Edge(WALL, "u", x0, board.z), -1, "left", "u", 0.0, board.z, 1)
    yield glue(Edge(WALL, "u", x1, board.z), 1, "right", "u", 0.0, board.z, 1)
    yield glue(Edge(f"{LEDGER}.top", "v", t, board.x), -1, "face", "v", z1, board.x, -1)
    yield glue(Edge(f"{LEDGER}.under", "v", t, board.x), -1, "face", "v", z0, board.x, 1)
    for end, x, side in (("left", x0, 1), ("right", x1, -1)):
        yield glue(Edge(f"{LEDGER}.top", "u", x, out), side, end, "v", z1, out, -1)
        yield glue(Edge(f"{LEDGER}.under", "u", x, out), side, end, "v", z0, out, 1)
        yield glue(Edge(f"{LEDGER}.face", "u", x, board.z), side, end, "u", t, board.z, -1)


def _ledger_corners(board: LedgerBoard, wall: Facet) -> Iterator[Corner]:
    faces = {each.name: each for each in _ledger_faces(board, wall)} | {WALL: wall}
    hole = (board.x, board.z)
    round_board = {**faces, WALL: _with_hole(wall, hole)}
    t = board.thickness
    for side, x in zip(("left", "right"), board.x, strict=True):
        for part, z, words in (("top", board.z[1], "upper"), ("under", board.z[0], "lower")):
            at = ((WALL, x, z), (f"{LEDGER}.{part}", x, 0.0), (f"{LEDGER}.{side}", 0.0, z))
            yield _corner(f"{LEDGER}.{part}.{side}", f"{words} {side} corner of the ledger", at, round_board)
            at = ((f"{LEDGER}.{part}", x, t), (f"{LEDGER}.face", x, z), (f"{LEDGER}.{side}", t, z))
            name = f"{LEDGER}.{part}.{side}.out"
            yield _corner(name, f"{words} {side} outer corner of the ledger", at, round_board)


def _with_hole(wall: Facet, hole: tuple[Span, Span]) -> Facet:
    return Facet(
        name=wall.name,
        words=wall.words,
        axes=wall.axes,
        u=wall.u,
        v=wall.v,
        face=wall.face,
        corners=wall.corners,
        dry=wall.dry,
        rain=wall.rain,
        holes=(hole,),
        warp=wall.warp,
    )
