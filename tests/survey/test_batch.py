"""The batch against the same net written out anew: by geometry, complex steps and QR, and by scipy."""

from __future__ import annotations

import dataclasses

import numpy as np
import pytest
from benchmarks.synthetic import seeded_openings
from numpy.typing import NDArray
from scipy.optimize import least_squares

from sillwright.errors import BadInput, NotDetermined, OutOfRange
from sillwright.survey import batch, compiled
from sillwright.survey.batch import adjust_batch
from sillwright.survey.compiled import adjust_compiled, adjust_rows, adjust_with
from sillwright.survey.like import OBSERVATIONS, READINGS, UNKNOWNS, BatchResult, LikeOpenings

Array = NDArray[np.float64]
FIELDS = ("x", "sd", "residual", "redundancy", "vPv")
COUNT = 20


@pytest.fixture(scope="module")
def openings() -> LikeOpenings:
    return seeded_openings(COUNT, seed=7)


@pytest.fixture(scope="module")
def adjusted(openings: LikeOpenings) -> BatchResult:
    return adjust_batch(openings)


def some(openings: LikeOpenings, index: slice | NDArray[np.int_]) -> LikeOpenings:
    o = openings
    return dataclasses.replace(o, readings=o.readings[index], width=o.width[index], height=o.height[index])


def reading_changed(openings: LikeOpenings, name: str, by: float) -> LikeOpenings:
    readings = openings.readings.copy()
    readings[:, READINGS.index(name)] += by
    return dataclasses.replace(openings, readings=readings)


# --- the net written out anew, in the order of OBSERVATIONS ---------------------------------------------


def line(places: tuple[float, float], values: Array, at: float) -> Array:
    """Height of a straight line through two points at another place."""
    return values[0] + (values[1] - values[0]) * (at - places[0]) / (places[1] - places[0])  # type: ignore[no-any-return]


def corners(x: Array, width: float, height: float, near: float) -> dict[str, tuple[Array, Array]]:
    """Corners where jambs and edges, drawn straight through their two nearest places, are carried to."""
    left, right, sill, head = x[0:3], x[3:6], x[6:9], x[9:12]
    up, along = (near, height / 2, height - near), (near, width / 2, width - near)
    found = {}
    for across, jamb in (("left", left), ("right", right)):
        for level, edge in (("bottom", sill), ("top", head)):
            jamb_x = line(up[:2], jamb[:2], 0) if level == "bottom" else line(up[1:], jamb[1:], height)
            edge_z = line(along[:2], edge[:2], 0) if across == "left" else line(along[1:], edge[1:], width)
            found[f"{level} {across}"] = (jamb_x, edge_z)
    return found


def distance(a: tuple[Array, Array], b: tuple[Array, Array]) -> Array:
    return ((a[0] - b[0]) ** 2 + (a[1] - b[1]) ** 2) ** 0.5


def model(x: Array, openings: LikeOpenings, i: int) -> Array:
    """What would be observed at unknowns x."""
    left, right, sill, head, beams = x[0:3], x[3:6], x[6:9], x[9:12], x[12:14]
    at = corners(x, openings.width[i], openings.height[i], openings.near)
    off = [edge[1] - (edge[0] + edge[2]) / 2 for edge in (left, right, sill, head)]
    shots = [down for b in beams for down in (b, *(b - sill), *(b - head))]
    along = (left[0], right[0], *(right - left), left[2] - left[0], right[2] - right[0], off[0], off[1])
    up = (*(head - sill), *shots, off[2], off[3])
    rising, falling = (
        distance(at["bottom left"], at["top right"]),
        distance(at["bottom right"], at["top left"]),
    )
    return np.array([*along, *up, rising, falling])


def observed(openings: LikeOpenings, i: int) -> Array:
    by_name = dict(zip(READINGS, openings.readings[i], strict=True))
    return np.array([by_name.get(name, 0.0) for name in OBSERVATIONS])


def sds(openings: LikeOpenings) -> Array:
    s = openings.sds
    along = [s.running_sd] * 2 + [s.width_sd] * 3 + [s.lean_sd] * 2 + [s.jack_bow_sd] * 2
    up = [s.height_sd] * 3 + [s.laser_sd] * 14 + [s.sill_bow_sd, s.head_sag_sd]
    return np.array([*along, *up, s.diagonal_sd, s.diagonal_sd])


def jacobian(x: Array, openings: LikeOpenings, i: int) -> Array:
    """Derivatives by complex steps, exact to rounding (W. Squire and G. Trapp, 1998; from memory)."""
    steps = x + 1e-30j * np.eye(14)
    return np.column_stack([model(step, openings, i).imag / 1e-30 for step in steps])


def drawn(openings: LikeOpenings, i: int) -> Array:
    """A square opening of the nominal size, to start from."""
    left, width, height = openings.readings[i, 0], openings.width[i], openings.height[i]
    return np.array([*[left] * 3, *[left + width] * 3, *[0.0] * 3, *[height] * 3, 60.0, 60.0])


def by_qr(openings: LikeOpenings, i: int) -> dict[str, Array]:
    """Dense Gauss-Newton with an orthogonal factorisation of one opening."""
    x, sd, l = drawn(openings, i), sds(openings), observed(openings, i)  # noqa: E741
    for _ in range(12):
        q, r = np.linalg.qr(jacobian(x, openings, i) / sd[:, None])
        x = x + np.linalg.solve(r, q.T @ ((l - model(x, openings, i)) / sd))
    v = model(x, openings, i) - l
    inverse = np.linalg.inv(r)
    return {
        "x": x,
        "sd": np.sqrt(np.sum(inverse**2, axis=1)),
        "residual": v,
        "redundancy": 1 - np.sum(q**2, axis=1),
        "vPv": np.sum((v / sd) ** 2),
    }


@pytest.mark.parametrize("i", range(COUNT))
def test_a_batch_equals_each_opening_adjusted_alone_by_qr(
    openings: LikeOpenings, adjusted: BatchResult, i: int
) -> None:
    alone = by_qr(openings, i)
    for name in FIELDS:
        np.testing.assert_allclose(getattr(adjusted, name)[i], alone[name], rtol=0, atol=1e-9, err_msg=name)


@pytest.mark.parametrize("i", range(COUNT))
def test_a_batch_agrees_with_a_general_solver(openings: LikeOpenings, adjusted: BatchResult, i: int) -> None:
    # kind: reference library, scipy.optimize.least_squares
    sd, l = sds(openings), observed(openings, i)  # noqa: E741

    def misfit(x: Array) -> Array:
        return (model(x, openings, i) - l) / sd

    def slope(x: Array) -> Array:
        return jacobian(x, openings, i) / sd[:, None]

    start = drawn(openings, i)
    found = least_squares(misfit, start, jac=slope, x_scale="jac", ftol=1e-15, xtol=1e-15, gtol=1e-15)
    np.testing.assert_allclose(adjusted.x[i], found.x, rtol=0, atol=1e-8)
    np.testing.assert_allclose(adjusted.vPv[i], 2 * found.cost, rtol=1e-10)


# --- laws -------------------------------------------------------------------------------------------------


def test_redundancy_numbers_lie_between_0_and_1_and_sum_to_readings_less_unknowns(
    adjusted: BatchResult,
) -> None:
    # source: sum r_i = n - u, trace of a projector
    assert np.all((adjusted.redundancy > 0) & (adjusted.redundancy < 1))
    np.testing.assert_allclose(adjusted.redundancy.sum(axis=1), len(OBSERVATIONS) - len(UNKNOWNS), atol=1e-12)


@pytest.mark.parametrize("name", READINGS)
def test_an_error_shows_in_its_own_residual_as_far_as_its_redundancy_number_says(
    openings: LikeOpenings, adjusted: BatchResult, name: str
) -> None:
    # source: dv_i = -r_i e, exact for linear nets; the diagonals bend it by a part in some thousands
    error, column = 1e-3, OBSERVATIONS.index(name)
    wrong = adjust_batch(reading_changed(openings, name, error))
    change = (wrong.residual - adjusted.residual)[:, column] / error
    np.testing.assert_allclose(change, -adjusted.redundancy[:, column], atol=2e-3)


def test_residuals_scatter_as_the_stated_standard_deviations_say() -> None:
    # v'Pv of the linear part is chi-square of 16: mean 16, variance 32; here 4000 draws, 5 sd of the mean
    many = seeded_openings(4000, seed=11)
    exact_bow = dataclasses.replace(many.sds, jack_bow_sd=0.15 * 1.5**0.5, sill_bow_sd=0.15 * 1.5**0.5)
    sds_as_drawn = dataclasses.replace(exact_bow, head_sag_sd=0.15 * 1.5**0.5)
    mean = adjust_batch(dataclasses.replace(many, sds=sds_as_drawn)).vPv.mean()
    assert mean == pytest.approx(16, abs=5 * (32 / 4000) ** 0.5)


def test_an_opening_alone_gets_the_same_answer_as_in_a_batch(
    openings: LikeOpenings, adjusted: BatchResult
) -> None:
    for i in range(COUNT):
        alone = adjust_batch(some(openings, slice(i, i + 1)))
        for name in FIELDS:
            np.testing.assert_allclose(
                getattr(alone, name)[0], getattr(adjusted, name)[i], rtol=1e-12, atol=1e-12
            )


def test_the_order_of_openings_does_not_matter(openings: LikeOpenings, adjusted: BatchResult) -> None:
    order = np.random.default_rng(3).permutation(COUNT)
    shuffled = adjust_batch(some(openings, order))
    for name in FIELDS:
        np.testing.assert_allclose(
            getattr(shuffled, name), getattr(adjusted, name)[order], rtol=1e-12, atol=1e-12
        )


def test_batches_longer_than_one_working_block_are_joined_without_a_seam(
    openings: LikeOpenings, adjusted: BatchResult, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(batch, "_TIED", 7)
    monkeypatch.setattr(batch, "_FILLED", 3)
    pieces = adjust_batch(openings)
    for name in FIELDS:
        np.testing.assert_allclose(getattr(pieces, name), getattr(adjusted, name), rtol=1e-12, atol=1e-12)


def mirrored(names: tuple[str, ...]) -> tuple[list[int], Array]:
    """Where each column comes from in a mirror, and whether it changes its sign."""
    swaps = {"left": "right", "right": "left"}
    sources = [names.index(" ".join(swaps.get(word, word) for word in name.split())) for name in names]
    turned = [("jack x" in n or "jamb x" in n or "lean" in n or n.endswith("jamb straight")) for n in names]
    return sources, np.where(turned, -1.0, 1.0)


def test_a_mirrored_opening_gets_the_mirrored_answer(openings: LikeOpenings, adjusted: BatchResult) -> None:
    (read_from, read_sign), (x_from, x_sign) = mirrored(READINGS), mirrored(UNKNOWNS)
    v_from, v_sign = mirrored(OBSERVATIONS)
    turned = adjust_batch(dataclasses.replace(openings, readings=openings.readings[:, read_from] * read_sign))
    np.testing.assert_allclose(turned.x, adjusted.x[:, x_from] * x_sign, atol=1e-11)
    np.testing.assert_allclose(turned.sd, adjusted.sd[:, x_from], atol=1e-12)
    np.testing.assert_allclose(turned.residual, adjusted.residual[:, v_from] * v_sign, atol=1e-11)
    np.testing.assert_allclose(turned.redundancy, adjusted.redundancy[:, v_from], atol=1e-12)
    np.testing.assert_allclose(turned.vPv, adjusted.vPv, atol=1e-9)


def test_moving_the_wall_mark_moves_every_jamb_and_nothing_else(
    openings: LikeOpenings, adjusted: BatchResult
) -> None:
    readings = openings.readings.copy()
    readings[:, :2] += 100
    moved = adjust_batch(dataclasses.replace(openings, readings=readings))
    np.testing.assert_allclose(
        moved.x - adjusted.x, np.repeat([[100.0] * 6 + [0.0] * 8], COUNT, 0), atol=1e-10
    )
    np.testing.assert_allclose(moved.residual, adjusted.residual, atol=1e-10)


def test_a_diagonal_misread_by_a_foot_still_settles_and_stands_out(openings: LikeOpenings) -> None:
    result = adjust_batch(reading_changed(openings, READINGS[-1], 12.0))
    size = np.abs(result.residual) / (sds(openings) * np.sqrt(result.redundancy))
    assert np.all(size.argmax(axis=1) == OBSERVATIONS.index(READINGS[-1]))


# --- the compiled form --------------------------------------------------------------------------------------


def test_the_compiled_form_gives_the_same_answers() -> None:
    pytest.importorskip("numba")
    many = seeded_openings(4100, seed=5)  # two threads, and a last block that is not full
    ours, plain = adjust_compiled(many), adjust_batch(many)
    for name in FIELDS:
        np.testing.assert_allclose(getattr(ours, name), getattr(plain, name), rtol=0, atol=1e-9, err_msg=name)
    with pytest.raises(NotDetermined, match=r"openings\[4000\]"):
        adjust_compiled(spoilt(many, 4000))


def test_the_loop_gives_the_same_answers_uncompiled(openings: LikeOpenings, adjusted: BatchResult) -> None:
    slow = adjust_with(adjust_rows, openings)
    for name in FIELDS:
        np.testing.assert_allclose(getattr(slow, name), getattr(adjusted, name), rtol=0, atol=1e-10)


def test_without_a_compiler_the_compiled_form_says_what_to_install(
    openings: LikeOpenings, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(compiled, "find_spec", lambda _: None)
    assert not compiled.available()
    with pytest.raises(BadInput, match=r"sillwright\[fast\]"):
        adjust_compiled(openings)


# --- what is refused ----------------------------------------------------------------------------------------


def spoilt(openings: LikeOpenings, i: int) -> LikeOpenings:
    """Give one opening a diagonal far shorter than its width."""
    readings = openings.readings.copy()
    readings[i, -2:] = 0.5
    return dataclasses.replace(openings, readings=readings)


def test_diagonals_that_no_shape_fits_are_reported_with_their_opening(openings: LikeOpenings) -> None:
    with pytest.raises(NotDetermined, match=r"openings\[13\].*Check both diagonals"):
        adjust_batch(spoilt(openings, 13))
    with np.errstate(all="ignore"), pytest.raises(NotDetermined, match=r"openings\[13\]"):
        adjust_with(adjust_rows, spoilt(openings, 13))


def test_a_reading_that_is_no_number_is_named_by_its_place(openings: LikeOpenings) -> None:
    readings = openings.readings.copy()
    readings[4, 9] = np.nan
    with pytest.raises(BadInput, match=r"readings\[4\]\[9\]: is not a finite number"):
        dataclasses.replace(openings, readings=readings)


@pytest.mark.parametrize(
    ("change", "message"),
    [
        ({"readings": np.ones((COUNT, 25))}, "readings: has shape"),
        ({"readings": 3.0}, "readings: has shape"),
        ({"width": np.ones(COUNT - 1)}, "width: has shape"),
        ({"height": [[1.0]]}, "height: has shape"),
        ({"readings": [[1.0], [2.0, 3.0]]}, "readings: is not a table of numbers"),
        ({"readings": np.ones((0, 26)), "width": [], "height": []}, "holds no opening"),
        ({"readings": np.zeros((COUNT, 26))}, "diagonal that is not above 0"),
    ],
)
def test_tables_that_do_not_agree_are_refused(
    openings: LikeOpenings, change: dict[str, object], message: str
) -> None:
    with pytest.raises(BadInput, match=message):
        dataclasses.replace(openings, **change)  # type: ignore[arg-type]


@pytest.mark.parametrize("near", [-0.1, 20.0, np.nan])
def test_outer_places_must_lie_inside_the_opening(openings: LikeOpenings, near: float) -> None:
    with pytest.raises(OutOfRange, match="near"):
        dataclasses.replace(openings, near=near)


@pytest.mark.parametrize("sd", [0.0, -1.0, np.nan, np.inf])
def test_a_standard_deviation_must_be_above_0(openings: LikeOpenings, sd: float) -> None:
    with pytest.raises(BadInput, match="lean_sd: is not a length above 0"):
        dataclasses.replace(openings.sds, lean_sd=sd)
