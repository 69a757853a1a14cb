"""Drawn patterns: where the pattern says, nothing over anything else, full size where that is promised."""

from __future__ import annotations

import io
import math
import re
from itertools import pairwise
from xml.etree import ElementTree as ET

import ezdxf
import pytest
from ezdxf.entities import LWPolyline
from tests.water.wall_sets import CROOKED, dressed, opening, wall

from sillwright.drawing import (
    Path,
    Role,
    Scene,
    Text,
    extents,
    overlapping_texts,
    record,
    sheet,
    to_dxf,
    to_svg,
)
from sillwright.drawing.cutting import corners_of, pieces_drawn
from sillwright.drawing.cutting_plan import cut_patterns, cutting_drawings
from sillwright.drawing.full_size import blank_tiles, slit_templates
from sillwright.drawing.scene import Point
from sillwright.flashing.practice import PanMake, UnitSet
from sillwright.lengths import Unit
from sillwright.water import Dressing
from sillwright.water.pattern_model import FlatPattern, Make

CROOKED_WALL = dressed(wall(opening(off=CROOKED)))
LINED = dressed(wall(opening(off=CROOKED)), unit=UnitSet.LINED)
FORMED = dressed(wall(opening(off=CROOKED), ledger=False), pan=PanMake.FORMED)
WALLS = {"crooked": CROOKED_WALL, "lined": LINED, "formed": FORMED}


def pattern(name: str, dressing: Dressing = CROOKED_WALL) -> FlatPattern:
    return next(each for each in cut_patterns(dressing, joint_lap=4.0) if each.sheet == name)


def paths(scene: Scene, role: Role) -> list[Path]:
    return [mark for mark in scene.marks if isinstance(mark, Path) and mark.role is role]


@pytest.mark.parametrize("name", WALLS)
@pytest.mark.parametrize("units", ["in", "mm"])
def test_drawn_pieces_fit_their_box_and_no_words_stand_on_words(name: str, units: Unit) -> None:
    drawings = cutting_drawings(WALLS[name], joint_lap=4.0, units=units)
    assert len(drawings) > 4
    for key, scene in drawings.items():
        assert not overlapping_texts(scene), key
        if key.startswith("cutting"):
            assert sheet(scene).width <= 7.0, key
            assert sheet(scene).height <= 2.9, key


def test_a_piece_is_drawn_where_its_pattern_says() -> None:
    pan = pattern("A.pan")
    (scene,) = pieces_drawn(pan, units="in", width=7.0, height=2.9)
    (piece,) = pan.pieces
    outlines = [path.points for path in paths(scene, Role.NEW) if path.closed]
    assert outlines == list(piece.rings)
    folds = {path.points: path.hidden for path in paths(scene, Role.CRAYON)}
    for fold in piece.folds:
        assert folds[fold.line] == (fold.turn_deg < 0)
    for slit in piece.slits:
        assert (slit.tip, slit.one_end) in folds
    words = [mark.text for mark in scene.marks if isinstance(mark, Text)]
    assert {"sill", "apron", "left", "right"} <= set(words)
    assert any(word.startswith("fold down") for word in words)


def test_the_numbers_of_points_stand_beside_them() -> None:
    pan = pattern("A.pan")
    (scene,) = pieces_drawn(pan, units="in", width=7.0, height=2.9)
    corners = corners_of(pan.pieces[0])
    numbers = [mark for mark in scene.marks if isinstance(mark, Text) and mark.text.isdigit()]
    assert len(numbers) > len(corners) / 2
    for mark in numbers:
        assert mark.at == pytest.approx(corners[int(mark.text) - 1])


def test_a_long_piece_is_stretched_across_and_says_so() -> None:
    (scene,) = pieces_drawn(pattern("ledger.sheet"), units="in", width=7.0, height=2.9)
    assert scene.scale_y / scene.scale_x == pytest.approx(round(scene.scale_y / scene.scale_x))
    assert scene.scale_y > scene.scale_x
    assert extents(scene).height > 1.0


def length(points: tuple[Point, ...]) -> float:
    return math.fsum(math.dist(*ends) for ends in pairwise(points))


@pytest.mark.parametrize(("width", "height"), [(50.0, 50.0), (7.0, 7.5), (5.0, 3.0)])
def test_the_parts_of_a_blank_hold_every_line_of_it_at_full_size(width: float, height: float) -> None:
    patch = pattern("A.patch.sill.left")
    tiles = blank_tiles(patch, units="in", width=width, height=height)
    (piece,) = patch.pieces
    drawn = sum(length(path.points) for tile in tiles for path in paths(tile, Role.NEW))
    assert drawn == pytest.approx(sum(length((*ring, ring[0])) for ring in piece.rings), abs=1e-6)
    folds = sum(length(path.points) for tile in tiles for path in paths(tile, Role.CRAYON))
    assert folds == pytest.approx(sum(length(fold.line) for fold in piece.folds), abs=1e-6)
    for tile in tiles:
        assert (tile.scale_x, tile.scale_y) == (1.0, 1.0)
        frame = next(path for path in paths(tile, Role.NOTE) if path.closed)
        spans = [max(each) - min(each) for each in zip(*frame.points, strict=True)]
        assert spans[0] <= width + 1e-9
        assert spans[1] <= height + 1e-9
    assert (len(tiles) == 1) == (width > 40)


def test_a_slit_template_shows_the_tip_in_its_middle_at_full_size() -> None:
    pan = pattern("A.pan")
    scenes = slit_templates(pan, units="in", side=3.4)
    assert len(scenes) == 2
    for scene, slit in zip(scenes, pan.pieces[0].slits, strict=True):
        frame = next(path for path in paths(scene, Role.NOTE) if path.closed)
        middle = [sum(each) / 4 for each in zip(*frame.points, strict=True)]
        assert middle == pytest.approx(list(slit.tip))
        words = [mark.text for mark in scene.marks if isinstance(mark, Text)]
        assert {slit.one, slit.other, "sill"} <= set(words)
        assert any("to the cross and no farther" in word or word.startswith("fold") for word in words)


def test_the_page_file_keeps_full_size() -> None:
    """72 points to the inch: SVG user units here."""
    (scene, *_) = slit_templates(pattern("A.pan"), units="in", side=3.4)
    root = ET.fromstring(to_svg(scene))  # noqa: S314  our own writer's
    assert float(root.attrib["data-sx"]) == float(root.attrib["data-sz"]) == 72.0
    width = re.match(r"([0-9.]+)in", root.attrib["width"])
    assert width is not None
    assert float(width[1]) * 72 == pytest.approx(float(root.attrib["viewBox"].split()[2]), abs=1e-3)
    assert float(width[1]) == pytest.approx(3.2 + 2 * scene.margin, abs=0.05)


def test_the_drawing_file_has_the_piece_in_inches() -> None:
    pan = pattern("A.pan")
    (scene,) = pieces_drawn(pan, units="in", width=7.0, height=2.9)
    document = ezdxf.read(io.StringIO(to_dxf(scene)))
    assert not document.audit().errors
    stretch = scene.scale_y / scene.scale_x
    outlines = [
        [(x, y / stretch) for x, y, *_ in line.get_points()]
        for line in document.modelspace().query("LWPOLYLINE")
        if isinstance(line, LWPolyline) and line.closed and line.dxf.layer == "NEW"
    ]
    (ring,) = pan.pieces[0].rings
    assert len(outlines) == 1
    for drawn, true in zip(outlines[0], ring, strict=True):
        assert drawn == pytest.approx(true, abs=1e-9)


def test_plain_strips_and_wrap_are_not_drawn() -> None:
    names = {each.sheet for each in cut_patterns(CROOKED_WALL, joint_lap=4.0)}
    assert {"A.pan", "ledger.sheet", "A.patch.sill.left", "ledger.patch.right"} <= names
    assert not {"A.strip.left", "A.strip.head", "wrap.upper", "A.unit", "ledger"} & names


def test_every_scene_can_be_recorded() -> None:
    for scene in cutting_drawings(FORMED, joint_lap=4.0, units="in").values():
        assert len(record(scene)) == len(scene.marks)
    assert any(each.make is Make.FORMED for each in cut_patterns(FORMED, joint_lap=4.0))
