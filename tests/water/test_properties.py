"""What must hold for every dressed wall."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from tests.water.scenes import dressed, opening, wall, with_sheet

from sillwright.flashing.practice import UnitSet, WrapWhen
from sillwright.water import (
    Design,
    Facet,
    PlaceVerdict,
    Sheet,
    Verdict,
    Water,
    judge,
)

RANK = {Verdict.SHEDS: 0, Verdict.HELD: 1, Verdict.OPEN: 2}
COARSE = Design(head_in_water=0.55, cell_in=1.0)
schemes = st.tuples(st.sampled_from(WrapWhen), st.sampled_from(UnitSet))
FEW = settings(max_examples=6, deadline=None)


def by_place(water: Water) -> dict[str, PlaceVerdict]:
    return {each.place: each for each in water.places}


def mirrored_word(words: str) -> str:
    return words.replace("left", "\0").replace("right", "left").replace("\0", "right")


@FEW
@given(schemes, st.floats(-0.5, 0.5), st.floats(-0.5, 0.5))
def test_mirroring_the_wall_mirrors_the_answer(
    scheme: tuple[WrapWhen, UnitSet], lean: float, fall: float
) -> None:
    wrap, unit = scheme
    own = opening(lean=lean, fall=fall)
    face = wall(own)
    end = face.x[1]
    (a, b, c, d) = own.corners
    turned = replace(own, corners=tuple((end - x, z) for x, z in (b, a, d, c)))  # type: ignore[arg-type]
    one = by_place(judge(dressed(face, wrap=wrap, unit=unit), COARSE))
    other = by_place(judge(dressed(replace(face, openings=(turned,)), wrap=wrap, unit=unit), COARSE))
    assert {mirrored_word(name) for name in one} == set(other)
    for name, verdict in one.items():
        twin = other[mirrored_word(name)]
        assert (twin.gravity, twin.at_head) == (verdict.gravity, verdict.at_head), name
        assert twin.head_to_wet == pytest.approx(verdict.head_to_wet, abs=1e-6), name
        assert twin.head_to_open == pytest.approx(verdict.head_to_open, abs=1e-6), name
        assert twin.bond_in == pytest.approx(verdict.bond_in, abs=COARSE.cell_in), name


@FEW
@given(schemes)
def test_halving_the_cells_changes_no_verdict_and_no_bond_by_more_than_a_cell(
    scheme: tuple[WrapWhen, UnitSet],
) -> None:
    wrap, unit = scheme
    dressing = dressed(wrap=wrap, unit=unit)
    one, other = (by_place(judge(dressing, replace(COARSE, cell_in=cell))) for cell in (1.0, 0.5))
    assert set(one) == set(other)
    for name, verdict in one.items():
        finer = other[name]
        heads = (verdict.head_to_wet, verdict.head_to_open)
        assert (finer.head_to_wet, finer.head_to_open) == heads
        assert (finer.gravity, finer.at_head) == (verdict.gravity, verdict.at_head)
        assert finer.bond_in == pytest.approx(verdict.bond_in, abs=1.0), name


@FEW
@given(schemes, st.lists(st.floats(0.0, 4.0), min_size=2, max_size=2))
def test_raising_the_head_never_improves_a_verdict(
    scheme: tuple[WrapWhen, UnitSet], heads: list[float]
) -> None:
    wrap, unit = scheme
    dressing = dressed(wrap=wrap, unit=unit)
    low, high = (by_place(judge(dressing, replace(COARSE, head_in_water=head))) for head in sorted(heads))
    for name, verdict in low.items():
        assert RANK[high[name].at_head] >= RANK[verdict.at_head], name
        if verdict.bond_in is not None:
            assert (high[name].bond_in or 0.0) <= verdict.bond_in + 1e-9, name


@FEW
@given(schemes, st.integers(0, 100))
def test_more_bonded_cover_never_worsens_a_verdict(scheme: tuple[WrapWhen, UnitSet], pick: int) -> None:
    """Bonding one more panel of the dressing to what lies below it."""
    wrap, unit = scheme
    dressing = dressed(wrap=wrap, unit=unit)
    loose = [
        (sheet.name, panel.name) for sheet in dressing.sheets for panel in sheet.panels if not panel.bonded
    ]
    if not loose:
        return
    name, part = loose[pick % len(loose)]
    before = by_place(judge(dressing, COARSE))
    after = by_place(judge(with_sheet(dressing, name, lambda sheet: _bonded(sheet, part)), COARSE))
    for place, verdict in before.items():
        assert RANK[after[place].at_head] <= RANK[verdict.at_head], (name, part, place)
        assert RANK[after[place].gravity] <= RANK[verdict.gravity], (name, part, place)


def _bonded(sheet: Sheet, part: str) -> Sheet:
    panels = tuple(replace(each, bonded=True) if each.name == part else each for each in sheet.panels)
    return replace(sheet, panels=panels)


@FEW
@given(schemes, st.integers(0, 100))
def test_swapping_sheets_that_do_not_overlap_changes_nothing(
    scheme: tuple[WrapWhen, UnitSet], pick: int
) -> None:
    wrap, unit = scheme
    dressing = dressed(wrap=wrap, unit=unit)
    sheets = [sheet for sheet in dressing.sheets if all(panel.laid is None for panel in sheet.panels)]
    pairs = [
        (one, other)
        for one, other in pairwise(sheets)
        if other.laid == one.laid + 1 and not _overlap(one, other)
    ]
    one, other = pairs[pick % len(pairs)]
    swapped = with_sheet(dressing, one.name, lambda sheet: replace(sheet, laid=other.laid))
    swapped = with_sheet(swapped, other.name, lambda sheet: replace(sheet, laid=one.laid))
    assert by_place(judge(swapped, COARSE)) == by_place(judge(dressing, COARSE))


def _overlap(one: Sheet, other: Sheet) -> bool:
    return any(
        a.facet == b.facet and _meet(a.u, b.u) and _meet(a.v, b.v) for a in one.panels for b in other.panels
    )


def _meet(one: tuple[float, float], other: tuple[float, float]) -> bool:
    return one[0] < other[1] and other[0] < one[1]


def test_the_facets_of_a_wall_are_closed_and_flat() -> None:
    """Facets that meet share their edges to a billionth of an inch, and all of them are planar."""
    face = wall(opening("A", 40.0, lean=0.4, fall=0.3), opening("B", 90.0, lean=-0.2, fall=-0.25))
    dressing = dressed(face)
    by_name = dressing.complex.by_name
    for glue in dressing.complex.glues:
        one, other = (
            [_on(by_name[edge.facet], edge.across, edge.at, share, edge.span) for share in (0.0, 0.37, 1.0)]
            for edge in (glue.one, glue.other)
        )
        for p, q in zip(one, other, strict=True):
            assert p == pytest.approx(
                q, abs=0.02 if "dam" in glue.other.facet or "dam" in glue.one.facet else 1e-9
            )


def _on(facet: Facet, across: str, at: float, share: float, span: tuple[float, float]) -> list[float]:
    along = span[0] + share * (span[1] - span[0])
    point: list[float] = facet.place(*((at, along) if across == "u" else (along, at))).tolist()
    return point
