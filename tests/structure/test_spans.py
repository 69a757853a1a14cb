"""Suggestions of the least section, and what the span tables must refuse."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sillwright.errors import BadInput, OutOfRange
from sillwright.structure import (
    HeaderLoad,
    beam_span,
    decking_joist_spacing,
    footing_by_area,
    footing_by_spans,
    header_sizes,
    header_span,
    joist_cantilever,
    joist_span,
    least_beam,
    least_header,
    least_joist,
    section,
)
from sillwright.structure.spans import BEAM_SIZES, JOIST_SIZES

ROOF = HeaderLoad(supports="roof_ceiling", building_width_ft=24.0, ground_snow_psf=50.0)


@given(
    st.floats(20.0, 216.0), st.sampled_from([12.0, 16.0, 24.0]), st.sampled_from(["southern_pine", "hem_fir"])
)
def test_the_suggested_joist_works_and_the_next_smaller_does_not(
    span: float, spacing: float, species: str
) -> None:
    held = [joist_span(size, species=species, spacing=spacing).value for size in JOIST_SIZES]
    if span > max(held):
        with pytest.raises(OutOfRange, match="of 2x12, the greatest of"):
            least_joist(span, species=species, spacing=spacing)
        return
    found = least_joist(span, species=species, spacing=spacing)
    assert found.span.value >= span
    assert all(reach < span for reach in held[: JOIST_SIZES.index(found.size)])


@given(st.floats(30.0, 150.0), st.floats(4.0, 18.0))
def test_the_suggested_beam_is_the_least_wood_that_works(span: float, joists: float) -> None:
    works = [
        beam
        for beam in BEAM_SIZES
        if beam_span(beam, species="southern_pine", joist_span_ft=joists).value >= span
    ]
    if not works:
        with pytest.raises(OutOfRange, match="needs an engineer; a span of"):
            least_beam(span, species="southern_pine", joist_span_ft=joists)
        return
    found = least_beam(span, species="southern_pine", joist_span_ft=joists)
    assert section(found.size).area == min(section(beam).area for beam in works)


@given(st.floats(20.0, 104.0))
def test_the_suggested_header_works_and_says_its_jacks(span: float) -> None:
    found = least_header(span, load=ROOF)
    assert found.span.value >= span
    assert found.jacks == header_span(found.size, load=ROOF).jacks >= 1
    smaller = [
        size for size in header_sizes() if section(size).area < section(found.size).area and size != "3-2x8"
    ]
    assert all(header_span(size, load=ROOF).span.value < span for size in smaller)


@given(st.floats(12.0, 36.0), st.floats(12.0, 36.0), st.floats(0.0, 70.0))
def test_a_wider_building_never_lets_a_header_span_more(a: float, b: float, snow: float) -> None:
    narrow, wide = (
        header_span(
            "2-2x12", load=HeaderLoad(supports="roof_ceiling", building_width_ft=w, ground_snow_psf=snow)
        )
        for w in sorted((a, b))
    )
    assert narrow.span.value >= wide.span.value - 1e-9
    assert narrow.jacks <= wide.jacks


def test_cripples_above_shorten_deep_headers_only() -> None:
    bare = HeaderLoad(supports="roof_ceiling", building_width_ft=24.0, ground_snow_psf=50.0, top_braced=False)
    for size, factor in (("2-2x6", 1.0), ("2-2x8", 0.7), ("3-2x12", 0.7)):
        ratio = header_span(size, load=bare).span.value / header_span(size, load=ROOF).span.value
        assert ratio == pytest.approx(factor)


def test_no_line_is_drawn_across_a_width_that_is_not_held() -> None:
    # 30 psf with a floor: only the 36 ft column is held, so every narrower building takes it
    load = HeaderLoad(
        supports="roof_ceiling_one_center_bearing_floor", building_width_ft=20.0, ground_snow_psf=30.0
    )
    assert header_span("2-2x10", load=load).span.value == 58.0


def test_under_30_psf_the_30_psf_row_holds() -> None:
    load = HeaderLoad(supports="roof_ceiling", building_width_ft=36.0, ground_snow_psf=0.0)
    assert header_span("2-2x10", load=load).span.value == 69.0


def test_a_cantilever_is_never_more_than_a_quarter_of_the_span() -> None:
    found = joist_cantilever("2x12", species="hem_fir", spacing=12, joist_span=120.0)
    assert (found.value, found.row) == (30.0, "a quarter of the joist's span")


@given(st.floats(1.0, 160.0), st.floats(1500.0, 4000.0))
def test_the_footing_row_covers_the_area_and_never_trusts_the_soil_too_much(area: float, soil: float) -> None:
    found = footing_by_area(area, soil_psf=soil)
    assert (found.side / 12.0) ** 2 * soil >= 50.0 * area * 0.93  # the table rounds sides to the inch
    assert footing_by_area(area, soil_psf=1500.0).side >= found.side


def test_a_footing_cell_not_held_takes_the_next_larger() -> None:
    assert footing_by_spans(beam_span_ft=6.0, joist_span_ft=18.0).side == 24.0
    assert (
        footing_by_spans(beam_span_ft=6.0, joist_span_ft=18.0).row == "beam span (ft) 8, joist span (ft) 18"
    )


ASKED: list[tuple[Callable[[], object], type[Exception], str]] = [
    (lambda: joist_span("2x8", species="oak", spacing=16), BadInput, "species: oak is not known"),
    (lambda: joist_span("2x8", species="hem_fir", spacing=0), BadInput, "spacing: 0 cannot be used"),
    (lambda: joist_span("2x4", species="hem_fir", spacing=16), BadInput, "size: 2x4 is not known"),
    (lambda: joist_span("2x8", species="hem_fir", spacing=16, edition="2021"), BadInput, "edition: 2021"),
    (lambda: beam_span("5-2x8", species="hem_fir", joist_span_ft=8), BadInput, "beam: 5-2x8 is not known"),
    (lambda: beam_span("2-2x8", species="hem_fir", joist_span_ft=-8), BadInput, "joist_span_ft: -8"),
    (lambda: beam_span("4x6", species="southern_pine", joist_span_ft=8), OutOfRange, "beam 4x6 is not in"),
    (lambda: header_span("2-2x14", load=ROOF), OutOfRange, "it has no header '2-2x14'"),
    (lambda: least_joist(0, species="hem_fir", spacing=16), BadInput, "span: 0 cannot be used"),
    (lambda: least_joist(90, species="hem_fir", spacing=32), OutOfRange, "32 is more than 24"),
    (lambda: least_header(140, load=ROOF), OutOfRange, "a span of 140 in is more than the 104 in of 3-2x12"),
    (lambda: decking_joist_spacing("cedar"), BadInput, "decking: cedar is not known"),
    (
        lambda: HeaderLoad(supports="roof", building_width_ft=24, ground_snow_psf=0),
        BadInput,
        "supports: roof is not known",
    ),
    (
        lambda: HeaderLoad(supports="roof_ceiling", building_width_ft=-1, ground_snow_psf=0),
        BadInput,
        "building_width_ft: -1 cannot be used",
    ),
]


@pytest.mark.parametrize(("ask", "error", "said"), ASKED, ids=[said for _, _, said in ASKED])
def test_what_cannot_be_asked_is_told(ask: Callable[[], object], error: type[Exception], said: str) -> None:
    with pytest.raises(error) as refusal:
        ask()
    assert said in str(refusal.value)
