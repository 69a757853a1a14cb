"""Measure, print, compare: `python -m benchmarks [row ...]`.

Each row measures two ways of doing the same thing in one run, checks that the answers agree, and prints a
ratio. To add a row, write a function without arguments that returns a `Row`, and name it in `ROWS`.
"""

from __future__ import annotations

import sys
from collections.abc import Callable

from benchmarks.batch_adjustment import batch_compiled, batch_numpy
from benchmarks.measure import Row, machine
from benchmarks.structure import ledger_layout, wall_checks, wall_inspection
from benchmarks.water import water_paths
from benchmarks.whole_plan import packet, plan_end_to_end, plan_with_water

ROWS: dict[str, Callable[[], Row]] = {
    "batch": batch_numpy,
    "batch-compiled": batch_compiled,
    "plan": plan_end_to_end,
    "packet": packet,
    "ledger-layout": ledger_layout,
    "wall-checks": wall_checks,
    "wall-inspection": wall_inspection,
    "water": water_paths,
    "water-plan": plan_with_water,
}


def main(names: list[str]) -> int:
    unknown = [name for name in names if name not in ROWS]
    if unknown:
        print(f"no such row: {', '.join(unknown)}. Rows: {', '.join(ROWS)}", file=sys.stderr)
        return 2
    print(machine())
    for name in names or ROWS:
        print(f"\n{name}\n{ROWS[name]()}")
    return 0


sys.exit(main(sys.argv[1:]))
