"""Tapes, graduations and lasers against the standard, the guide to uncertainty and a manual."""

from __future__ import annotations

import csv
from collections.abc import Mapping
from pathlib import Path
from types import SimpleNamespace
from typing import Any, cast

import pytest
from tests.published.checks import Check, load

from sillwright.survey.instruments import laser_tilt_sd
from sillwright.survey.statistics import TAPE_CLASSES, rounding_sd, tape_mpe

MM_PER_INCH = 25.4
TABLE = Path(__file__).parent / "tolerances.csv"


@pytest.mark.parametrize("check", load("accuracy"), ids=lambda check: check.id)
def test_accuracy_agrees_with_its_source(check: Check) -> None:
    check.compare(_found(check.given))


@pytest.mark.parametrize("mid_class", ["I", "II", "III"])
def test_the_constants_of_a_tape_class_are_those_of_the_table(mid_class: str) -> None:
    # Directive 2014/32/EU, Annex X, Table 1, rows tape-mid-* of tolerances.csv
    with TABLE.open() as file:
        value = {row["id"]: row["value"] for row in csv.DictReader(line for line in file if line[0] != "#")}
    wanted = tuple(float(value[f"tape-mid-{name}-{mid_class}"]) for name in "abc")
    assert TAPE_CLASSES[mid_class] == wanted


def _found(given: Mapping[str, Any]) -> Mapping[str, Any]:
    if "graduation" in given:
        return {"rounding_sd": rounding_sd(given["graduation"])}
    if "distance_ft" in given:
        # a job without instruments and a set-up that names none: the bound is the usual one
        nobody, anywhere = SimpleNamespace(instrument=()), SimpleNamespace(instrument=None)
        tilt_sd = laser_tilt_sd(cast(Any, nobody), cast(Any, anywhere))
        return {"bound": tilt_sd * 3**0.5 * given["distance_ft"] * 12.0}
    if "metres" in given:
        length = given["metres"] * 1000.0 / MM_PER_INCH
        bound = tape_mpe(length, mid_class=given["mid_class"], from_hook=given["from_hook"])
        return {"mpe": bound, "mpe_mm": bound * MM_PER_INCH}
    return dict(zip("abc", TAPE_CLASSES[given["mid_class"]], strict=True))
