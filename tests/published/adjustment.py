"""Checks of the adjustment made from the data files in the folder `adjustment`, one file an example.

The files keep apart what a source prints, what an independent library prints, and what was computed a second
time when the file was made; so do these checks, in `kind`.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from tests.published.checks import EXACT, Check, read

SUBJECT = "adjustment"
NETWORKS = (
    "level-ghilani-12-6",
    "level-niemeier-fixed",
    "level-krumm-one-redundant",
    "quad-strang-borre-free",
    "quad-benning-8-2",
    "intersect-benning-8-8",
    "trilat-ghilani-14-5",
    "trilat-weiss",
    "spatial-wolf",
)
LINEAR_DIGITS = {"longley": (10, 11), "norris": (12, 12), "pontius": (12, 12), "wampler4": (7, 9)}
"""Digits asserted of the 15 certified ones, parameters and their standard deviations. Double precision
loses digits to the condition of the design (longley) and to residuals far above the unknowns: those of
wampler4 are all 1 and have standard deviations of up to 236355. Its own standard deviations come from normal
equations, which square the condition of its scaled design, 2e3."""
NONLINEAR = ("boxbod", "chwirut2", "danwood", "misra1a", "thurber")
SECOND = "second computation, not published"
LIBRARY = "independent survey-adjustment library 2.18.5"
# name in the file -> (name here, half of its last digit)
_COMPUTED = {
    "residual_adjusted_minus_observed_mm": ("v_mm", 5e-5),
    "redundancy_number": ("r", 5e-6),
    "w_apriori_sigma": ("w", 5e-5),
    "estimated_gross_error_mm": ("error_mm", 5e-4),
    "mdb_mm_delta0_4.13": ("mdb_mm", 5e-4),
}
_LIBRARY = {"abs_studentised_residual": ("studentised", 5e-4), "v_over_r_mm": ("v_over_r_mm", 5e-4)}


def checks() -> list[Check]:
    """Return every check of the adjustment."""
    rows = [row for name in NETWORKS for row in _network(name)]
    networks = [*rows, *_loop(), *_two_benchmarks(), *_residual_sums(), *_blunders()]
    return [*networks, *_linear(), *_nonlinear(), *_baarda(), *_end_gauge()]


def _check(file: str, **row: Any) -> Check:
    case = row.pop("case", {})
    return Check(subject=SUBJECT, given={"file": file} | case, **row)


def _network(file: str) -> Iterator[Check]:
    data = read(file)
    source = f"{data['source_original']}; answers: {data['source_published_answers']}"
    if data["source_original"].startswith("example of the collection"):
        source = data["source_published_answers"]
    # the collection says of one example that it took the coordinates from its own computation
    kind = SECOND if "computed from its companion file" in data["notes"] else "worked example"
    printed = data["published_adjusted"]
    axes = [axis for axis in next(iter(printed.values())) if axis != "sd_mm"]
    place = {f"{p} {axis}": at[axis] for p, at in printed.items() for axis in axes}
    spread = {
        f"{p} {axis} sd_mm": sd
        for p, at in printed.items()
        for axis, sd in zip(axes, at["sd_mm"], strict=True)
    }
    note = data["notes"]
    yield _check(
        file, source=source, where=f"{file}: coordinates", kind=kind, expect=place, tol=5e-5, note=note
    )
    yield _check(
        file, source=source, where=f"{file}: standard deviations", kind=kind, expect=spread, tol=5e-3
    )
    yield from _columns(file, data["observations"], "independent_library", _LIBRARY, "reference library")
    yield from _columns(file, data["observations"], "expected", _COMPUTED, SECOND)
    yield from _whole(file, data["computed_here"])


def _columns(
    file: str, readings: list[dict[str, Any]], block: str, columns: Mapping[str, tuple[str, float]], kind: str
) -> Iterator[Check]:
    source = LIBRARY if kind == "reference library" else "second computation, normal equations"
    for key, (name, tol) in columns.items():
        found = {_name(i, o): o.get(block, {}).get(key) for i, o in enumerate(readings, start=1)}
        expect = {f"{reading} {name}": value for reading, value in found.items() if value is not None}
        yield _check(file, source=source, where=f"{file}: {name}", kind=kind, expect=expect, tol=tol)


def _name(number: int, reading: Mapping[str, Any]) -> str:
    return f"{number} {reading['from']} to {reading['to']}"


def _whole(file: str, computed: Mapping[str, Any]) -> Iterator[Check]:
    source = "second computation, normal equations"
    sums = {"vtpv": computed["sum_vPv"], "s0": computed["sigma0_posteriori_over_apriori"]}
    sums["sum of r"] = computed["sum_of_redundancy_numbers"]
    dof = {"dof": computed["degrees_of_freedom"]}
    yield _check(file, source=source, where=f"{file}: v'Pv, s0, sum of r", kind=SECOND, expect=sums, tol=5e-7)
    yield _check(file, source=source, where=f"{file}: degrees of freedom", kind=SECOND, expect=dof, tol=EXACT)


def _loop() -> Iterator[Check]:
    file = "level-loop-forward-back"
    data = read(file)
    printed = data["published"]
    say = {"source": data["source"], "kind": "reference library"}
    heights = {f"{p} height_m": z for p, z in printed["heights_m"].items()}
    lines = enumerate(zip(data["observations"], printed["adjusted_differences_m"], strict=True), start=1)
    adjusted = {f"{_name(i, o)} adjusted": value for i, (o, value) in lines}
    spread = {f"{p} sd_mm": sd for p, sd in printed["sd_apriori_mm"].items()}
    two = {"m0_mm": printed["m0_posteriori_mm"], "largest w": printed["max_normalised_residual"]}
    two["critical w"] = printed["critical_value_5_percent"]
    whole = {"dof": printed["degrees_of_freedom"], "at": printed["max_at_observation"]}
    yield _check(file, where=f"{file}: heights", expect=heights, tol=5e-6, **say)
    yield _check(file, where=f"{file}: adjusted differences", expect=adjusted, tol=5e-6, **say)
    yield _check(file, where=f"{file}: standard deviations", expect=spread, tol=0.05, **say)
    yield _check(file, where=f"{file}: m0, largest w, limit", expect=two, tol=5e-3, **say)
    yield _check(file, where=f"{file}: v'v", expect={"vv_mm2": printed["sum_vv_mm2"]}, tol=5e-4, **say)
    yield _check(
        file, where=f"{file}: degrees of freedom, place of the largest w", expect=whole, tol=EXACT, **say
    )


def _two_benchmarks() -> Iterator[Check]:
    file = "level-two-benchmarks"
    data = read(file)
    answers = data["recalled_answers"]
    s0 = {False: ("S0_unweighted", 5e-3), True: ("S0_weighted_weights_12_over_length", 5e-4)}
    for weighted, name in ((False, "unweighted"), (True, "weighted")):
        say = {"source": data["source"], "kind": "from memory", "case": {"weighted": weighted}}
        heights = {f"{p} height_ft": z for p, z in answers[name].items()}
        key, tol = s0[weighted]
        yield _check(file, where=f"{file}: heights, {name}", expect=heights, tol=5e-4, **say)
        yield _check(file, where=f"{file}: S0, {name}", expect={"s0": answers[key]}, tol=tol, **say)


def _residual_sums() -> Iterator[Check]:
    file = "level-mahun-residual-sums"
    data = read(file)
    printed = data["published"]
    for point, tol in (("Q", 5e-5), ("R", 5e-7)):
        say = {"source": data["source"], "kind": "worked example", "case": {"point": point}}
        residuals = {f"v{i}_ft": v for i, v in enumerate(printed[f"residuals_{point}_ft"], start=1)}
        total = {"vtpv": printed[f"sum_v2_{point}"]}
        yield _check(file, where=f"{file}: residuals at {point}", expect=residuals, tol=5e-4, **say)
        yield _check(file, where=f"{file}: sum of squares at {point}", expect=total, tol=tol, **say)


def _blunders() -> Iterator[Check]:
    file = "planted-blunders"
    for number, case in enumerate(read(file)["cases"], start=1):
        expect = case["expected"]
        told = {key: expect[key] for key in ("detected", "located")}
        one = {"w": expect["w"], "second w": expect["second_largest_w"]}
        one["w by linear theory"] = expect["w_predicted_by_linear_theory"]
        size = {"error_mm": expect["estimated_gross_error_mm"], "mdb_mm": case["mdb_mm"]}
        reading = case["observation"]
        at = f"{reading['from']} to {reading['to']} of {case['base']}"
        where = f"{file} {number}: {case['planted_mm']:g} mm at {at}"
        say = {"source": "error planted in a published net", "kind": SECOND, "case": {"number": number}}
        yield _check(file, where=f"{where}: found, located", expect=told, tol=EXACT, **say)
        yield _check(file, where=f"{where}: w", expect=one, tol=5e-5, **say)
        yield _check(file, where=f"{where}: error, MDB", expect=size, tol=5e-4, **say)
        yield _check(file, where=f"{where}: r", expect={"r": case["redundancy"]}, tol=5e-6, **say)


def _linear() -> Iterator[Check]:
    for name, (digits, sd_digits) in LINEAR_DIGITS.items():
        file = f"nist-linear-{name}"
        data = read(file)
        certified = data["certified"]
        say = {"source": data["source"], "kind": "dataset"}
        rest = {"residual_sd": certified["residual_sd"], "r_squared": certified["r_squared"]}
        yield _check(
            file,
            where="parameters",
            expect=_list("b", certified["parameters"]),
            tol=f"{digits} digits",
            **say,
        )
        spread = _list("sd", certified["sd_of_estimate"])
        yield _check(file, where="standard deviations", expect=spread, tol=f"{sd_digits} digits", **say)
        yield _check(
            file, where="residual standard deviation, R squared", expect=rest, tol="12 digits", **say
        )
        dof = {"dof": certified["degrees_of_freedom"]}
        yield _check(file, where="degrees of freedom", expect=dof, tol=EXACT, **say)


def _nonlinear() -> Iterator[Check]:
    for file in (f"nist-nonlinear-{name}" for name in NONLINEAR):
        data = read(file)
        certified = data["certified"]
        # eleven digits are certified; ten are asserted, as the last is itself rounded
        real = _list("b", certified["parameters"]) | _list("sd", certified["sd_of_estimate"])
        real |= {"vtpv": certified["residual_sum_of_squares"], "residual_sd": certified["residual_sd"]}
        dof = {"dof": certified["degrees_of_freedom"]}
        for start in ("start1", "start2"):
            say = {"source": data["source"], "kind": "dataset", "case": {"start": start}}
            where = f"from {start}: all certified values"
            yield _check(file, where=where, expect=real, tol="10 digits", **say)
            yield _check(file, where=f"from {start}: degrees of freedom", expect=dof, tol=EXACT, **say)


def _baarda() -> Iterator[Check]:
    file = "baarda-constants"
    for case in read(file)["computed_here"]:
        where = f"{file}: alpha {case['alpha']}, power {case['power']}"
        given = {"alpha": case["alpha"], "power": case["power"]}
        expect = {key: case[key] for key in ("critical", "delta0", "lambda0")}
        yield _check(
            file, source="second computation", where=where, kind=SECOND, case=given, expect=expect, tol=5e-5
        )


def _end_gauge() -> Iterator[Check]:
    file = "gum-h1-end-gauge"
    data = read(file)
    printed, recalled, computed = data["published"], data["from_memory"], data["computed_here"]
    result = {"l_nm": printed["l_nm"], "uc_nm": printed["uc_nm"]}
    result["uc_with_second_order_nm"] = printed["uc_with_second_order_nm"]
    # the guide cuts nu_eff to a whole number
    memory = {"nu_eff cut": recalled["nu_eff"], "U99_nm": recalled["U99_nm"]}
    again = {key: computed[key] for key in ("uc_nm", "u_d_nm", "nu_eff", "second_order_term_nm")}
    say = {"source": data["source"], "kind": "worked example"}
    yield _check(file, where=f"{file}: components", expect=printed["components_nm"], tol=5e-4, **say)
    yield _check(file, where=f"{file}: length and combined uncertainty", expect=result, tol=0.5, **say)
    say |= {"kind": "from memory"}
    yield _check(file, where=f"{file}: expanded uncertainty", expect=memory, tol=0.5, **say)
    yield _check(file, where=f"{file}: k99", expect={"k99": recalled["k99"]}, tol=5e-3, **say)
    say |= {"source": "second computation", "kind": SECOND}
    yield _check(file, where=f"{file}: budget, unrounded", expect=again, tol=5e-4, **say)


def _list(name: str, values: list[float]) -> dict[str, float]:
    return {f"{name}{i}": value for i, value in enumerate(values, start=1)}
