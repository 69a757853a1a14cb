"""The story pole is at full size, whole or in strips."""

from __future__ import annotations

from itertools import pairwise

import pytest
from tests.deck_jobs import demo
from tests.planned_jobs import example, long_job, planned

from sillwright.drawing import Path, Role, Scene, Text, overlapping_texts, plan_drawings, pole_tiles, sheet
from sillwright.drawing.story_pole import pole_heights, pole_range


def heights_on(scene: Scene) -> set[float]:
    """Heights of the marks drawn across the stick from its edge."""
    lines = [m.points for m in scene.marks if isinstance(m, Path) and m.role is not Role.NOTE]
    return {a[1] for a, b in lines if a[0] == 0.0 and a[1] == b[1]}


@pytest.mark.parametrize("name", ["farmhouse", "block", "villa"])
def test_strips_hold_every_height_once_at_full_size(name: str) -> None:
    plan = planned(example(name))
    tiles = pole_tiles(plan, tall=8.0)
    assert all(tile.scale_x == tile.scale_y == 1.0 for tile in tiles)
    drawn = [z for tile in tiles for z in heights_on(tile)]
    assert sorted(drawn) == sorted({height.z for height in pole_heights(plan)})


@pytest.mark.parametrize("name", ["farmhouse", "villa", "stucco"])
def test_strips_fit_their_paper_and_butt_without_gap(name: str) -> None:
    plan = planned(example(name))
    tiles = pole_tiles(plan, tall=8.0)
    assert all(sheet(tile).height <= 8.0 and not overlapping_texts(tile) for tile in tiles)
    ends = [[z for m in tile.marks[:1] if isinstance(m, Path) for _, z in m.points] for tile in tiles]
    low, high = pole_range(plan)
    assert (ends[0][0], ends[-1][1]) == (low, high)
    assert all(below[1] == above[0] for below, above in pairwise(ends))


def test_match_letters_come_in_pairs() -> None:
    tiles = pole_tiles(planned(example("farmhouse")), tall=8.0)
    words = [
        m.text for tile in tiles for m in tile.marks if isinstance(m, Text) and m.text.startswith("match")
    ]
    assert all(words.count(text) == 2 for text in set(words))
    assert len(set(words)) == len(tiles) - 1


def test_units_of_one_height_are_told_together() -> None:
    names = [height.name for height in pole_heights(planned(example("farmhouse")))]
    assert "unit top A, B, C" in names


def test_the_whole_pole_is_one_drawing_at_full_size() -> None:
    job = long_job(1)
    scene = plan_drawings(job, planned(job))["story-pole"]
    low, high = pole_range(planned(job))
    assert scene.scale_y == 1.0
    assert high - low <= sheet(scene).height <= high - low + 0.3


def _told(scene: Scene) -> list[str]:
    return [mark.text for mark in scene.marks if isinstance(mark, Text)]


def test_a_name_is_cut_only_where_the_stick_is_too_narrow_for_it() -> None:
    told = _told(plan_drawings(*demo())["story-pole"])
    assert "highest finished floor A" in told
    assert not any("…" in text for text in told)
    job = long_job(7)
    assert "unit top W1, W2, W3 …" in _told(plan_drawings(job, planned(job))["story-pole"])
