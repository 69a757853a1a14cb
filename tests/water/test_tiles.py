"""Facets meet where they are glued, sheets run on where they are joined."""

from __future__ import annotations

import numpy as np
from hypothesis import given, settings
from hypothesis import strategies as st
from tests.water.boxes import box, skin
from tests.water.wall_sets import crooked_walls, dressed, offs, opening, wall

from sillwright.water import Edge, Facet, WallFace, wall_complex
from sillwright.water.tiles import SIDES, outward, tiling

DRESSED = dressed()
WRAP = tiling(DRESSED.complex, next(sheet for sheet in DRESSED.sheets if sheet.name == "wrap.upper"))


def along(facet: Facet, edge: Edge, at: np.ndarray) -> np.ndarray:
    return facet.place(edge.at, at) if edge.across == "u" else facet.place(at, edge.at)


@given(crooked_walls)
@settings(max_examples=40, deadline=None)
def test_facets_of_a_crooked_wall_meet_along_their_edges(own: WallFace) -> None:
    shape = wall_complex(own)
    for glue in shape.glues:
        at = np.linspace(*glue.one.span, 23)
        one, other = (along(shape.by_name[edge.facet], edge, at) for edge in (glue.one, glue.other))
        assert np.abs(one - other).max() < 1e-9, (glue.one.facet, glue.other.facet)


@given(offs, offs)
@settings(max_examples=20, deadline=None)
def test_facets_of_two_crooked_openings_above_a_ledger_meet_along_their_edges(
    first: tuple[float, ...], second: tuple[float, ...]
) -> None:
    own = wall(opening("A", 40.0, first), opening("B", 96.0, second))
    shape = wall_complex(own)
    for glue in shape.glues:
        at = np.linspace(*glue.one.span, 23)
        one, other = (along(shape.by_name[edge.facet], edge, at) for edge in (glue.one, glue.other))
        assert np.abs(one - other).max() < 1e-9, (glue.one.facet, glue.other.facet)


def test_the_outer_side_of_every_facet_faces_the_weather_or_the_opening() -> None:
    normals = outward(wall_complex(wall(opening())))
    expected = {
        "wall": (0, -1, 0),
        "A.left": (1, 0, 0),
        "A.right": (-1, 0, 0),
        "A.head": (0, 0, -1),
        "A.dam": (0, -1, 0),
        "ledger.top": (0, 0, 1),
        "ledger.face": (0, -1, 0),
        "ledger.under": (0, 0, -1),
        "ledger.left": (-1, 0, 0),
        "ledger.right": (1, 0, 0),
    }
    for name, normal in expected.items():
        assert np.abs(normals[name] - normal).max() < 1e-12, name
    assert normals["A.sill"][2] > 0.99


def test_a_skin_round_a_box_ends_nowhere() -> None:
    shape = box(3.0, 4.0, 5.0)
    found = tiling(shape, skin(shape, {"x": (1.0,), "z": (2.0, 3.0)}))
    assert not found.ends
    assert len(found.joined) == 4 * len(found.tiles)


def test_what_runs_on_one_way_runs_on_the_other_way() -> None:
    for sheet in DRESSED.sheets:
        found = tiling(DRESSED.complex, sheet)
        for place, next_place in found.joined.items():
            assert found.joined[next_place] == place


@given(st.floats(0.0, 1.0), st.floats(0.0, 1.0))
@settings(deadline=None)
def test_a_point_of_a_tile_is_found_again(s: float, t: float) -> None:
    for tile in WRAP.tiles[:4]:
        u, v = tile.u[0] + s * (tile.u[1] - tile.u[0]), tile.v[0] + t * (tile.v[1] - tile.v[0])
        assert np.abs(np.subtract(tile.logical(tile.facet.place(u, v)), (u, v))).max() < 1e-9


def test_sides_are_numbered_round_the_tile() -> None:
    shape = box(3.0, 4.0, 5.0)
    tile = tiling(shape, skin(shape)).tiles[0]
    for side in SIDES:
        assert (tile.ends(side)[1] == tile.ends((side + 1) % 4)[0]).all()
