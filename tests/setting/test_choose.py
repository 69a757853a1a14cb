"""The chosen way against brute force over every line, step and place (tests/setting/brute.py)."""

from __future__ import annotations

import random

import numpy as np
import pytest
from scipy.optimize import Bounds, LinearConstraint, milp
from tests.setting import brute
from tests.setting.walls import Hole, job_of

from sillwright.job import Job
from sillwright.program import Program
from sillwright.setting.choose import TIE, choose
from sillwright.setting.groups import groups_of
from sillwright.setting.seat import RowSeats, seats_of
from sillwright.setting.stock import stock_of
from sillwright.setting.ways import alternatives
from sillwright.survey import Wall, cleanse

STOCKS = (
    (["1/32", "1/16", "1/8", "1/4"], brute.make_ups(1 / 32, ((1, None), (2, None), (4, None), (8, None)), 6)),
    (["1/16", "1/8", "1/4"], brute.make_ups(1 / 16, ((1, None), (2, None), (4, None)), 6)),
    (
        ["1/16", "1/8", {"thickness": "1/4", "thin": "1/32"}],
        brute.make_ups(1 / 32, ((2, None), (4, None), (8, 1)), 6),
    ),
)


def a_wall(seed: int) -> tuple[Job, brute.Makes]:
    """Return a small random wall: one to three openings, humps and dips, some kits that cannot make all."""
    rng = random.Random(seed)  # noqa: S311 (seeded walls, no secret)
    shims, makes = STOCKS[rng.randrange(3)]
    holes = []
    for k in range(rng.choice((1, 2, 2, 3))):
        base = rng.uniform(-0.1, 0.1)
        sill = tuple(base + rng.uniform(-0.15, 0.15) for _ in range(3))
        inner = tuple(z + rng.uniform(-0.1, 0.1) for z in sill) if rng.random() < 0.5 else None
        head = rng.choice((None, 48.5, 47.5 + rng.uniform(0.0, 0.3)))
        width = rng.choice((24.0, 30.0))
        holes.append(
            Hole(
                name="ABC"[k],
                left=10.0 + 50.0 * k + rng.uniform(0.0, 1.0),
                width=width + rng.uniform(0.4, 0.8),
                sill=sill,
                inner=inner,
                head=head,
                leans=None,
                unit={"frame_width": width, "most_side_clearance": 2.0},
            )
        )
    kit = {
        "shims": shims,
        "planing_max": rng.choice((0.0, 0.125, 0.25)),
        "largest_pad": rng.choice((0.5, 0.75)),
    }
    step = rng.choice(("never", "allowed"))
    return job_of(*holes, sd=0.01, kit=kit, step=step), makes


def row_of(job: Job) -> tuple[Wall, RowSeats]:
    wall = Wall(cleanse(job))
    return wall, seats_of(job, wall, stock_of(job.kit, job.units), groups_of(job, wall)[0].rows[0])


@pytest.mark.parametrize("block", range(10))
def test_the_choice_costs_what_the_best_of_all_ways_costs(block: int) -> None:
    compared = 0
    for seed in range(20 * block, 20 * block + 20):
        job, makes = a_wall(seed)
        wall, row = row_of(job)
        chosen = choose((row,), (), kit=job.kit, tolerances=job.tolerances, unit=job.units)
        seats = [brute.seat_of(job, wall, name) for name in row.row.openings]
        every = brute.ways(job, seats, makes, step=row.may_step)
        assert (chosen is None) == (not every), f"seed {seed}"
        if chosen is None:
            continue
        best = every[0][0] + brute.places(seats, tie=TIE)
        assert chosen.minutes == pytest.approx(best, abs=1e-6), f"seed {seed}"
        lines = tuple(float(row.lines[chosen.line_index[name]]) for name in row.row.openings)
        runner_up = next((way[0] for way in every if way[1] != every[0][1]), np.inf)
        if runner_up - every[0][0] > 1e-3:
            assert lines == pytest.approx(every[0][1]), f"seed {seed}"
        compared += 1
    assert compared >= 10


@pytest.mark.parametrize("block", range(4))
def test_alternatives_are_the_next_best_ways_of_another_kind(block: int) -> None:
    found = 0
    for seed in range(20 * block, 20 * block + 20):
        job, makes = a_wall(seed)
        wall, row = row_of(job)
        chosen = choose((row,), (), kit=job.kit, tolerances=job.tolerances, unit=job.units)
        if chosen is None:
            continue
        seats = [brute.seat_of(job, wall, name) for name in row.row.openings]
        every = brute.ways(job, seats, makes, step=row.may_step)
        seen, expected = {every[0][2]}, []
        for total, _, kind in every:
            # one step is enough to see: a row that steps is one kind of way whatever it planes
            if kind in seen or (kind[1] and any(stepped for _, stepped in seen)):
                continue
            seen.add(kind)
            expected.append(total)
        ways = alternatives(job, (row,), (), 0, chosen)
        costs = [
            sum(float(s.costs.minutes[way.line_index[s.name]]) for s in row.seats)
            + brute.minutes()["step"] * way.stepped[0]
            for way in ways
        ]
        assert costs == pytest.approx(expected[:2], abs=1e-6), f"seed {seed}"
        found += len(ways)
    assert found >= 10


def test_the_program_agrees_with_a_second_solver() -> None:
    """Reference: scipy.optimize.milp, given the same rows; both use HiGHS, so this checks the wiring only."""
    solve = Program.solve
    caught: list[Program] = []

    def keep(self: Program, *, nodes: int | None = None) -> object:
        caught.append(self)
        return solve(self, nodes=nodes)

    for seed in (3, 8, 21):
        job, _ = a_wall(seed)
        _, row = row_of(job)
        with pytest.MonkeyPatch.context() as patch:
            patch.setattr(Program, "solve", keep)
            chosen = choose((row,), (), kit=job.kit, tolerances=job.tolerances, unit=job.units)
        assert chosen is not None
        program = caught[-1]
        matrix = np.zeros((len(program.row_low), len(program.cost)))
        starts = [*program.start, len(program.index)]
        for r in range(len(program.row_low)):
            for k in range(starts[r], starts[r + 1]):
                matrix[r, program.index[k]] += program.value[k]
        answer = milp(
            program.cost,
            integrality=np.array(program.whole, dtype=int),
            bounds=Bounds(program.low, program.high),
            constraints=LinearConstraint(matrix, program.row_low, program.row_high),
            options={"mip_rel_gap": 0.0},
        )
        assert answer.fun == pytest.approx(chosen.minutes, abs=1e-6)
