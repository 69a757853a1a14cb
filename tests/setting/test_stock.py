"""Fewest pieces and what limited stock allows, against every multiset of shims."""

from __future__ import annotations

from itertools import combinations_with_replacement

import pytest
from tests.setting.walls import Hole, job_of, set_job

from sillwright.errors import OutOfRange
from sillwright.job import Kit, Shim
from sillwright.lengths import from_unit
from sillwright.plan import plan
from sillwright.setting.model import Piece
from sillwright.setting.stock import UNREACHED, describe, stock_of

KITS = (
    ((2, None), (3, None)),
    ((1, None), (2, None), (4, None), (8, None)),
    ((3, None), (6, 1)),
    ((8, 0), (2, None)),
    ((6, 1),),
)


def kit_of(shims: tuple[tuple[int, int | None], ...]) -> Kit:
    made = tuple(
        Shim.model_construct(thickness=t / 32, thin=None if n is None else n / 32, count=None)
        for t, n in shims
    )
    return Kit.model_construct(shims=made, largest_pad=0.75, shim_width=1.5)


@pytest.mark.parametrize("shims", KITS)
def test_pads_take_the_fewest_pieces_of_all_multisets(shims: tuple[tuple[int, int | None], ...]) -> None:
    stock = stock_of(kit_of(shims), "in")
    scale = round(stock.step * 32 * 2) / 2
    lays: list[tuple[int, int]] = []
    for thick, thin in shims:
        lays += [(thick, thick), (thick, 0), (0, thick)] if thin is None else [(thick, thin), (thin, thick)]
    fewest: dict[tuple[float, float], int] = {(0, 0): 0}
    for count in range(1, 5):
        for pick in combinations_with_replacement(lays, count):
            key = (sum(p[0] for p in pick) / scale, sum(p[1] for p in pick) / scale)
            fewest.setdefault(key, count)
    for front in range(stock.steps + 1):
        for back in range(stock.steps + 1):
            found = int(stock.pieces[front, back])
            if (front, back) in fewest:
                assert found == fewest[front, back], (front, back)
            else:
                assert found > 4


@pytest.mark.parametrize("shims", KITS)
def test_a_make_up_adds_up_to_its_pad(shims: tuple[tuple[int, int | None], ...]) -> None:
    stock = stock_of(kit_of(shims), "in")
    for front in range(stock.steps + 1):
        for back in range(stock.steps + 1):
            if stock.pieces[front, back] >= UNREACHED:
                continue
            pieces = stock.make_up(front, back)
            assert sum(p.count for p in pieces) == stock.pieces[front, back]
            lifts = [lift(piece) for piece in pieces]
            assert sum(f for f, _ in lifts) == pytest.approx(front * stock.step)
            assert sum(b for _, b in lifts) == pytest.approx(back * stock.step)


def lift(piece: Piece) -> tuple[float, float]:
    """Return how much a piece lifts the front and the back of the sill."""
    thick, thin = piece.thickness, piece.thin or 0.0
    front, back = {
        "through": (thick, thick),
        "front": (thick, 0.0),
        "back": (0.0, thick),
        "thick edge front": (thick, thin),
        "thick edge back": (thin, thick),
    }[piece.place]
    return front * piece.count, back * piece.count


def test_a_pad_that_the_stock_cannot_make_is_refused() -> None:
    stock = stock_of(kit_of(((3, None),)), "in")
    with pytest.raises(OutOfRange, match="cannot make a pad"):
        stock_of(kit_of(((6, 1),)), "in").make_up(1, 1)
    assert stock.step == 3 / 32


def test_shims_that_share_no_step_are_refused_with_advice() -> None:
    kit = kit_of(((1, None),)).model_copy(
        update={
            "shims": tuple(Shim.model_construct(thickness=from_unit(t, "mm")) for t in (1.1, 1.7)),
            "largest_pad": 2.0,
        }
    )
    with pytest.raises(OutOfRange, match="round their thicknesses"):
        stock_of(kit, "mm")


def test_make_ups_are_said_as_a_carpenter_would() -> None:
    pieces = (
        Piece(thickness=0.25, thin=None, count=1, place="through"),
        Piece(thickness=0.0625, thin=None, count=2, place="through"),
        Piece(thickness=0.03125, thin=None, count=1, place="back"),
    )
    assert describe(pieces, "in") == "1/4 + 2 × 1/16 through, 1/32 more at the back"
    assert describe((), "in") == "no pad"
    taper = Piece(thickness=0.375, thin=0.03125, count=1, place="thick edge front")
    assert describe((taper,), "in") == "taper 3/8 to 1/32 thick edge front"


LEVEL = Hole(name="A", left=10.0, sill=(0.0, -0.25, -0.25))


def test_pads_keep_to_the_shims_on_hand_where_they_can() -> None:
    free = set_job(job_of(LEVEL, kit={"shims": ["1/8", "1/4"]}))
    quarter = next(use for use in free.stock if use.thickness == 0.25)
    assert quarter.needed >= 2
    few = {"thickness": "1/4", "count": 1}
    held = set_job(job_of(LEVEL, kit={"shims": ["1/8", few]}))
    assert all(use.on_hand is None or use.needed <= use.on_hand for use in held.stock)
    assert [pad.front for pad in held.pads] == [pad.front for pad in free.pads]
    for pad in held.pads:
        assert sum(lift(piece)[0] for piece in pad.pieces) == pytest.approx(pad.front)


def test_a_line_that_the_stock_on_hand_builds_is_preferred() -> None:
    """Two 1/4 shims make the dip level at the lowest line; a line higher up would take more of them."""
    shims = [{"thickness": "1/4", "count": 3}, {"thickness": "1/8", "count": 2}]
    setting = set_job(job_of(LEVEL, kit={"shims": shims, "planing_max": 0.0}))
    assert all(use.on_hand is None or use.needed <= use.on_hand for use in setting.stock)


def test_shims_that_do_not_suffice_are_named_with_how_many_to_get() -> None:
    found = plan(job_of(LEVEL, kit={"shims": [{"thickness": "1/8", "count": 1}]}))
    short = [finding for finding in found.findings if finding.id.startswith("finding.stock")]
    use = found.setting.stock[0]
    assert use.needed > 1
    assert len(short) == 1
    assert short[0].severity == "fix"
    assert f"Get {use.needed - 1} more" in short[0].advice
