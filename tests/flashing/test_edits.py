"""Changes of a job to the pieces of its scheme: what they do, and what is told when they cannot be."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from tests.flashing.dressings import a_job, dressing_of, names

from sillwright.errors import BadInput
from sillwright.flashing.edits import changed
from sillwright.job import Water
from sillwright.water import Dressing, Kind, Sheet

USUAL = dressing_of(a_job())
ROLL = {"name": "roll A", "family": "butyl tape"}


def edited(*edits: dict[str, Any], **water: Any) -> Dressing:
    return dressing_of(a_job(sheet=list(edits), roll=[ROLL], **water))


def piece(dressing: Dressing, name: str) -> Sheet:
    return next(sheet for sheet in dressing.sheets if sheet.name == name)


def told(*edits: dict[str, Any], **water: Any) -> str:
    with pytest.raises(BadInput) as error:
        edited(*edits, **water)
    return str(error.value)


def held(dressing: Dressing) -> list[str]:
    """Return the pieces that are on before the first flap comes down."""
    flaps = [p.laid for sheet in dressing.sheets for p in sheet.panels if p.laid is not None]
    return [sheet.name for sheet in dressing.sheets if sheet.laid <= min(flaps)]


def test_without_a_change_nothing_changes() -> None:
    assert edited().sheets == USUAL.sheets


def test_a_piece_is_left_out() -> None:
    assert names(edited({"name": "A.strip.head", "leave_out": True})) == [
        name for name in names(USUAL) if name != "A.strip.head"
    ]


def test_a_piece_moves_after_or_before_another() -> None:
    after = names(edited({"name": "A.pan", "after": "A.unit"}))
    assert after.index("A.pan") == after.index("A.unit") + 1
    before = names(edited({"name": "A.strip.head", "before": "A.strip.left"}))
    assert before.index("A.strip.head") == before.index("A.strip.left") - 1
    assert sorted(after) == sorted(before) == sorted(names(USUAL))


def test_a_flap_waits_for_its_piece_wherever_that_goes() -> None:
    assert "A.strip.head" in held(USUAL)
    early = edited({"name": "wrap", "panel": [{"name": "flap 1", "held_until": "A.strip.left"}]})
    assert "A.strip.left" in held(early)
    assert "A.strip.head" not in held(early)


def test_a_part_is_cut_otherwise_or_away_or_added() -> None:
    longer = edited({"name": "A.strip.left", "panel": [{"name": "strip", "v": [-8, 60]}]})
    assert piece(longer, "A.strip.left").panels[0].v == (-8.0, 60.0)
    assert piece(longer, "A.strip.left").panels[0].u == piece(USUAL, "A.strip.left").panels[0].u
    shorter = edited({"name": "A.pan", "panel": [{"name": "apron", "leave_out": True}]})
    pan = piece(shorter, "A.pan")
    assert "apron" not in {panel.name for panel in pan.panels}
    assert not any("apron" in (seam.one, seam.other) for seam in pan.seams)


def test_bond_and_roll_are_changed() -> None:
    loose = edited({"name": "A.strip.left", "bonded": False, "roll": "roll A"})
    assert not any(panel.bonded for panel in piece(loose, "A.strip.left").panels)
    assert piece(loose, "A.strip.left").stock.name == "roll A"


def test_a_piece_of_ones_own_goes_where_it_is_said() -> None:
    own = {
        "name": "my sill tape",
        "kind": "tape",
        "roll": "roll A",
        "opening": "A",
        "after": "A.pan",
        "bonded": True,
        "panel": [
            {"name": "low", "facet": "wall", "u": [30, 66], "v": [-3, 0]},
            {"name": "in", "facet": "A.sill", "u": [30, 66], "v": [0, 2]},
        ],
        "seam": [{"one": "low", "other": "in"}],
    }
    found = edited(own)
    assert names(found)[names(found).index("A.pan") + 1] == "my sill tape"
    made = piece(found, "my sill tape")
    assert made.kind is Kind.TAPE
    assert all(panel.bonded for panel in made.panels)
    assert len(made.seams) == 1


def test_own_pieces_alone_leave_only_what_stands_on_the_wall() -> None:
    assert names(edited(scheme="own pieces")) == ["A.unit"]


ORDER = names(USUAL)


@given(st.lists(st.sampled_from(ORDER), unique=True, max_size=len(ORDER)))
def test_named_pieces_change_places_among_themselves(order: list[str]) -> None:
    found = names(changed(USUAL, Water(order=tuple(order)), rolls={}, own_only=False))
    assert [name for name in found if name in order] == order
    assert sorted(found) == sorted(ORDER)
    for place, name in enumerate(ORDER):
        if name not in order:
            assert found[place] == name


@pytest.mark.parametrize(
    ("edit", "said"),
    [
        (
            {"name": "A.pann"},
            "water.sheet[0].name: there is no piece 'A.pann'. Did you mean A.pan? A new one says its kind.",
        ),
        (
            {"name": "A.pan", "after": "A.untt"},
            "water.sheet[0].after: there is no piece 'A.untt'. Did you mean A.unit?",
        ),
        (
            {"name": "A.pan", "panel": [{"name": "apronn", "leave_out": True}]},
            "water.sheet[0].panel[0].name: the piece 'A.pan' has no part 'apronn'. It has: sill, apron, dam, "
            "left, left wing, right, right wing.",
        ),
        (
            {"name": "A.pan", "panel": [{"name": "ear", "u": [0, 1], "v": [0, 1]}]},
            "water.sheet[0].panel[0].facet: a new part 'ear' needs its face. Known: wall, A.sill, A.left, "
            "A.right, A.head, A.dam.",
        ),
        (
            {"name": "A.pan", "panel": [{"name": "ear", "facet": "A.sil", "u": [0, 1], "v": [0, 1]}]},
            "water.sheet[0].panel[0].facet: there is no face 'A.sil'. Did you mean 'A.sill'?",
        ),
        (
            {"name": "A.pan", "panel": [{"name": "left", "u": [0, 9]}]},
            "water.sheet[0].panel[0].u: 0 to 9 in reaches past the face 'A.left'. Its depth of A runs from "
            "0.000 to 4.500 in.",
        ),
        (
            {"name": "A.pan", "panel": [{"name": "left", "u": [3, 2]}]},
            "water.sheet[0].panel[0].u: it has no size. The first is less than the second.",
        ),
        (
            {"name": "A.pan", "kind": "pan"},
            "water.sheet[0].kind: the piece 'A.pan' is there already, so its kind cannot be said. Leave kind "
            "out, or give your own piece another name.",
        ),
        (
            {"name": "mine", "kind": "tape"},
            "water.sheet[0].roll: a piece of your own needs its roll. Name a [[water.roll]].",
        ),
        (
            {"name": "mine", "kind": "tape", "roll": "roll A"},
            "water.sheet[0].panel: a piece of your own needs a part. Say where it lies.",
        ),
        (
            {"name": "A.pan", "seam": [{"one": "sill", "other": "nose"}]},
            "water.sheet[0].seam[0].other: the piece 'A.pan' has no part 'nose'. It has: sill, apron, dam, "
            "left, left wing, right, right wing.",
        ),
    ],
)
def test_a_change_that_cannot_be_made_is_told(edit: dict[str, Any], said: str) -> None:
    assert told(edit) == said


def test_a_wrong_name_in_the_order_is_told() -> None:
    assert told(order=["A.pan", "A.hat"]).startswith("water.order[1]: there is no piece 'A.hat'.")
