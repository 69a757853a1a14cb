"""Invented walls, dressed: openings that are out of level, plumb and square, with and without a ledger."""

from __future__ import annotations

from dataclasses import replace

from hypothesis import strategies as st

from sillwright.flashing.dress import dress
from sillwright.flashing.practice import PanMake, Rolls, Scheme, SetUnit, ToDress, UnitSet, WrapWhen
from sillwright.water import Dressing, LedgerBoard, RoughOpening, Stock, WallFace

TAPE = Stock(name="roll A", family="butyl tape", width=12.0, thickness=0.04, self_seals=True)
STRETCH = Stock(name="roll B", family="butyl tape", width=9.0, stretches=True, self_seals=True)
ROLLS = Rolls(
    pan=TAPE,
    patch=STRETCH,
    strip=replace(TAPE, name="roll C", width=6.0),
    ledger=TAPE,
    backing=TAPE,
    wrap=Stock(name="wrap", family="wall wrap"),
    tape=Stock(name="tape", family="acrylic tape", width=4.0),
    metal=Stock(name="metal", family="aluminum", width=24.0),
)


def opening(
    name: str = "A", x: float = 40.0, off: tuple[float, ...] = (0.0,) * 8, **more: float
) -> RoughOpening:
    """Return an opening of about 36 by 50, its corners off by (x, z) from the sill's left end round."""
    a, b, c, d = ((x, 30.0), (x + 36.0, 30.0), (x + 36.0, 80.0), (x, 80.0))
    moved = [(px + off[2 * n], pz + off[2 * n + 1]) for n, (px, pz) in enumerate((a, b, c, d))]
    sizes = {"depth": 5.0, "sill_rise": 0.08, "dam": 1.0} | more
    return RoughOpening(name=name, corners=tuple(moved), **sizes)  # type: ignore[arg-type]


CROOKED = (0.0, 0.0, 0.0, 0.25, 0.2, 0.0, 0.1, 0.1)


def wall(*openings: RoughOpening, ledger: bool = True) -> WallFace:
    """Return a wall that reaches 40 past its openings; the ledger runs under them all."""
    ends = max(each.x[1] for each in openings) + 40.0
    board = LedgerBoard(x=(10.0, ends - 15.0), z=(15.0, 24.25), thickness=1.5) if ledger else None
    return WallFace(x=(0.0, ends), z=(0.0, 108.0), openings=openings, ledger=board)


def dressed(
    own: WallFace | None = None,
    *,
    wrap: WrapWhen = WrapWhen.BEFORE,
    pan: PanMake = PanMake.PATCHED,
    unit: UnitSet = UnitSet.STRIPS_OVER,
    rolls: Rolls = ROLLS,
) -> Dressing:
    """Return a wall dressed by a scheme."""
    own = own or wall(opening(off=CROOKED))
    fin = None if unit is UnitSet.LINED else 1.25
    units = tuple(SetUnit(opening=each.name, fin=fin, depth=3.25) for each in own.openings)
    return dress(
        ToDress(
            wall=own,
            units=units,
            scheme=Scheme(name="s", words="s", wrap=wrap, pan=pan, unit=unit),
            rolls=rolls,
        )
    )


offs = st.tuples(*[st.floats(-0.75, 0.75) for _ in range(8)])
crooked_openings = st.builds(opening, off=offs, sill_rise=st.floats(0.0, 0.2), depth=st.floats(3.5, 8.0))
crooked_walls = st.builds(wall, crooked_openings, ledger=st.booleans())


def mirrored(own: WallFace) -> WallFace:
    """Return a wall as one sees it from behind: what was left is right."""
    end = own.x[1]

    def turned(each: RoughOpening) -> RoughOpening:
        a, b, c, d = ((end - x, z) for x, z in each.corners)
        return replace(each, corners=(b, a, d, c))

    board = own.ledger and replace(own.ledger, x=(end - own.ledger.x[1], end - own.ledger.x[0]))
    return replace(own, openings=tuple(turned(each) for each in reversed(own.openings)), ledger=board)
