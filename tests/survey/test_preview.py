"""Before the wall is adjusted again: the preview against the whole adjustment done anew."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest

from sillwright.job import Job, add_reading, change_reading, load_text, read_job
from sillwright.survey import Preview, Wall, preview
from sillwright.survey.network import Verdicts
from sillwright.survey.outliers import solve

EXAMPLES = sorted((Path(__file__).parents[2] / "examples").glob("*.toml"))
NAMES = [path.stem.split("-")[0] for path in EXAMPLES]
STEP = 1 / 64
PLACING = 5e-4
"""Widths, heights and running readings also place the stations of others: what that moves for a 64th [in]."""


def adjusted(job: Job) -> Wall:
    """Return the wall without verdicts: what the preview is linear about stays the same."""
    return Wall(solve(job, Verdicts()))


def seen(job: Job) -> tuple[Preview, np.ndarray]:
    found = preview(job, adjusted(job))
    return found, np.array([point.z for point in found.points])


def still(before: Preview, after: Preview) -> np.ndarray:
    """Tell which points stand where they stood: heads are drawn where they were taped, and that may shift."""
    assert [point.name for point in after.points] == [point.name for point in before.points]
    same = [abs(one.x - two.x) < 1e-9 for one, two in zip(before.points, after.points, strict=True)]
    assert sum(same) > 3
    return np.array(same)


@pytest.mark.parametrize("path", EXAMPLES, ids=NAMES)
def test_a_changed_reading_moves_the_drawing_as_the_adjustment_does(path: Path) -> None:
    text = load_text(path)
    job = read_job(text)
    before, z = seen(job)
    chosen = range(0, len(before.paths), 7)
    for column in chosen:
        place, read = before.paths[column], before.observed[column] + STEP
        offset = -job.wall.string.clear if job.wall.string and place.startswith("wall.string") else 0.0
        assert offset <= 0.0
        after, moved = seen(read_job(change_reading(text, place, {"value": f"{read!r} in"}).text))
        told = np.array([row[column] for row in before.rows]) * STEP
        own = np.array([row[column] for row in after.rows]) * STEP
        # strong and shy go with the reading, so its weight may change with the way it is said
        placing = any(word in place for word in ("width", "height", "jack_x"))
        slack = (PLACING if placing else 2e-5) + np.abs(told - own) * 30
        assert np.all((np.abs(moved - z - told) <= slack)[still(before, after)]), place


@pytest.mark.parametrize("path", EXAMPLES, ids=NAMES)
def test_a_new_reading_moves_the_drawing_as_the_adjustment_does(path: Path) -> None:
    text = load_text(path)
    job = read_job(text)
    before, z = seen(job)
    checked = set()
    for spot in before.untaken[:: max(1, len(before.untaken) // 12)]:
        cells = {"kind": spot.table, "opening": spot.opening, "place": spot.place, "edge": spot.edge}
        cells |= {"setup": spot.setup, "value": f"{spot.expected + STEP!r} in"}
        cells |= {} if spot.x is None else {"x": f"{spot.x!r} in"}
        if spot.table.startswith("lean") or (spot.table == "sill" and spot.edge == "inner"):
            continue  # these may bring places into the wall that it did not have
        cells = {key: cell for key, cell in cells.items() if cell and not (key == "edge" and cell == "outer")}
        after, moved = seen(read_job(add_reading(text, cells).text))
        if len(after.points) != len(before.points):
            continue
        checked.add(spot.table)
        told = np.array(spot.column) * STEP
        slack = PLACING if spot.table in ("width", "height", "jack") else 2e-5
        close = np.abs(moved - z - told) <= slack + 0.02 * np.abs(told)
        assert np.all(close[still(before, after)]), cells
    assert len(checked) > 2


@pytest.mark.parametrize("path", EXAMPLES, ids=NAMES)
def test_what_the_wall_says_of_a_place_is_what_it_makes_of_its_readings(path: Path) -> None:
    job = read_job(load_text(path))
    wall = adjusted(job)
    found = preview(job, wall)
    adjusted_readings = {
        o.id: o.read + float(wall.solution.adjustment.residual[i])
        for i, o in enumerate(wall.solution.network.observations)
    }
    widths = [each for each in found.untaken if each.table in ("width", "height", "diagonal")]
    compared = 0
    for each in widths:
        face = each.table + ("_inner" if each.edge == "inner" else "")
        for ident in (f"{each.opening}.{face}.{each.place}", f"{each.opening}.{face}.{each.place}.1"):
            if ident in adjusted_readings:
                assert each.expected == pytest.approx(adjusted_readings[ident], abs=1e-9)
                compared += 1
    assert compared > 4


def test_a_wall_without_readings_has_nothing_to_draw_by() -> None:
    text = "\n".join(
        [
            "sillwright = 1",
            'title = "x"',
            "[kit]",
            'shims = ["1/8"]',
            "shim_width = 1.5",
            "[[opening]]",
            'name = "A"',
        ]
    )
    job = read_job(text)
    assert preview(job, adjusted(job)).points == ()
