"""The models of the certified regression sets, with their derivatives."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import numpy as np

from sillwright.survey.adjust import Adjustment, Array, Model, adjust, adjust_linear


def linear(data: dict[str, Any]) -> Adjustment:
    """Return the fit of a linear set: several predictors, or a polynomial in one."""
    y, x = np.array(data["y"]), np.array(data["x"])
    unknowns = len(data["certified"]["parameters"])
    design = np.column_stack([np.ones(len(y)), x]) if x.ndim == 2 else np.vander(x, unknowns, increasing=True)
    return adjust_linear(design, y, sd=np.ones(len(y)))


def nonlinear(data: dict[str, Any], start: str) -> Adjustment:
    """Return the fit of a nonlinear set from one of its two certified starts."""
    y, x = np.array(data["y"]), np.array(data["x"])
    model = _MODELS[data["model"]](x)
    # from far away a rejected trial step may leave the range of exp
    with np.errstate(over="ignore", invalid="ignore"):
        return adjust(model, y, sd=np.ones(len(y)), start=np.array(data[start]))


def _rise(x: Array) -> Model:
    def model(b: Array) -> tuple[Array, Array]:
        rest = np.exp(-b[1] * x)
        return b[0] * (1.0 - rest), np.column_stack([1.0 - rest, b[0] * x * rest])

    return model


def _decay(x: Array) -> Model:
    def model(b: Array) -> tuple[Array, Array]:
        below = b[1] + b[2] * x
        y = np.exp(-b[0] * x) / below
        return y, np.column_stack([-x * y, -y / below, -x * y / below])

    return model


def _power(x: Array) -> Model:
    def model(b: Array) -> tuple[Array, Array]:
        y = b[0] * x ** b[1]
        return y, np.column_stack([x ** b[1], y * np.log(x)])

    return model


def _quotient(x: Array) -> Model:
    powers = np.vander(x, 4, increasing=True)

    def model(b: Array) -> tuple[Array, Array]:
        below = 1.0 + powers[:, 1:] @ b[4:]
        y = powers @ b[:4] / below
        return y, np.hstack([powers / below[:, None], -(y / below)[:, None] * powers[:, 1:]])

    return model


_MODELS: dict[str, Callable[[Array], Model]] = {
    "y = b1*(1-exp(-b2*x))": _rise,
    "y = exp(-b1*x)/(b2+b3*x)": _decay,
    "y = b1*x**b2": _power,
    "y = (b1+b2*x+b3*x**2+b4*x**3)/(1+b5*x+b6*x**2+b7*x**3)": _quotient,
}
