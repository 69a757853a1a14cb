"""Folded surfaces against what is known: angles lacking at corners, ways in a room, nets of a cube."""

from __future__ import annotations

import math
from dataclasses import replace
from itertools import combinations

import networkx as nx
import numpy as np
import pytest
from tests.published.checks import Check, load
from tests.water.boxes import box, skin
from tests.water.solids import SOLIDS, quartered

from sillwright.water import Join, Seam, Stock
from sillwright.water.geodesic import Surface, see
from sillwright.water.pattern_model import FlatPiece
from sillwright.water.patterns import flat_pattern
from sillwright.water.tiles import tiling

ANY = Stock(name="paper", family="paper")
ROWS = load("water")
DEFECTS = [check for check in ROWS if "total_deg" in check.expect]
WAYS = [check for check in ROWS if "shortest" in check.expect]
NETS = [check for check in ROWS if "unfoldings" in check.expect]


@pytest.mark.parametrize("check", DEFECTS, ids=lambda check: check.id)
def test_the_angles_missing_at_corners(check: Check) -> None:
    points, joined = quartered(SOLIDS[check.given["solid"]])
    around = Surface(points, joined).around
    missing = [360.0 - math.degrees(angle) for angle in around.values()]
    corners = [each for each in missing if each > 1e-6]
    assert max(corners) - min(corners) < 1e-9
    check.compare(
        {"corners": len(corners), "each_deg": sum(corners) / len(corners), "total_deg": math.fsum(missing)}
    )


@pytest.mark.parametrize("check", WAYS, ids=lambda check: check.id)
def test_the_shortest_way_over_the_walls_of_a_room(check: Check) -> None:
    spider, fly = check.given["spider"], check.given["fly"]
    shape = box(*check.given["room"])
    surface = tiling(shape, skin(shape, {"y": (spider[1],), "z": (fly[2], spider[2])})).surface
    start, end = (
        min(surface.corners, key=lambda vertex: float(np.abs(surface.at(vertex) - point).max()))
        for point in (spider, fly)
    )
    check.compare({"shortest": see(surface, start, 60.0).vertices[end].length})


@pytest.mark.parametrize("check", NETS, ids=lambda check: check.id)
def test_a_cube_is_cut_open_in_as_many_ways(check: Check) -> None:
    shape = box(1.0, 1.0, 1.0)
    whole = skin(shape)
    faces: nx.Graph[str] = nx.Graph()
    faces.add_edges_from(
        (a.name, b.name) for a, b in combinations(whole.panels, 2) if a.facet[0] != b.facet[0]
    )
    shapes, unfoldings = set(), 0
    for tree in nx.SpanningTreeIterator(faces):  # type: ignore[arg-type]  # typed for digraphs there
        unfoldings += 1
        seams = tuple(Seam(a, b, Join.FOLD) for a, b in tree.edges)
        (piece,) = flat_pattern(replace(whole, seams=seams, stock=ANY), shape, joint_lap=0.0).pieces
        shapes.add(_shape(piece))
        assert {round(fold.turn_deg) for fold in piece.folds} == {90}, "seen from inside the box"
    check.compare({"unfoldings": unfoldings, "shapes": len(shapes)})


def _shape(piece: FlatPiece) -> frozenset[tuple[int, int]]:
    """Return the squares of a net as the least of its eight turned and mirrored shapes."""
    middles = [
        (sum(x for x, _ in panel.outline) / 4, sum(y for _, y in panel.outline) / 4) for panel in piece.panels
    ]
    found = []
    for turn in range(4):
        for mirror in (1, -1):
            moved = [_turned(x, mirror * y, turn) for x, y in middles]
            low = min(x for x, _ in moved), min(y for _, y in moved)
            found.append(tuple(sorted((round(x - low[0]), round(y - low[1])) for x, y in moved)))
    return frozenset(min(found))


def _turned(x: float, y: float, turn: int) -> tuple[float, float]:
    for _ in range(turn):
        x, y = -y, x
    return x, y
