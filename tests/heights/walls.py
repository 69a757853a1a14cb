"""An invented wall for tests: a sliding door over a deck, with a ledger on a 2x10 band joist."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from sillwright.heights import (
    Backing,
    DeckHeights,
    DoorHeights,
    Ground,
    Layer,
    Place,
    UnitHeights,
    WallHeights,
)

LAYERS = (Layer(name="sloped strip", thickness=7 / 16), Layer(name="membrane", thickness=1 / 16))
SLIDER = UnitHeights(
    opening="A",
    frame_height=79.5,
    line=0.3125,
    layers=LAYERS,
    rough_sill=(Place(x=10.0, z=0.0, sd=0.01), Place(x=55.0, z=0.125), Place(x=100.0, z=0.1875)),
    head=(Place(x=10.0, z=81.0), Place(x=100.0, z=80.875)),
    door=DoorHeights(threshold_above_unit_bottom=1.375, floor=(Place(x=44.0, z=0.75), Place(x=88.0, z=1.0))),
)
WALL = WallHeights(
    units=(SLIDER,),
    deck=DeckHeights(
        decking_thickness=1.0, joist_depth=7.25, step_down=2.5, ledger_depth=9.25, beam_depth=9.25
    ),
    backing=Backing(top=(Place(x=6.0, z=-1.5), Place(x=246.0, z=-1.75)), depth=9.25),
    ground=Ground(grade=Place(x=0.0, z=-26.0), footing_above_grade=3.0, footing_depth=36.0),
)


def slider(opening: str = "A", *, door: Any = (), **unit: Any) -> UnitHeights:
    """Return the sliding door, at any opening, with some of its numbers changed."""
    assert SLIDER.door is not None
    return replace(SLIDER, opening=opening, **{"door": replace(SLIDER.door, **dict(door)), **unit})


def wall(*, unit: Any = (), door: Any = (), deck: Any = (), **parts: Any) -> WallHeights:
    """Return the wall with some of its numbers changed."""
    assert WALL.deck is not None
    units = (slider(door=door, **dict(unit)),)
    return replace(WALL, **{"units": units, "deck": replace(WALL.deck, **dict(deck)), **parts})
