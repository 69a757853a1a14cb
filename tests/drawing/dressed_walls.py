"""Invented walls, dressed: for the pictures of water."""

from __future__ import annotations

from functools import cache

from sillwright.flashing import PanMake, Rolls, Scheme, SetUnit, ToDress, UnitSet, WrapWhen, dress
from sillwright.water import Dressing, LedgerBoard, RoughOpening, Stock, WallFace


def rolls() -> Rolls:
    """Return membranes, tape, wrap and metal of no maker."""
    membrane = Stock(name="roll 12", family="butyl tape", width=12.0, self_seals=True, thickness=0.04)
    return Rolls(
        pan=membrane,
        patch=Stock(name="stretch", family="butyl tape", stretches=True, width=6.0),
        strip=Stock(name="roll 6", family="butyl tape", width=6.0),
        ledger=membrane,
        backing=membrane,
        wrap=Stock(name="wrap", family="wall wrap"),
        tape=Stock(name="tape", family="acrylic tape", width=4.0),
        metal=Stock(name="metal", family="aluminum", width=10.0),
    )


@cache
def dressed_wall(
    *,
    openings: int = 1,
    ledger: bool = True,
    wrap: WrapWhen = WrapWhen.BEFORE,
    pan: PanMake = PanMake.PATCHED,
    unit: UnitSet = UnitSet.STRIPS_OVER,
    front: float = 0.0,
) -> Dressing:
    """Return openings of 36 x 50 in, 60 in apart, dressed; sills at 30 in, a ledger's top at 24 1/4."""
    holes = tuple(
        RoughOpening(
            name="ABC"[n],
            corners=((40 + 60 * n, 30), (76 + 60 * n, 30), (76 + 60 * n, 80), (40 + 60 * n, 80)),
            depth=5.0,
            sill_rise=0.08,
            dam=1.0,
            front=front,
        )
        for n in range(openings)
    )
    length = 56.0 + 60.0 * openings
    board = LedgerBoard(x=(10.0, length - 10.0), z=(15.0, 24.25), thickness=1.5) if ledger else None
    fin = None if unit is UnitSet.LINED else 1.25
    return dress(
        ToDress(
            wall=WallFace(x=(0.0, length), z=(0.0, 108.0), openings=holes, ledger=board),
            units=tuple(SetUnit(opening=each.name, fin=fin, depth=3.25) for each in holes),
            scheme=Scheme(name="test", words="a test", wrap=wrap, pan=pan, unit=unit),
            rolls=rolls(),
        )
    )


SCHEMES: dict[str, Dressing] = {
    "strips over": dressed_wall(),
    "metal pan, courses": dressed_wall(wrap=WrapWhen.COURSES, pan=PanMake.FORMED, unit=UnitSet.STRIPS_UNDER),
    "lined": dressed_wall(
        openings=2,
        ledger=False,
        wrap=WrapWhen.FACE,
        pan=PanMake.STRETCHED,
        unit=UnitSet.LINED,
        front=1.5,
    ),
}
