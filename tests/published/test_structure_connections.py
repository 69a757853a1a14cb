"""Yield-limit equations, withdrawal and factors against the wood standard's tables and worked examples."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any

import pytest
from tests.published.checks import Check, load

from sillwright.structure import (
    Dowel,
    FastenerRow,
    Side,
    bearing_strength,
    double_shear,
    edge_distance,
    group_action,
    ledger_line_load,
    single_shear,
    spacing_by_calculation,
    withdrawal,
    withdrawal_per_inch,
)
from sillwright.structure.connection_factors import FULL_AND_LEAST, WET_DOWEL
from sillwright.structure.timber import DURATIONS
from sillwright.structure.yield_limit import reductions

Given = Mapping[str, Any]


@pytest.mark.parametrize("check", load("structure_connections"), ids=lambda check: check.id)
def test_a_connection_agrees_with_its_source(check: Check) -> None:
    check.compare(_FIND[check.given["what"]](check.given))


def _fe(given: Given, member: str) -> float:
    stated = given.get(f"Fe_{member}", given.get("Fe"))
    if stated is not None:
        return float(stated)
    angle = given.get(f"theta_{member}", 0)
    fe = bearing_strength(given[f"G_{member}"], diameter=given["D"], angle_deg=angle)
    return round(fe / 50.0) * 50.0 if given.get("rounded_fe") else fe


def _shear(given: Given) -> Given:
    dowel = Dowel(
        kind="dowel", nominal=given["D"], diameter=given.get("Dr", given["D"]), fyb_psi=given["Fyb"]
    )
    main = Side(bearing_length=given["lm"], fe_psi=_fe(given, "main"), angle_deg=given.get("theta_main", 0))
    thickness = given.get("ls", given.get("ts"))
    assert thickness is not None
    side = Side(bearing_length=thickness, fe_psi=_fe(given, "side"), angle_deg=given.get("theta_side", 0))
    shear = single_shear if given["what"] == "single shear" else double_shear
    found = shear(dowel, main=main, side=side)
    if given["what"].endswith("before reduction"):
        return {"z": found.z_lbf * reductions(dowel, main, side)[2], "mode": found.mode}
    if "of_mode" in given:
        return {"z": found.modes[given["of_mode"]]}
    return {"z": found.z_lbf, "mode": found.mode}


def _withdrawal(given: Given) -> Given:
    value = withdrawal_per_inch(given["kind"], specific_gravity=given["G"], diameter=given["D"])
    return {"value": withdrawal(value, thread_in_main=given["pt"]) if "pt" in given else value}


def _group(given: Given) -> Given:
    side = given["As"] * given["E"]
    row = FastenerRow(
        count=given["n"],
        spacing=given["s"],
        diameter=given["D"],
        stiffness_main_lbf=side / given["As_over_Am"],
        stiffness_side_lbf=side,
    )
    return {"value": group_action(row)}


def _geometry(given: Given) -> Given:
    name, which = given["rule"].rsplit("_", 1)
    return {"diameters": FULL_AND_LEAST[name][which == "min"]}


def _ledger_plf(given: Given) -> Given:
    return {"value": ledger_line_load(given["w_psf"], joist_span_ft=given["span_ft"])}


def _ledger_lag(given: Given) -> Given:
    spacing = spacing_by_calculation(given["Z_lbf"], load_psf=given["w_psf"], joist_span_ft=given["span_ft"])
    return {"value": spacing}


def _ledger_demand(given: Given) -> Given:
    return {"value": _ledger_plf(given)["value"] * given["spacing_in"] / 12.0}


def _bearing(given: Given) -> Given:
    return {"value": bearing_strength(given["G"], diameter=given["D"], angle_deg=given["theta"])}


_FIND: dict[str, Callable[[Given], Given]] = {
    "single shear": _shear,
    "double shear": _shear,
    "double shear before reduction": _shear,
    "withdrawal": _withdrawal,
    "bearing strength": _bearing,
    "group action": _group,
    "edge": lambda g: {"value": edge_distance(g["rule"], diameter=g["D"])},
    "geometry": _geometry,
    "duration": lambda g: {"factor": DURATIONS[g["duration"]]},
    "wet": lambda _: {"factor": WET_DOWEL},
    "ledger-lag": _ledger_lag,
    "ledger-plf": _ledger_plf,
    "ledger-demand": _ledger_demand,
}
