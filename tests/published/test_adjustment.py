"""The adjustment against textbook networks, an independent library and certified regression sets."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from functools import cache
from typing import Any

import numpy as np
import pytest
from tests.published.adjustment import NETWORKS, checks
from tests.published.checks import Check, read
from tests.published.end_gauge import end_gauge
from tests.published.networks import Network, level_loop, network, two_benchmarks
from tests.published.regressions import linear, nonlinear

from sillwright.survey.adjust import Adjustment, adjust_linear
from sillwright.survey.statistics import critical_w, estimated_error, minimal_detectable, noncentrality

Found = Mapping[str, Any]
QUOTED_DELTA0 = 4.13  # the networks quote Baarda's rounded non-centrality
ROUNDED_DELTA0 = 4.1321  # the planted errors take two more digits


@pytest.mark.parametrize("check", checks(), ids=lambda check: check.id)
def test_the_adjustment_agrees_with_its_source(check: Check) -> None:
    check.compare(_found(check.given["file"], check.given))


def test_a_printed_s0_known_to_be_a_misprint_is_not_reproduced() -> None:
    # level-ghilani-12-6: the book prints 0.6575; its own readings give sqrt(1.27212 / 3) = 0.6512
    assert network("level-ghilani-12-6").adjusted().s0 == pytest.approx(0.6512, abs=5e-5)


def _found(file: str, given: Found) -> Found:
    if file in NETWORKS:
        return _network(file)
    if file.startswith("nist-linear"):
        return _linear(file)
    if file.startswith("nist-nonlinear"):
        return _nonlinear(file, given["start"])
    special: dict[str, Callable[[Found], Found]] = {
        "level-loop-forward-back": lambda _: _loop(),
        "level-two-benchmarks": lambda g: _heights(two_benchmarks(weighted=g["weighted"])),
        "level-mahun-residual-sums": lambda g: _residual_sums(g["point"]),
        "baarda-constants": lambda g: _baarda(g["alpha"], g["power"]),
        "gum-h1-end-gauge": lambda _: end_gauge(),
        "planted-blunders": lambda g: _blunder(read(file)["cases"][g["number"] - 1]),
    }
    return special[file](given)


def _heights(net: Network) -> Found:
    result = net.adjusted()
    return {"s0": result.s0} | dict(zip(net.names, result.x, strict=True))


@cache
def _network(file: str) -> Found:
    net = network(file)
    result = net.adjusted()
    found: dict[str, Any] = dict(_heights(net))
    found |= {f"{n} sd_mm": 1e3 * sd for n, sd in zip(net.names, result.sd(posterior=True), strict=True)}
    found |= {"vtpv": result.vtpv, "dof": result.dof, "sum of r": result.redundancy.sum()}
    columns = _columns(result, net)
    for i, (start, end) in enumerate(net.ends):
        found |= {f"{i + 1} {start} to {end} {name}": column[i] for name, column in columns.items()}
    return found


def _columns(result: Adjustment, net: Network) -> dict[str, Any]:
    error = estimated_error(result.residual, result.redundancy)
    mdb = minimal_detectable(net.sd, result.redundancy)
    return {
        "v_mm": 1e3 * result.residual,
        "r": result.redundancy,
        "w": result.standardised,
        "error_mm": 1e3 * error,
        "mdb_mm": 1e3 * mdb * QUOTED_DELTA0 / noncentrality(),
        "studentised": np.abs(result.standardised) / result.s0,
        "v_over_r_mm": -1e3 * error,  # the library prints the correction: the error with its sign turned
    }


def _loop() -> Found:
    net = level_loop()
    result = net.adjusted()
    size = np.abs(result.standardised)
    adjusted = net.observed + result.residual
    found: dict[str, Any] = dict(zip(net.names, result.x, strict=True))
    found |= {f"{p} sd_mm": 1e3 * sd for p, sd in zip(net.unknown, result.sd(), strict=True)}
    found |= {f"{i + 1} {a} to {b} adjusted": adjusted[i] for i, (a, b) in enumerate(net.ends)}
    found |= {"m0_mm": 5.0 * result.s0, "vv_mm2": 1e6 * float(result.residual @ result.residual)}
    return found | {
        "dof": result.dof,
        "largest w": size.max(),
        "at": int(size.argmax()) + 1,
        "critical w": critical_w(0.05),
    }


def _residual_sums(point: str) -> Found:
    # the benchmarks are not printed: readings that differ from a common height by the printed residuals
    printed = np.array(read("level-mahun-residual-sums")["published"][f"residuals_{point}_ft"])
    result = adjust_linear(np.ones((len(printed), 1)), -printed, sd=np.ones(len(printed)))
    residuals = {f"v{i}_ft": v for i, v in enumerate(result.residual, start=1)}
    return residuals | {"vtpv": result.vtpv}


def _blunder(case: dict[str, Any]) -> Found:
    net, scale = network(case["base"]), case["sigma_scale"]
    planted, told = case["observation"]["index_from_1"] - 1, case["expected"]["largest_w_index_from_1"] - 1
    error = np.zeros(len(net.observed))
    error[planted] = case["planted_mm"] / 1e3
    clean, result = net.adjusted(sd_scale=scale), net.adjusted(net.observed + error, sd_scale=scale)
    size = np.nan_to_num(np.abs(result.standardised))
    largest, second = np.sort(size)[[-1, -2]]
    assert size[told] == pytest.approx(largest, rel=1e-6)  # equals may share the first place
    detected = bool(largest > critical_w())
    shift = error[planted] * np.sqrt(clean.redundancy[planted]) / (net.sd[planted] * scale)
    mdb = minimal_detectable(net.sd * scale, clean.redundancy)
    return {
        "detected": detected,
        "located": detected and int(size.argmax()) == planted and second < largest * (1.0 - 1e-6),
        "w": result.standardised[told],
        "second w": second,
        "w by linear theory": clean.standardised[planted] - shift,
        "error_mm": 1e3 * estimated_error(result.residual, result.redundancy)[told],
        "mdb_mm": 1e3 * mdb[planted] * ROUNDED_DELTA0 / noncentrality(),
        "r": clean.redundancy[planted],
    }


def _baarda(alpha: float, power: float) -> Found:
    delta0 = noncentrality(alpha, power)
    return {"critical": critical_w(alpha), "delta0": delta0, "lambda0": delta0**2}


def _fit(result: Adjustment) -> dict[str, Any]:
    found: dict[str, Any] = {f"b{i}": b for i, b in enumerate(result.x, start=1)}
    found |= {f"sd{i}": sd for i, sd in enumerate(result.sd(posterior=True), start=1)}
    return found | {"residual_sd": result.s0, "dof": result.dof, "vtpv": result.vtpv}


@cache
def _linear(file: str) -> Found:
    data = read(file)
    result = linear(data)
    y = np.array(data["y"])
    return _fit(result) | {"r_squared": 1.0 - result.vtpv / float(np.sum((y - y.mean()) ** 2))}


@cache
def _nonlinear(file: str, start: str) -> Found:
    return _fit(nonlinear(read(file), start))
