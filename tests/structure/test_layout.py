"""Every fastener of a ledger, against the rules one by one, a brute force, and the clock."""

from __future__ import annotations

from itertools import pairwise, product

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sillwright.errors import BadInput, OutOfRange
from sillwright.structure import BandAt, Layout, LayoutRequest, Ledger, Obstacle, distances, hangers, layout
from sillwright.structure.stagger import Track, fewest
from sillwright.structure.zones import band_at, row_zone

LEDGER = Ledger(
    top=0.0, depth=9.25, in_ledger=distances("ledger", size="2x10"), in_band=distances("band_joist")
)
BAND = (BandAt(x=0.0, bottom=-9.25, top=0.0),)


def _request(length: float = 144.0, spacing: float = 15.0, **changed: object) -> LayoutRequest:
    asked: dict[str, object] = {"ledger": LEDGER, "band": BAND} | changed
    return LayoutRequest(length=length, spacing=spacing, **asked)  # type: ignore[arg-type]


def _obeys(request: LayoutRequest, found: Layout) -> None:
    x = [f.x for f in found.fasteners]
    assert 2.0 <= x[0] <= 5.0
    assert 2.0 <= request.length - x[-1] <= 5.0
    gaps = np.diff(x)
    assert gaps.max() <= request.spacing + 1e-9
    assert gaps.min() >= request.least_gap - 1e-9
    assert found.greatest_gap == gaps.max()
    assert all(a.row != b.row for a, b in pairwise(found.fasteners))
    for f in found.fasteners:
        for o in request.obstacles:
            aside = f.x <= o.left - request.clearance or f.x >= o.right + request.clearance
            over = f.z >= o.top + request.clearance or f.z <= o.bottom - request.clearance
            assert aside or over, (f, o)


@settings(max_examples=40, deadline=None)
@given(st.integers(48, 480), st.integers(9, 36), st.lists(st.floats(8.0, 470.0), max_size=8))
def test_every_fastener_obeys_every_distance(length: int, spacing: int, posts: list[float]) -> None:
    things = tuple(Obstacle(left=x, right=x + 1.5, what="stud") for x in posts if x < length - 8.0)
    request = _request(float(length), float(spacing), obstacles=things)
    found = layout(request)
    if found.fasteners:
        _obeys(request, found)
        assert len(found.fasteners) >= found.least_count
    else:
        assert found.findings[0].severity == "stop"


def test_with_nothing_in_the_way_the_fewest_are_spread_evenly() -> None:
    found = layout(_request())
    gaps = np.diff([f.x for f in found.fasteners])
    assert len(found.fasteners) == found.least_count == 10
    assert gaps.max() - gaps.min() <= 0.25


def test_rows_stand_where_ledger_and_band_allow() -> None:
    found = layout(_request())
    assert {(f.row, f.z) for f in found.fasteners} == {("low", -7.25), ("high", -2.25)}


def test_hanger_nails_are_kept_clear_of() -> None:
    joists = tuple(0.75 + 16.0 * k for k in range(10))
    request = _request(145.5, 15.0, obstacles=hangers(joists))
    found = layout(request)
    _obeys(request, found)
    assert min(abs(f.x - joist) for f in found.fasteners for joist in joists) >= 2.25 + 0.75


def test_an_obstacle_at_the_height_of_one_row_shuts_only_that_row() -> None:
    pipe = Obstacle(left=20.0, right=124.0, bottom=-3.0, top=0.0, what="pipe")
    found = layout(_request(spacing=20.0, obstacles=(pipe,)))
    assert found.findings[0].id == "ledger.zone-empty"
    low_pipe = Obstacle(left=20.0, right=24.0, bottom=-3.0, top=0.0, what="pipe")
    _obeys(_request(obstacles=(low_pipe,)), layout(_request(obstacles=(low_pipe,))))


def test_an_empty_zone_is_a_stop_that_names_the_place_and_what_fills_it() -> None:
    chimney = Obstacle(left=60.0, right=84.0, what="chimney")
    found = layout(_request(obstacles=(chimney,)))
    assert found.fasteners == ()
    (stop,) = found.findings
    assert (stop.id, stop.severity) == ("ledger.zone-empty", "stop")
    assert "chimney" in stop.message
    assert stop.place.startswith("ledger, 5")


def test_a_band_that_leaves_the_ledger_is_a_stop_that_says_so() -> None:
    band = (BandAt(x=0.0, bottom=-9.25, top=0.0), BandAt(x=144.0, bottom=-5.0, top=4.25))
    found = layout(_request(band=band))
    assert found.fasteners == ()
    (stop,) = found.findings
    assert (stop.id, stop.severity) == ("ledger.rows-fail", "stop")
    assert "overlap too little" in stop.message
    assert stop.place.endswith(" to 144 in")


def test_rows_stay_level_on_a_band_that_slopes_a_little() -> None:
    band = (BandAt(x=0.0, bottom=-9.25, top=0.0), BandAt(x=144.0, bottom=-9.0, top=0.25))
    found = layout(_request(band=band))
    assert len({f.z for f in found.fasteners}) == 2
    assert found.findings == ()


def test_rows_follow_a_band_that_slopes_too_much_for_level_ones() -> None:
    band = (BandAt(x=0.0, bottom=-17.75, top=-6.5), BandAt(x=144.0, bottom=-10.5, top=0.75))
    ledger = Ledger(top=0.0, depth=11.25, in_ledger=distances("ledger", size="2x12"), in_band=LEDGER.in_band)
    request = _request(ledger=ledger, band=band, spacing=16.0)
    found = layout(request)
    _obeys(request, found)
    assert [f.id for f in found.findings] == ["ledger.rows-slope"]
    for f in found.fasteners:
        zone = row_zone(ledger, band_at(band, f.x))
        least, most = zone.low if f.row == "low" else zone.high
        assert least - 1e-9 <= f.z <= most + 1e-9


def test_a_ledger_too_short_for_its_ends_is_a_stop() -> None:
    (stop,) = layout(_request(length=3.0)).findings
    assert "the distances from the ends and between neighbours leave no mark" in stop.message


def test_a_mirrored_wall_has_the_mirrored_count_and_gaps() -> None:
    posts = (30.0, 61.0, 100.0)
    here = layout(_request(obstacles=tuple(Obstacle(left=x, right=x + 3.0, what="stud") for x in posts)))
    there = layout(
        _request(obstacles=tuple(Obstacle(left=144.0 - x - 3.0, right=144.0 - x, what="stud") for x in posts))
    )
    assert len(here.fasteners) == len(there.fasteners)
    assert sum(np.diff([f.x for f in here.fasteners]) ** 2) == pytest.approx(
        sum(np.diff([f.x for f in there.fasteners]) ** 2)
    )


@settings(max_examples=60, deadline=None)
@given(
    st.lists(st.tuples(st.booleans(), st.booleans()), min_size=9, max_size=13),
    st.integers(1, 2),
    st.integers(2, 5),
)
def test_the_chain_is_the_one_that_trying_all_finds(
    free: list[tuple[bool, bool]], least: int, most: int
) -> None:
    usable = np.array(free).T
    end = usable.shape[1] - 1
    track = Track(usable=usable, first=(0, 2), last=(end - 2, end), least=least, most=most)
    best: tuple[int, int] | None = None
    for start, picked in product((0, 1), product((False, True), repeat=end + 1)):
        marks = [k for k in range(end + 1) if picked[k]]
        if len(marks) < 2 or marks[0] > 2 or marks[-1] < end - 2:
            continue
        gaps = [b - a for a, b in pairwise(marks)]
        if min(gaps) < least or max(gaps) > most:
            continue
        if all(usable[(start + k) % 2, mark] for k, mark in enumerate(marks)):
            score = (len(marks), sum(g * g for g in gaps))
            best = score if best is None else min(best, score)
    chain = fewest(track)
    marks = [mark for mark, _ in chain.marks]
    found = (len(marks), sum((b - a) ** 2 for a, b in pairwise(marks))) if marks else None
    assert found == best


def test_forty_feet_are_laid_out() -> None:
    request = _request(480.0, 10.0, obstacles=hangers([0.75 + 16.0 * k for k in range(30)] + [479.25]))
    _obeys(request, layout(request))


@pytest.mark.parametrize(
    ("changed", "error", "said"),
    [
        ({"length": 0.0}, BadInput, "ledger_length: 0 cannot be used"),
        ({"spacing": -3.0}, BadInput, "spacing: -3 cannot be used"),
        ({"clearance": -1.0}, BadInput, "clearance: -1 cannot be used"),
        ({"spacing": 1.0}, OutOfRange, "a spacing of 1 in is less than the 2 in"),
    ],
)
def test_a_request_that_cannot_be_is_refused(
    changed: dict[str, float], error: type[Exception], said: str
) -> None:
    with pytest.raises(error, match=said):
        _request(**changed)


def test_an_obstacle_of_negative_width_is_refused() -> None:
    with pytest.raises(BadInput, match="obstacle_width"):
        Obstacle(left=3.0, right=2.0, what="stud")
