"""A mixed-integer linear program, built row by row and solved by HiGHS with one thread and a fixed seed."""

from __future__ import annotations

from dataclasses import dataclass, field

import highspy
import numpy as np

from sillwright.errors import SillwrightError

INFINITY = highspy.kHighsInf


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
    row_names: list[str] = field(default_factory=list)
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

    def row(
        self,
        terms: list[tuple[int, float]],
        *,
        low: float = -INFINITY,
        high: float = INFINITY,
        name: str = "",
    ) -> int:
        """Add a constraint; return its index."""
        self.start.append(len(self.index))
        for column, coefficient in terms:
            self.index.append(column)
            self.value.append(coefficient)
        self.row_low.append(low)
        self.row_high.append(high)
        self.row_names.append(name)
        return len(self.row_low) - 1

    def spread(self, terms: list[tuple[int, float]], *, cost: float, constant: float = 0.0) -> int:
        """Add a variable that is at least |terms + constant|, at a cost; return its index."""
        size = self.variable(cost=cost)
        self.row([*terms, (size, -1.0)], high=-constant)
        self.row([*terms, (size, 1.0)], low=-constant)
        return size

    def solve(self) -> Answer | None:
        """Return the optimum, or None where no x satisfies every row."""
        solver = self._solver()
        solver.run()
        status = solver.getModelStatus()
        if status == highspy.HighsModelStatus.kInfeasible:
            return None
        if status != highspy.HighsModelStatus.kOptimal:
            raise SillwrightError(
                f"the solver stopped without an answer: {solver.modelStatusToString(status)}"
            )
        x = np.array(solver.getSolution().col_value)
        whole = np.array(self.whole, dtype=bool)
        x[whole] = np.rint(x[whole])
        return Answer(x=x + 0.0, objective=float(np.dot(self.cost, x)) + self.offset)

    def conflict(self) -> tuple[str, ...]:
        """Return the names of a smallest set of rows that cannot hold together; unnamed rows left out."""
        solver = self._solver()
        solver.setOptionValue("iis_strategy", 2)
        solver.run()
        _, iis = solver.getIis()
        names = [self.row_names[row] for row in iis.row_index_]
        return tuple(dict.fromkeys(name for name in names if name))

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
        if any(self.whole):
            model.integrality_ = [kinds[whole] for whole in self.whole]
        solver = _Quiet()  # type: ignore[no-untyped-call]
        for option, setting in (
            ("threads", 1),
            ("random_seed", 0),
            ("mip_rel_gap", 0.0),
            ("mip_abs_gap", 1e-7),
        ):
            solver.setOptionValue(option, setting)
        solver.passModel(model)
        return solver


@dataclass(frozen=True, slots=True)
class Answer:
    """An optimum."""

    x: np.ndarray[tuple[int], np.dtype[np.float64]]
    objective: float
