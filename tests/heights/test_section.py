"""What is drawn where: shapes and marks read back as numbers."""

from __future__ import annotations

import pytest
from tests.heights.walls import WALL, wall

from sillwright.heights import ChainResult, Depths, Section, Shape, pole, section, solve, wall_chain

RESULT = solve(wall_chain(WALL))
SECTION = section(WALL, RESULT)


def _box(drawn: Section, name: str) -> tuple[float, float, float, float]:
    shape = next(shape for shape in drawn.shapes if shape.name == name)
    return _extent(shape)


def _extent(shape: Shape) -> tuple[float, float, float, float]:
    ys, zs = zip(*shape.points, strict=True)
    return min(ys), max(ys), min(zs), max(zs)


def _z(result: ChainResult, name: str) -> float:
    z = result.z(name)
    assert z is not None
    return z


@pytest.mark.parametrize(
    ("shape", "lower", "upper"),
    [
        ("unit at A", "unit bottom at A", "unit top at A"),
        ("sloped strip at A", "level line at A", "top of sloped strip at A"),
        ("membrane at A", "top of sloped strip at A", "unit bottom at A"),
        ("decking", "joist top", "walking surface"),
        ("joist", "joist bottom", "joist top"),
        ("ledger", "ledger bottom", "ledger top"),
        ("band joist", "band joist bottom", "highest band joist top"),
        ("beam", "beam bottom", "joist bottom"),
        ("post", "footing top", "beam bottom"),
        ("footing depth", "footing bottom", "footing top"),
    ],
)
def test_a_shape_stands_between_its_levels(shape: str, lower: str, upper: str) -> None:
    *_, bottom, top = _box(SECTION, shape)
    assert (bottom, top) == (_z(RESULT, lower), _z(RESULT, upper))
    assert top > bottom


def test_the_ledger_is_outside_the_sheathing_and_the_band_joist_inside() -> None:
    depths = Depths(sheathing=0.75)
    drawn = section(WALL, RESULT, depths=depths)
    assert _box(drawn, "ledger")[:2] == (-1.5, 0.0)
    assert _box(drawn, "band joist")[:2] == (0.75, 2.25)
    assert _box(drawn, "joist")[1] == -1.5


def test_fasteners_pass_through_ledger_and_band_joist_both() -> None:
    for row in ("upper row", "lower row"):
        left, right, z, _ = _box(SECTION, row)
        assert left <= _box(SECTION, "ledger")[0]
        assert right >= _box(SECTION, "band joist")[1]
        for board in ("ledger", "band joist"):
            *_, bottom, top = _box(SECTION, board)
            assert bottom < z < top


def test_a_platform_reaches_to_the_wall_without_a_ledger() -> None:
    free = wall(deck={"ledger_depth": None}, backing=None)
    drawn = section(free, solve(wall_chain(free)))
    assert _box(drawn, "joist")[1] == 0.0
    assert not any(shape.name in ("ledger", "band joist") for shape in drawn.shapes)


def test_the_pole_has_every_level_once_going_up_with_its_spread() -> None:
    marks = pole(RESULT)
    assert SECTION.marks == marks
    assert sorted(mark.name for mark in marks) == sorted(level.name for level in RESULT.levels)
    assert [mark.z for mark in marks] == sorted(mark.z for mark in marks)
    assert all(mark.worst >= mark.rss >= 0.0 for mark in marks)


def test_what_has_no_height_is_named_and_not_drawn() -> None:
    unknown = wall(
        unit={"line": None, "rough_sill": (), "head": ()}, door={"floor": ()}, backing=None, ground=None
    )
    drawn = section(unknown, solve(wall_chain(unknown)))
    assert "unit bottom at A" in drawn.open
    assert not drawn.shapes
    assert not drawn.marks


def test_shapes_come_lowest_first() -> None:
    bottoms = [_extent(shape)[2] for shape in SECTION.shapes]
    assert bottoms == sorted(bottoms)
