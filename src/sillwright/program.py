"""A mixed-integer linear program, built row by row and solved by HiGHS with one thread and a fixed seed."""

from __future__ import annotations

from dataclasses import dataclass, field

import highspy
import numpy as np

from sillwright.errors import SillwrightError

INFINITY = highspy.kHighsInf
OPTIONS: tuple[tuple[str, float | int | bool], ...] = (
    ("threads", 1),
    ("random_seed", 0),
    ("mip_rel_gap", 0.0),
    ("mip_abs_gap", 1e-7),
    # these look for symmetries, first and better solutions that programs of this size do not need
    ("mip_allow_restart", False),
    ("mip_detect_symmetry", False),
    ("mip_heuristic_run_rens", False),
    ("mip_heuristic_run_rins", False),
    ("mip_heuristic_run_feasibility_jump", False),
    ("mip_heuristic_effort", 0.0),
)


class _Quiet(highspy.Highs):
    """HiGHS without its banner, which its callbacks print before any option could be set."""

    def enableCallbacks(self) -> None:  # noqa: N802 (the library's name)
        self.setOptionValue("output_flag", False)
        super().enableCallbacks()  # type: ignore[no-untyped-call]


@dataclass(slots=True)
class Program:
    """Minimise cost x subject to low <= A x <= high and bounds; some x whole numbers."""

    cost: list[float] = field(default_factory=list)
    low: list[float] = field(default_factory=list)
    high: list[float] = field(default_factory=list)
    whole: list[bool] = field(default_factory=list)
    row_low: list[float] = field(default_factory=list)
    row_high: list[float] = field(default_factory=list)
    start: list[int] = field(default_factory=list)
    index: list[int] = field(default_factory=list)
    value: list[float] = field(default_factory=list)
    offset: float = 0.0

    def variable(
        self, *, cost: float = 0.0, low: float = 0.0, high: float = INFINITY, whole: bool = False
    ) -> int:
        """Add a variable; return its index."""
        self.cost.append(cost)
        self.low.append(low)
        self.high.append(high)
        self.whole.append(whole)
        return len(self.cost) - 1

    def row(self, terms: list[tuple[int, float]], *, low: float = -INFINITY, high: float = INFINITY) -> int:
        """Add a constraint; return its index."""
        self.start.append(len(self.index))
        merged: dict[int, float] = {}
        for column, coefficient in terms:
            merged[column] = merged.get(column, 0.0) + coefficient
        for column, coefficient in merged.items():
            self.index.append(column)
            self.value.append(coefficient)
        self.row_low.append(low)
        self.row_high.append(high)
        return len(self.row_low) - 1

    def spread(self, terms: list[tuple[int, float]], *, cost: float, constant: float = 0.0) -> int:
        """Add a variable that is at least |terms + constant|, at a cost; return its index."""
        size = self.variable(cost=cost)
        self.row([*terms, (size, -1.0)], high=-constant)
        self.row([*terms, (size, 1.0)], low=-constant)
        return size

    def solve(self, *, nodes: int | None = None) -> Answer | None:
        """Return the optimum, or None where no x satisfies every row.

        Args: nodes: stop after so many branches with the best found; the same on every machine
        """
        solver = self._solver()
        if nodes is not None:
            solver.setOptionValue("mip_max_nodes", nodes)
        solver.run()
        status = solver.getModelStatus()
        if status == highspy.HighsModelStatus.kInfeasible:
            return None
        # 2: a feasible point, though not proved the best
        stopped = (
            status == highspy.HighsModelStatus.kSolutionLimit and solver.getInfo().primal_solution_status == 2
        )
        if status != highspy.HighsModelStatus.kOptimal and not stopped:
            raise SillwrightError(
                f"the solver stopped without an answer: {solver.modelStatusToString(status)}"
            )
        x = np.array(solver.getSolution().col_value)
        whole = np.array(self.whole, dtype=bool)
        x[whole] = np.rint(x[whole])
        return Answer(x=x + 0.0, objective=float(np.dot(self.cost, x)) + self.offset)

    def _solver(self) -> highspy.Highs:
        model = highspy.HighsLp()
        model.num_col_, model.num_row_ = len(self.cost), len(self.row_low)
        model.col_cost_ = np.array(self.cost, dtype=np.float64)
        model.col_lower_ = np.array(self.low, dtype=np.float64)
        model.col_upper_ = np.array(self.high, dtype=np.float64)
        model.row_lower_ = np.array(self.row_low, dtype=np.float64)
        model.row_upper_ = np.array(self.row_high, dtype=np.float64)
        model.a_matrix_.format_ = highspy.MatrixFormat.kRowwise
        model.a_matrix_.start_ = np.array([*self.start, len(self.index)], dtype=np.int32)
        model.a_matrix_.index_ = np.array(self.index, dtype=np.int32)
        model.a_matrix_.value_ = np.array(self.value, dtype=np.float64)
        kinds = (highspy.HighsVarType.kContinuous, highspy.HighsVarType.kInteger)
        solver = _Quiet()  # type: ignore[no-untyped-call]
        for option, setting in OPTIONS:
            solver.setOptionValue(option, setting)
        if any(self.whole):
            model.integrality_ = [kinds[whole] for whole in self.whole]
        else:
            solver.setOptionValue("presolve", "off")  # a plain program of this size is solved sooner as it is
        solver.passModel(model)
        return solver


@dataclass(frozen=True, slots=True)
class Answer:
    """An optimum."""

    x: np.ndarray[tuple[int], np.dtype[np.float64]]
    objective: float
