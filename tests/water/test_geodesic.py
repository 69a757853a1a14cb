"""Shortest ways over boxes, stairs and pyramids of tiles: what Dudeney and Descartes knew."""

from __future__ import annotations

import math
from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from tests.water.boxes import box, skin

from sillwright.water.geodesic import Surface, Ways, see
from sillwright.water.tiles import tiling

CUTS = st.lists(st.floats(0.5, 4.5), max_size=2).map(tuple)


def room(size: tuple[float, float, float], cuts: dict[str, tuple[float, ...]]) -> Surface:
    shape = box(*size)
    return tiling(shape, skin(shape, cuts)).surface


def vertex(surface: Surface, *point: float) -> int:
    return min(surface.corners, key=lambda each: float(np.abs(surface.at(each) - point).max()))


@given(CUTS, CUTS, CUTS)
@settings(max_examples=20, deadline=None)
def test_the_angles_missing_round_the_corners_of_a_box_add_up_to_two_turns(
    x: tuple[float, ...], y: tuple[float, ...], z: tuple[float, ...]
) -> None:
    surface = room((5.0, 5.5, 6.0), {"x": x, "y": y, "z": z})
    missing = math.fsum(2 * math.pi - around for around in surface.around.values())
    assert missing == pytest.approx(4 * math.pi, abs=1e-9)


@given(CUTS, CUTS)
@settings(max_examples=10, deadline=None)
def test_more_cuts_change_no_distance(x: tuple[float, ...], z: tuple[float, ...]) -> None:
    plain, cut = room((5.0, 6.0, 7.0), {}), room((5.0, 6.0, 7.0), {"x": x, "z": z})
    ends = (0.0, 0.0, 0.0), (5.0, 6.0, 7.0)
    found = [
        see(surface, vertex(surface, *ends[0]), 20.0).vertices[vertex(surface, *ends[1])].length
        for surface in (plain, cut)
    ]
    assert found[1] == pytest.approx(found[0], abs=1e-9)
    assert found[0] == pytest.approx(math.hypot(7.0, 5.0 + 6.0), abs=1e-9)


def strip(*heights: float, width: float = 1.0) -> Surface:
    """Return a stair of level and upright tiles 2 wide, one after the other."""
    points, joined, at, z = [], {}, 0.0, 0.0
    for number, rise in enumerate(heights):
        end, top = (at, z + rise) if rise else (at + width, z)
        points.append([(0.0, at, z), (2.0, at, z), (2.0, end, top), (0.0, end, top)])
        if number:
            joined[number - 1, 2], joined[number, 0] = (number, 0), (number - 1, 2)
        at, z = end, top
    return Surface(np.array(points), joined)


def test_a_way_up_a_stair_is_as_long_as_the_carpet() -> None:
    track = Ways(strip(0.0, 3.0, 0.0, 4.0)).shortest([(0, 0)], [(3, 2)])
    assert track is not None
    assert track.length == pytest.approx(1 + 3 + 1 + 4)
    assert track.tiles == (0, 1, 2, 3)


def test_a_way_goes_round_what_is_not_there() -> None:
    """An L of three squares: from the far end of one leg to that of the other, round the inner corner."""
    squares = np.array(
        [
            [(x, 0.0, z), (x + 1, 0.0, z), (x + 1, 0.0, z + 1), (x, 0.0, z + 1)]
            for x, z in ((0.0, 1.0), (0.0, 0.0), (1.0, 0.0))
        ]
    )
    joined = {(0, 0): (1, 2), (1, 2): (0, 0), (1, 1): (2, 3), (2, 3): (1, 1)}
    track = Ways(Surface(squares, joined)).shortest([(0, 2)], [(2, 1)])
    assert track is not None
    assert track.length == pytest.approx(2.0)
    assert (1.0, 0.0, 1.0) in track.points


def test_the_points_of_a_way_add_up_to_its_length() -> None:
    surface = room((5.0, 6.0, 7.0), {"x": (1.0,), "z": (2.0, 3.0)})
    ways = Ways(surface)
    for goal in range(1, len(surface.points)):
        track = ways.shortest([(0, 0)], [(goal, 2)])
        assert track is not None
        assert math.fsum(math.dist(*ends) for ends in pairwise(track.points)) == pytest.approx(track.length)


def test_a_limit_leaves_farther_ways_out() -> None:
    ways = Ways(strip(0.0, 3.0))
    assert ways.shortest([(0, 0)], [(1, 2)], limit=3.9) is None
    assert ways.shortest([(0, 0)], [(1, 2)], limit=4.1) is not None
