"""Water requirements, heads of water, rated tests, slopes, dew points and pairs against what others print."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any

import pytest
from tests.published.checks import Check, load

from sillwright.lengths import from_unit, to_unit
from sillwright.materials import (
    CONSTANTS,
    PerformanceClass,
    WaterFacts,
    check_lap,
    compatible,
    dew_point_c,
    dew_point_f,
    end_dam_height,
    examine_one,
    head_in_water,
    pct_of_in_per_ft,
    pressure_of_head_psf,
    requirement,
    shrinkage,
    sill_strip_length,
    slope_deg,
    slope_in_per_ft,
    velocity_pressure_psf,
    water_test_pressure,
    wind_mph_for,
)
from sillwright.materials.head import PA_PER_PSF
from sillwright.rules import rule_book

Given = Mapping[str, Any]


@pytest.mark.parametrize("check", load("water_limits"), ids=lambda check: f"{check.id} {check.given}")
def test_a_requirement_is_the_one_its_source_prints(check: Check) -> None:
    book = rule_book("2018", check.given["place"])
    limit = book.limits.get(check.given["limit"])
    if limit is None:
        assert requirement(check.given["limit"], book).value is None
        check.compare({"value": "ask the maker"})
        return
    check.compare({"value": limit.value, "unit": limit.unit})
    assert limit.from_memory == (check.kind == "from memory")
    assert limit.cited


@pytest.mark.parametrize("check", load("water_numbers"), ids=lambda check: check.id)
def test_a_number_comes_out_as_printed(check: Check) -> None:
    given = dict(check.given)
    check.compare(_NUMBERS[given.pop("of")](given))


@pytest.mark.parametrize("check", load("water_boundaries"), ids=lambda check: check.id)
def test_a_case_at_the_edge_falls_as_the_source_says(check: Check) -> None:
    given = {_key(name): _value(name, value) for name, value in check.given.items()}
    rule, book = given.pop("rule"), rule_book("2018", given.pop("place"))
    if rule.startswith("lap."):
        result = check_lap(rule.removeprefix("lap."), given.pop("lap"), book, place="A")
    else:
        result = examine_one(rule, WaterFacts(**given), book, place="A")
    check.compare({"answer": result.status})
    assert (result.finding is not None) == (result.status == "not met")


@pytest.mark.parametrize("check", load("water_pairs"), ids=lambda check: f"{check.id} {check.given}")
def test_a_pair_is_judged_as_its_source_says_whichever_way_round(check: Check) -> None:
    a, b = check.given["a"], check.given["b"]
    found = compatible(a, b)
    check.compare({"verdict": found.verdict})
    assert found == compatible(b, a)
    assert (found.status == "memory") == (check.kind == "from memory")


def _key(name: str) -> str:
    return {"water_pa": "water_psf"}.get(name, name.removesuffix("_mm"))


def _value(name: str, value: Any) -> Any:
    if name.endswith("_mm"):
        return from_unit(value, "mm")
    return value / PA_PER_PSF if name == "water_pa" else value


def _heads(pressure_psf: float) -> Given:
    head = head_in_water(pressure_psf)
    return {"head": head, "mm": to_unit(head, "mm")}


def _pressure(given: Given) -> Given:
    psf = pressure_of_head_psf(given["head"])
    return {"psf": psf, "pa": psf * PA_PER_PSF}


def _rated(given: Given) -> Given:
    book = rule_book("2018", given["place"])
    classes: tuple[PerformanceClass, ...] = (given["class"],) if "class" in given else ("R", "LC", "CW")
    found: dict[str, float] = {
        each: water_test_pressure(each, design_psf=given["design_psf"], book=book).psf for each in classes
    }
    one = found[classes[0]]
    return {**found, "psf": one, "pa": one * PA_PER_PSF}


def _dew(given: Given) -> Given:
    constants = CONSTANTS[given["constants"]]
    humidity = given["humidity_pct"]
    if "air_f" in given:
        return {"f": dew_point_f(given["air_f"], humidity_pct=humidity, constants=constants)}
    return {"c": dew_point_c(given["air_c"], humidity_pct=humidity, constants=constants)}


_NUMBERS: dict[str, Callable[[Given], Given]] = {
    "head": lambda given: _heads(given["pressure_psf"]),
    "head of pa": lambda given: _heads(given["pa"] / PA_PER_PSF),
    "pressure of head": _pressure,
    "pa": lambda given: {"pa": given["psf"] * PA_PER_PSF},
    "end dam": lambda given: {
        "mm": to_unit(end_dam_height(given["pa"] / PA_PER_PSF, rule_book("2018", given["place"])), "mm")
    },
    "wind": lambda given: {"psf": velocity_pressure_psf(given["mph"])},
    "wind for": lambda given: {"mph": wind_mph_for(given["psf"])},
    "rated": _rated,
    "slope": lambda given: {"deg": slope_deg(given["pct"]), "in_per_ft": slope_in_per_ft(given["pct"])},
    "rise": lambda given: {"pct": pct_of_in_per_ft(given["in_per_ft"])},
    "shrinkage": lambda given: {"in": shrinkage(given["height"], from_mc_pct=given["from_mc"])},
    "dew point": _dew,
    "constants": lambda given: {
        "a": CONSTANTS[given["constants"]].a,
        "b": CONSTANTS[given["constants"]].b_c,
    },
    "strip": lambda given: {"in": sill_strip_length(given["opening"], jamb_strip=given["jamb"])},
}
