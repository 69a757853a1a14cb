"""Page arithmetic in sums that a reader can do in the head."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import isotonic_regression
from tests.drawing.sample import sample_scene

from sillwright.drawing import (
    Anchor,
    Box,
    Mark,
    MarkKind,
    Path,
    Role,
    Scene,
    Text,
    extents,
    fit,
    overlapping_texts,
    scale_words,
    sheet,
    spread,
    text_boxes,
)
from sillwright.drawing.page import trade_scales
from sillwright.errors import OutOfRange


def wall(width: float, height: float, *, metric: bool = False) -> Scene:
    outline = Path(((0, 0), (width, 0), (width, height), (0, height)), closed=True)
    return Scene((outline,), title="Wall", alt="A wall.", metric=metric)


def test_a_sheet_is_the_drawing_with_its_margin() -> None:
    scene = replace(wall(10, 5), margin=0.5)
    box, whole = extents(scene), sheet(scene)
    assert (box.width, box.height) == pytest.approx((10, 5), abs=0.03)
    assert (whole.width - box.width, whole.height - box.height) == pytest.approx((1, 1))


@pytest.mark.parametrize(
    ("width", "metric", "words"),
    [
        (6, False, "full size"),
        (12, False, "half size"),
        (7.2 * 4, False, "3 in = 1 ft"),
        (7.2 * 8, False, "1 1/2 in = 1 ft"),
        (7.2 * 12, False, "1 in = 1 ft"),
        (7.2 * 16, False, "3/4 in = 1 ft"),
        (7.2 * 24, False, "1/2 in = 1 ft"),
        (7.2 * 24 + 5, False, "3/8 in = 1 ft"),
        (7.2 * 192, False, "1/16 in = 1 ft"),
        (6, True, "full size"),
        (7.2 * 10, True, "1:10"),
        (7.2 * 20, True, "1:20"),
        (7.2 * 20 + 5, True, "1:25"),
    ],
)
def test_the_largest_trade_scale_that_fits_is_taken(width: float, metric: bool, words: str) -> None:
    fitted = fit(wall(width, 1, metric=metric), width=7.5, height=10)
    assert scale_words(fitted) == words
    assert sheet(fitted).width <= 7.5


@given(width=st.floats(1, 700), height=st.floats(1, 700), metric=st.booleans())
def test_a_fitted_scene_fits_and_the_next_larger_scale_does_not(
    width: float, height: float, metric: bool
) -> None:
    fitted = fit(wall(width, height, metric=metric), width=7.5, height=10)
    scales = trade_scales(metric=metric)
    at = scales.index(fitted.scale_x)
    box = sheet(fitted)
    assert box.width <= 7.5
    assert box.height <= 10
    if at:
        larger = sheet(replace(fitted, scale_x=scales[at - 1], scale_y=scales[at - 1]))
        assert larger.width > 7.5 or larger.height > 10


def test_heights_are_stretched_as_far_as_the_sheet_allows() -> None:
    fitted = fit(wall(7.2 * 8, 1), width=7.5, height=2, exaggerations=(1, 4, 10, 20))
    assert fitted.scale_x == 1 / 8
    assert fitted.scale_y == 10 / 8
    assert scale_words(fitted) == "1 1/2 in = 1 ft, heights stretched 10 times"


def test_a_wall_that_fits_no_scale_is_refused() -> None:
    with pytest.raises(OutOfRange, match=r"'Wall': does not fit 7\.5 x 10 in at any trade scale; choose"):
        fit(wall(5000, 1), width=7.5, height=10)


def test_enlargements_and_odd_scales_are_said_too() -> None:
    assert scale_words(replace(wall(1, 1), scale_x=2, scale_y=2)) == "2 times full size"
    assert scale_words(replace(wall(1, 1, metric=True), scale_x=5, scale_y=5)) == "5:1"
    assert scale_words(replace(wall(1, 1), scale_x=1 / 7, scale_y=1 / 7)) == "1:7"


def test_words_on_top_of_each_other_are_found() -> None:
    near = (Text((0, 0), "sill"), Text((0.1, 0.02), "head"), Text((5, 5), "jamb"))
    scene = Scene(near, title="Words", alt="Words.")
    assert overlapping_texts(scene) == (("sill", "head"),)


def test_a_word_across_a_balloon_counts_as_overlap() -> None:
    balloon = Mark((0, 0), MarkKind.BALLOON, text="3", role=Role.CRAYON, size=0.4)
    at_rim = Text((0.19, 0), "pad", anchor=Anchor.W, size=0.1)
    scene = Scene((balloon, at_rim), title="Pads", alt="Pads.")
    assert overlapping_texts(scene) == (("balloon 3", "pad"),)


def test_no_words_of_the_sample_overlap_and_none_leaves_the_sheet() -> None:
    scene = sample_scene()
    assert overlapping_texts(scene) == ()
    assert all(sheet(scene).holds(text.box) for text in text_boxes(scene))


def test_boxes_that_only_touch_do_not_overlap() -> None:
    assert not Box(0, 0, 1, 1).overlaps(Box(1, 0, 2, 1))
    assert Box(0, 0, 1, 1).overlaps(Box(0.9, 0.9, 2, 2))


# --- labels moved apart -------------------------------------------------------------------------------------

PLACES = st.lists(st.floats(-100, 100), max_size=12)


def test_labels_too_close_move_apart_evenly() -> None:
    assert spread([10, 10.5, 30], 2) == pytest.approx((9.25, 11.25, 30))
    assert spread([5, 4, 5], 1) == pytest.approx((14 / 3, 11 / 3, 17 / 3))
    assert spread([], 1) == ()


@given(places=PLACES, gap=st.floats(0, 10))
def test_spread_labels_keep_gap_order_and_middle(places: list[float], gap: float) -> None:
    moved = spread(places, gap)
    order = sorted(range(len(places)), key=lambda index: (places[index], index))
    assert all(moved[b] - moved[a] >= gap - 1e-9 for a, b in pairwise(order))
    assert sum(moved) == pytest.approx(sum(places), abs=1e-6)


@given(places=PLACES.filter(bool), gap=st.floats(0, 10))
def test_spread_labels_move_as_little_as_can_be(places: list[float], gap: float) -> None:
    """Source: reference library, scipy.optimize.isotonic_regression."""
    ranks = np.arange(len(places)) * gap
    best = isotonic_regression(np.sort(places) - ranks).x + ranks
    assert sorted(spread(places, gap)) == pytest.approx(list(best), abs=1e-6)
