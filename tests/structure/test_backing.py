"""What a ledger may not hang on is a stop with its reason and clause."""

from __future__ import annotations

import pytest

from sillwright.errors import BadInput
from sillwright.structure import Attachment, LedgerLoad, attachment_findings
from sillwright.structure.backing import BAD_BACKINGS

LOAD = LedgerLoad(joist_span_ft=12, fastener="lag")


def _found(**changed: object) -> dict[str, str]:
    found = attachment_findings(Attachment(load=LOAD, **changed))  # type: ignore[arg-type]
    assert all(f.advice and f.source for f in found)
    return {f.id: f.severity for f in found}


def test_a_sound_ledger_on_a_band_joist_has_no_findings() -> None:
    assert _found() == {}


@pytest.mark.parametrize("backing", BAD_BACKINGS)
def test_every_other_backing_is_a_stop(backing: str) -> None:
    assert _found(backing=backing) == {"ledger.backing": "stop"}


@pytest.mark.parametrize(
    ("backing", "reason"),
    [
        ("solid blocking", "short solid blocking between joists, not a band joist"),
        ("4x beam edge", "edge of a 4x beam, not a band joist"),
        ("veneer", "stone or masonry veneer"),
        ("hollow block", "face shells carry no table value"),
        ("house overhang", "cantilevers over the wall below"),
    ],
)
def test_the_stop_says_why(backing: str, reason: str) -> None:
    (found,) = attachment_findings(Attachment(load=LOAD, backing=backing))
    assert reason in found.message


@pytest.mark.parametrize(
    ("changed", "found"),
    [
        ({"beams_on_ledger": True}, {"ledger.point-load": "stop"}),
        ({"nailed": True}, {"ledger.nails": "stop"}),
        ({"ledger": "2x6"}, {"ledger.size": "stop"}),
        ({"treated": False}, {"ledger.durability": "stop"}),
        ({"band_thickness": 0.75}, {"ledger.band-size": "stop"}),
        ({"backing": "1 in engineered rim", "band_thickness": 1.0}, {"ledger.band-size": "stop"}),
        ({"backing": "1 in engineered rim", "band_thickness": 1.0, "band_depth": 9.5}, {}),
        ({"band_bears_fully": False}, {"ledger.band-bearing": "stop"}),
        ({"joists_cantilever": True}, {"ledger.uplift": "fix"}),
        ({"flashed": False}, {"ledger.flashing": "fix"}),
        ({"lateral_ties": False}, {"ledger.lateral": "fix"}),
        ({"guard_posts_on_edge": True}, {"deck.guard-post": "watch"}),
    ],
)
def test_each_rule_is_found_by_itself(changed: dict[str, object], found: dict[str, str]) -> None:
    assert _found(**changed) == found


def test_the_worst_comes_first() -> None:
    found = list(_found(guard_posts_on_edge=True, flashed=False, nailed=True).values())
    assert found == ["stop", "fix", "watch"]


def test_fasteners_outside_the_table_are_a_stop_that_names_the_bound() -> None:
    load = LedgerLoad(joist_span_ft=19, fastener="lag")
    (found,) = attachment_findings(Attachment(load=load))
    assert (found.id, found.severity) == ("ledger.table", "stop")
    assert "19 ft is more than 18" in found.message


def test_the_backing_chooses_the_table() -> None:
    load = LedgerLoad(joist_span_ft=12, fastener="bolt", sheathing=1.0)
    assert attachment_findings(Attachment(load=load)) == ()
    rim = Attachment(load=load, backing="1-1/8 in engineered rim", band_thickness=1.125, band_depth=9.5)
    (found,) = attachment_findings(rim)
    assert "an engineered rim has a value only behind at most 1/2 in" in found.message


def test_a_backing_nobody_knows_is_told_with_the_nearest() -> None:
    with pytest.raises(BadInput, match="Did you mean veneer"):
        attachment_findings(Attachment(load=LOAD, backing="veneers"))
