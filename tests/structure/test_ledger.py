"""Prescriptive ledger spacing, distances and lateral ties."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sillwright.errors import BadInput, OutOfRange
from sillwright.rules import amended, rule_book
from sillwright.structure import LedgerLoad, distances, fastener_spacing, lateral_ties

spans = st.floats(0.5, 18.0)
snows = st.floats(0.0, 70.0)
fasteners = st.sampled_from(["lag", "bolt"])


def _spacing(**changed: object) -> float:
    asked: dict[str, object] = {"joist_span_ft": 12.0, "fastener": "lag"} | changed
    return fastener_spacing(LedgerLoad(**asked)).value  # type: ignore[arg-type]


@given(spans, spans, snows, fasteners)
def test_longer_joists_never_get_wider_spacing(a: float, b: float, snow: float, fastener: str) -> None:
    near, far = sorted((a, b))
    asked = {"fastener": fastener, "edition": "2021", "ground_snow_psf": snow}
    assert _spacing(joist_span_ft=near, **asked) >= _spacing(joist_span_ft=far, **asked) - 1e-9


@given(spans, snows, snows, fasteners)
def test_more_snow_never_gets_wider_spacing(span: float, a: float, b: float, fastener: str) -> None:
    little, much = sorted((a, b))
    asked = {"joist_span_ft": span, "fastener": fastener, "edition": "2021"}
    assert _spacing(ground_snow_psf=little, **asked) >= _spacing(ground_snow_psf=much, **asked) - 1e-9


@given(spans)
def test_bolts_never_stand_closer_than_lag_screws_and_thick_sheathing_never_helps(span: float) -> None:
    bolt = _spacing(joist_span_ft=span, fastener="bolt")
    assert bolt >= _spacing(joist_span_ft=span, fastener="lag")
    assert bolt >= _spacing(joist_span_ft=span, fastener="bolt", sheathing=1.0)


def test_a_local_live_load_and_snow_together_take_the_closer_spacing() -> None:
    live = _spacing(live_psf=60.0, edition="2021")
    snow = _spacing(ground_snow_psf=50.0, edition="2021")
    both = _spacing(live_psf=60.0, ground_snow_psf=50.0, edition="2021")
    assert both == min(live, snow) == 11.0


def test_the_answer_names_the_table_and_tells_a_remembered_cell() -> None:
    read = fastener_spacing(LedgerLoad(joist_span_ft=12, fastener="lag"))
    remembered = fastener_spacing(
        LedgerLoad(joist_span_ft=12, fastener="lag", edition="2021", ground_snow_psf=50)
    )
    assert (read.status, remembered.status) == ("read", "memory")
    assert "R507.9.1.3(1)" in read.source
    assert "joist span (ft) 12" in read.row


@pytest.mark.parametrize(("span", "line"), [(2.0, 30.0), (8.0, 23.0), (9.0, 20.5), (18.0, 10.0)])
def test_the_2021_edition_takes_a_straight_line_between_spans_and_says_that_its_leave_is_from_memory(
    span: float, line: float
) -> None:
    # IRC Table R507.9.1.3(1), lag screws: 30 in at 6 ft, 23 at 8, 18 at 10, 10 at 18; 2018: the next longer
    new = fastener_spacing(LedgerLoad(joist_span_ft=span, fastener="lag", edition="2021"))
    old = fastener_spacing(LedgerLoad(joist_span_ft=span, fastener="lag"))
    assert new.value == pytest.approx(line)
    assert old.value == (18.0 if span == 9.0 else line)
    assert (new.status, old.status) == ("memory" if span == 9.0 else "read", "read")
    assert ("joist span (ft) 8 and 10" in new.row) == (span == 9.0)


def test_a_town_may_put_its_own_rows_over_the_ledger_table() -> None:
    text = (
        'title = "Invented town"\n[[row]]\ntable = "ledger_spacing"\nload_kind = "{}"\nfastener = "lag"\n'
        'sheathing = "0.5"\nload_psf = {}\njoist_span_ft = 12\nspacing = {}\n'
    )
    asked = LedgerLoad(joist_span_ft=12.0, fastener="lag")
    closer = amended(rule_book("2018"), text.format("live", 40, 14), name="town.toml", check_ids=())
    found = fastener_spacing(asked, book=closer)
    assert (found.value, found.status) == (14.0, "read")
    assert found.source.endswith("local amendment: town.toml (Invented town)")
    assert fastener_spacing(asked).value == 15.0
    # a town of more snow: the 2018 edition has no row of its own for it
    snowy = amended(rule_book("2018"), text.format("ground snow", 50, 13), name="town.toml", check_ids=())
    heavy = replace(asked, ground_snow_psf=50.0)
    assert fastener_spacing(heavy, book=snowy).value == 13.0
    with pytest.raises(OutOfRange, match="more than the 40 psf of the 2018 table"):
        fastener_spacing(heavy)
    # a row that lets longer joists have wider spacing is refused
    with pytest.raises(BadInput, match="spacing should fall as joist_span_ft goes up"):
        amended(rule_book("2018"), text.format("live", 40, 19), name="town.toml", check_ids=())


@pytest.mark.parametrize(
    ("asked", "said"),
    [
        ({"joist_span_ft": 0.0}, "joist_span_ft: 0 cannot be used. Give a number above 0."),
        ({"joist_span_ft": float("nan")}, "joist_span_ft: nan cannot be used."),
        ({"live_psf": -40.0}, "live_psf: -40 cannot be used."),
        ({"ground_snow_psf": -1.0}, "ground_snow_psf: -1 cannot be used. Give a number 0 or more."),
        ({"fastener": "nail"}, "fastener: nail is not known here; known: lag, bolt."),
        ({"edition": "2019"}, "edition: 2019 is not known here; known: 2018, 2021."),
        ({"band": "4x beam edge"}, "band: 4x beam edge is not known here"),
        ({"sheathing_kind": "foan"}, "Did you mean foam?"),
    ],
)
def test_what_cannot_be_is_told_with_its_place(asked: dict[str, object], said: str) -> None:
    with pytest.raises(BadInput) as error:
        _spacing(**asked)
    assert said in str(error.value)


@pytest.mark.parametrize(
    ("asked", "said"),
    [
        ({"washers": 0.75, "fastener": "bolt"}, "washers of 0.75 in are more than the 0.5 in"),
        ({"band": "1 in engineered rim", "sheathing": 1.0, "fastener": "bolt"}, "only behind at most 1/2 in"),
        ({"washers": 0.25}, "lag screws need at most 1/2 in"),
    ],
)
def test_what_the_table_does_not_cover_is_refused_with_the_bound(asked: dict[str, object], said: str) -> None:
    with pytest.raises(OutOfRange) as error:
        _spacing(**asked)
    assert said in str(error.value)


def test_a_ledger_is_at_least_a_2x8() -> None:
    with pytest.raises(BadInput, match="size: 2x6 is not known here; known: 2x8, 2x10, 2x12"):
        distances("ledger", size="2x6")


def test_only_a_2x8_lets_its_low_row_rise() -> None:
    assert distances("ledger", size="2x8", reduced=True).low_row_from_top == 4.5
    assert distances("ledger", size="2x10", reduced=True).low_row_from_top == 6.5


JOISTS = tuple(0.75 + 16.0 * k for k in range(16))
LENGTH = JOISTS[-1] + 0.75


@pytest.mark.parametrize(("form", "count"), [("interior", 2), ("exterior", 4)])
def test_ties_stand_at_joists_the_outer_ones_near_the_ends(form: str, count: int) -> None:
    ties = lateral_ties(form, length=LENGTH, joists=JOISTS)
    assert len(ties) == count
    assert set(ties) <= set(JOISTS)
    assert ties[0] <= 24.0
    assert ties[-1] >= LENGTH - 24.0


@given(
    st.sampled_from([("interior", 2), ("exterior", 4)]),
    st.floats(6.0, 90.0),
    st.lists(st.floats(0.0, 1.0), min_size=1, max_size=9),
)
def test_a_ledger_however_short_gets_every_tie_or_is_refused(
    form: tuple[str, int], length: float, shares: list[float]
) -> None:
    joists = tuple(share * length for share in shares)
    try:
        ties = lateral_ties(form[0], length=length, joists=joists)
    except OutOfRange:
        return
    assert len(set(ties)) == form[1]
    assert set(ties) <= set(joists)
    assert ties[0] <= 24.0
    assert ties[-1] >= length - 24.0


def test_where_few_joists_stand_between_the_outermost_take_ties() -> None:
    assert lateral_ties("exterior", length=50.0, joists=(0.75, 16.75, 32.75, 49.25)) == (
        0.75,
        16.75,
        32.75,
        49.25,
    )


def test_a_joist_near_both_ends_does_not_take_two_ties() -> None:
    # 40 in long: only the middle joist is within 24 in of both ends
    assert lateral_ties("interior", length=40.0, joists=(0.75, 20.0, 39.25)) == (0.75, 39.25)


def test_ties_mirror_with_the_wall() -> None:
    mirrored = tuple(sorted(LENGTH - x for x in JOISTS))
    here = lateral_ties("exterior", length=LENGTH, joists=JOISTS)
    there = lateral_ties("exterior", length=LENGTH, joists=mirrored)
    assert (here[0], here[-1]) == pytest.approx((LENGTH - there[-1], LENGTH - there[0]))


@pytest.mark.parametrize(
    ("joists", "form", "said"),
    [
        ((30.0, 100.0), "interior", "no joist within 24 in"),
        ((10.0, 100.0), "exterior", "2 joists cannot take 4 ties"),
    ],
)
def test_ties_without_joists_to_take_them_are_refused(
    joists: tuple[float, ...], form: str, said: str
) -> None:
    with pytest.raises(OutOfRange, match=said):
        lateral_ties(form, length=120.0, joists=joists)


def test_a_spacing_names_the_source_of_its_own_row() -> None:
    usual = fastener_spacing(LedgerLoad(joist_span_ft=10.0, fastener="lag"))
    heavy = fastener_spacing(LedgerLoad(joist_span_ft=10.0, fastener="lag", live_psf=60.0))
    assert usual.source.startswith("IRC Table R507.9.1.3(1)")
    assert "Washington" not in usual.source
    assert heavy.source == "Washington State, 60 psf deck live load"
