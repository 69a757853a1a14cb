"""Boxes as surfaces, inside or outside: what is known of them was known long before."""

from __future__ import annotations

from itertools import pairwise, product

from sillwright.water import (
    Complex,
    Corner,
    Edge,
    Face,
    Facet,
    Glue,
    Join,
    Kind,
    Panel,
    Seam,
    Sheet,
    Span,
    Stock,
)
from sillwright.water.model import Point

TAPE = Stock(name="invented roll", family="butyl tape", width=12.0, stretches=True)
AXES = "xyz"


def box(*size: float) -> Complex:
    """Return the six faces of a box; facet `x0` lies at x = 0."""
    facets, glues = [], []
    for across in range(3):
        one, other = (axis for axis in range(3) if axis != across)
        for end, at in enumerate((0.0, size[across])):
            facets.append(_facet(f"{AXES[across]}{end}", (one, other), size, at))
    for along in range(3):
        one, other = (axis for axis in range(3) if axis != along)
        glues += [_glue(along, (one, other), (i, j), size) for i, j in product((0, 1), repeat=2)]
    return Complex(facets=tuple(facets), glues=tuple(glues), corners=tuple(_corners(size)))


def _facet(name: str, axes: tuple[int, int], size: tuple[float, ...], at: float) -> Facet:
    one, other = axes
    lying = 2 not in axes

    def corner(u: float, v: float) -> Point:
        values = {one: u * size[one], other: v * size[other]}
        x, y, z = (values.get(axis, at) for axis in range(3))
        return x, y, z

    return Facet(
        name=name,
        words=f"face {name}",
        axes=(AXES[one], AXES[other]),
        u=(0.0, size[one]),
        v=(0.0, size[other]),
        face=Face.LYING if lying else Face.UPRIGHT,
        corners=(corner(0, 0), corner(1, 0), corner(1, 1), corner(0, 1)),
        dry=True,
        rain=None,
    )


def _glue(along: int, across: tuple[int, int], ends: tuple[int, int], size: tuple[float, ...]) -> Glue:
    edges = []
    for own, other, end_own, end_other in (
        (across[0], across[1], ends[0], ends[1]),
        (across[1], across[0], ends[1], ends[0]),
    ):
        at = end_other * size[other]
        edge = Edge(f"{AXES[own]}{end_own}", "u" if other < along else "v", at, (0.0, size[along]))
        edges.append((edge, -1 if end_other else 1))
    (one, side_one), (two, side_two) = edges
    return Glue(one=one, other=two, side_one=side_one, side_other=side_two)


def _corners(size: tuple[float, ...]) -> list[Corner]:
    found = []
    for i, j, k in product((0, 1), repeat=3):
        x, y, z = i * size[0], j * size[1], k * size[2]
        at = ((f"x{i}", y, z), (f"y{j}", x, z), (f"z{k}", x, y))
        name = f"{i}{j}{k}"
        found.append(Corner(name=name, words=f"corner {name}", point=(x, y, z), at=at, angle_deg=270.0))
    return found


def skin(
    shape: Complex, cuts: dict[str, tuple[float, ...]] | None = None, name: str = "skin", laid: int = 1
) -> Sheet:
    """Return a sheet over every face, whole all round, cut into panels at some places of each axis."""
    panels = []
    for facet in shape.facets:
        spans = [
            _spans(span, (cuts or {}).get(axis, ()))
            for axis, span in zip(facet.axes, (facet.u, facet.v), strict=True)
        ]
        for i, u in enumerate(spans[0]):
            for j, v in enumerate(spans[1]):
                panels.append(Panel(name=f"{facet.name} {i}{j}", facet=facet.name, u=u, v=v, bonded=True))
    seams = [Seam(a.name, b.name, Join.FORMED) for n, a in enumerate(panels) for b in panels[n + 1 :]]
    return Sheet(
        name=name,
        words=name,
        kind=Kind.PATCH,
        stock=TAPE,
        panels=tuple(panels),
        seams=tuple(seams),
        laid=laid,
    )


def _spans(span: Span, cuts: tuple[float, ...]) -> list[Span]:
    lines = sorted({*span, *(cut for cut in cuts if span[0] < cut < span[1])})
    return list(pairwise(lines))
