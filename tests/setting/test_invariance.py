"""Moving the wall, mirroring it or changing its unit gives the same plan moved, mirrored, converted."""

from __future__ import annotations

import random
from pathlib import Path
from typing import Any

import pytest
from tests.setting.walls import Hole, job_of, set_job

from sillwright.job import load_job
from sillwright.setting.model import Setting

EXAMPLES = Path(__file__).parents[2] / "examples"


def a_row(seed: int) -> list[Hole]:
    rng = random.Random(seed)  # noqa: S311 (seeded walls, no secret)
    holes = []
    for k in range(3):
        sill = tuple(rng.randrange(-12, 13) / 64 for _ in range(3))
        width = rng.choice((24.0, 30.0))
        holes.append(
            Hole(
                name="ABC"[k],
                left=10.0 + 50.0 * k + rng.randrange(16) / 16,
                width=width + rng.randrange(10, 14) / 16,
                sill=sill,
                inner=tuple(z + rng.randrange(-6, 7) / 64 for z in sill),
                leans=(rng.randrange(-4, 5) / 32, rng.randrange(-4, 5) / 32),
                leans_in=(rng.randrange(-8, 9) / 16, rng.randrange(-8, 9) / 16),
                unit={"frame_width": width},
            )
        )
    return holes


def setting_of(holes: list[Hole], **parts: Any) -> Setting:
    return set_job(job_of(*holes, sd=0.01, kit={"planing_max": 0.125}, **parts))


def moved(holes: list[Hole], by: float) -> list[Hole]:
    return [Hole(**{**_fields(hole), "left": hole.left + by}) for hole in holes]


def mirrored(holes: list[Hole], about: float) -> list[Hole]:
    found = []
    for hole in reversed(holes):
        parts = _fields(hole)
        lean, lean_in = hole.leans, hole.leans_in
        assert lean is not None
        assert lean_in is not None
        parts |= {
            "left": 2.0 * about - hole.left - hole.width,
            "sill": hole.sill[::-1],
            "inner": (hole.inner or ())[::-1],
            "leans": (-lean[1], -lean[0]),
            "leans_in": lean_in[::-1],
        }
        found.append(Hole(**parts))
    return found


def _fields(hole: Hole) -> dict[str, Any]:
    return {name: getattr(hole, name) for name in Hole.__dataclass_fields__}


@pytest.mark.parametrize("seed", range(6))
def test_a_moved_wall_has_the_same_plan_moved(seed: int) -> None:
    here, there = setting_of(a_row(seed)), setting_of(moved(a_row(seed), 37.0), stand=37.0)
    assert [line.z for line in here.rows[0].lines] == pytest.approx([line.z for line in there.rows[0].lines])
    assert [(p.make_up, p.number) for p in here.pads] == [(p.make_up, p.number) for p in there.pads]
    assert [p.x + 37.0 for p in here.pads] == pytest.approx([p.x for p in there.pads])
    assert [u.left + 37.0 for u in here.units] == pytest.approx([u.left for u in there.units])
    for a, b in zip(here.units, there.units, strict=True):
        assert a.fit is not None
        assert b.fit is not None
        assert a.fit.probability == pytest.approx(b.fit.probability, abs=1e-4)
        assert [c.fur_out for c in a.corners] == pytest.approx([c.fur_out for c in b.corners], abs=1e-6)
    assert [o.kind for o in here.options] == [o.kind for o in there.options]


@pytest.mark.parametrize("seed", range(6))
def test_a_mirrored_wall_has_the_same_plan_mirrored(seed: int) -> None:
    about = 100.0
    here, there = setting_of(a_row(seed)), setting_of(mirrored(a_row(seed), about), stand=2.0 * about)
    assert here.rows[0].lines[0].z == pytest.approx(there.rows[0].lines[0].z)
    other = there.pads[::-1]
    assert [p.make_up for p in here.pads] == [p.make_up for p in other]
    assert [p.x for p in here.pads] == pytest.approx([2.0 * about - p.x for p in other])
    units = {unit.opening: unit for unit in there.units}
    for unit in here.units:
        twin = units[unit.opening]
        # where two marks are equally good one has to be taken: one step of the tape
        assert unit.left == pytest.approx(2.0 * about - twin.right, abs=1 / 16 + 1e-6)
        assert unit.fit is not None
        assert twin.fit is not None
        assert unit.fit.probability == pytest.approx(twin.fit.probability, abs=2e-4)
        mine = {c.corner: c.fur_out for c in unit.corners}
        his = {c.corner: c.fur_out for c in twin.corners}
        for corner, fur in mine.items():
            flipped = corner.replace("left", "?").replace("right", "left").replace("?", "right")
            assert fur == pytest.approx(his[flipped], abs=1e-5)  # type: ignore[index]
    assert sorted(o.minutes for o in here.options) == pytest.approx(
        sorted(o.minutes for o in there.options), abs=1e-5
    )


@pytest.mark.parametrize("name", sorted(path.stem for path in EXAMPLES.glob("*.toml")))
def test_the_unit_of_the_job_does_not_change_what_is_found(name: str) -> None:
    """The marks of a tape differ between inches and millimetres, so lines agree to half a mark of each."""
    job = load_job(EXAMPLES / f"{name}.toml").job
    other = job.model_copy(update={"units": "mm" if job.units == "in" else "in"})
    here, there = set_job(job), set_job(other)
    for a, b in zip(here.rows, there.rows, strict=True):
        assert a.low_end.opening == b.low_end.opening
        assert a.low_end.z == pytest.approx(b.low_end.z, abs=0.02)
        assert a.high_point.z == pytest.approx(b.high_point.z, abs=0.02)
    for unit, twin in zip(here.units, there.units, strict=True):
        assert unit.left == pytest.approx(twin.left, abs=0.06)
    assert [c.openings for c in here.conflicts] == [c.openings for c in there.conflicts]


def test_the_order_of_openings_in_the_job_does_not_change_the_plan() -> None:
    holes = a_row(1)
    here = setting_of(holes)
    there = setting_of(holes[::-1], row=[{"openings": [hole.name for hole in holes]}])
    assert [(p.opening, p.x, p.make_up) for p in here.pads] == [
        (p.opening, p.x, p.make_up) for p in there.pads
    ]
    lefts = {unit.opening: unit.left for unit in there.units}
    assert all(lefts[unit.opening] == pytest.approx(unit.left) for unit in here.units)


def test_the_same_job_has_the_same_setting() -> None:
    assert setting_of(a_row(2)) == setting_of(a_row(2))
