"""Invented walls to dress, and what to change about a dressed one."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

from sillwright.flashing.dress import dress
from sillwright.flashing.practice import (
    PanMake,
    Rolls,
    Scheme,
    SetUnit,
    Sizes,
    ToDress,
    UnitSet,
    WrapWhen,
)
from sillwright.water import (
    Dressing,
    LedgerBoard,
    Panel,
    PlaceVerdict,
    RoughOpening,
    Sheet,
    Stock,
    WallFace,
    Water,
)

MEMBRANE = Stock(name="roll A", family="butyl tape", width=12.0, thickness=0.04, self_seals=True)
STRIP = Stock(name="roll B", family="butyl tape", width=6.0, thickness=0.04, self_seals=True)
ROLLS = Rolls(
    pan=MEMBRANE,
    patch=Stock(name="roll C", family="butyl tape", width=6.0, stretches=True, self_seals=True),
    strip=STRIP,
    ledger=MEMBRANE,
    backing=MEMBRANE,
    wrap=Stock(name="wrap", family="wall wrap"),
    tape=Stock(name="tape", family="acrylic tape", width=4.0),
    metal=Stock(name="metal", family="aluminum", width=10.0),
)
LEDGER = LedgerBoard(x=(10.0, 100.0), z=(15.0, 24.25), thickness=1.5)


def opening(
    name: str = "A",
    x: float = 40.0,
    *,
    lean: float = 0.0,
    fall: float = 0.0,
    dam: float = 1.0,
    rise: float = 0.08,
    front: float = 0.0,
) -> RoughOpening:
    """Return an opening 36 x 50 whose jambs lean to the right and whose sill falls to the right, inches."""
    corners = ((x, 30.0), (x + 36.0, 30.0 - fall), (x + 36.0 + lean, 80.0), (x + lean, 80.0))
    return RoughOpening(name=name, corners=corners, depth=5.0, sill_rise=rise, dam=dam, front=front)


def wall(*openings: RoughOpening, ledger: LedgerBoard | None = None) -> WallFace:
    """Return a wall 108 high round its openings."""
    every = openings or (opening(),)
    end = max(each.x[1] for each in every) + 44.0
    return WallFace(x=(0.0, end), z=(0.0, 108.0), openings=every, ledger=ledger)


def to_dress(
    face: WallFace | None = None,
    *,
    wrap: WrapWhen = WrapWhen.BEFORE,
    pan: PanMake = PanMake.PATCHED,
    unit: UnitSet = UnitSet.STRIPS_OVER,
    rolls: Rolls = ROLLS,
    sizes: Sizes | None = None,
) -> ToDress:
    """Return a wall with its scheme."""
    face = face or wall()
    fin = None if unit is UnitSet.LINED else 1.25
    return ToDress(
        wall=face,
        units=tuple(SetUnit(opening=each.name, fin=fin, depth=3.25) for each in face.openings),
        scheme=Scheme(name="test", words="test", wrap=wrap, pan=pan, unit=unit),
        rolls=rolls,
        sizes=sizes or Sizes(),
    )


def dressed(face: WallFace | None = None, **choices: object) -> Dressing:
    """Return a dressed wall."""
    return dress(to_dress(face, **choices))  # type: ignore[arg-type]


def with_sheet(dressing: Dressing, name: str, change: Callable[[Sheet], Sheet]) -> Dressing:
    """Return a dressing with one sheet changed."""
    assert any(sheet.name == name for sheet in dressing.sheets), name
    sheets = tuple(change(sheet) if sheet.name == name else sheet for sheet in dressing.sheets)
    return replace(dressing, sheets=sheets)


def without(dressing: Dressing, *names: str) -> Dressing:
    """Return a dressing with sheets left out."""
    assert set(names) <= {sheet.name for sheet in dressing.sheets}
    return replace(dressing, sheets=tuple(each for each in dressing.sheets if each.name not in names))


def laid(act: float) -> Callable[[Sheet], Sheet]:
    """Return a change of a sheet's place in the order of work, its flaps with it."""
    return lambda sheet: replace(
        sheet,
        laid=act,  # type: ignore[arg-type]
        panels=tuple(replace(panel, laid=None) for panel in sheet.panels),
    )


def act_of(dressing: Dressing, name: str) -> int:
    """Return the act that lays a sheet."""
    return next(sheet.laid for sheet in dressing.sheets if sheet.name == name)


def with_panel(name: str, change: Callable[[Panel], Panel]) -> Callable[[Sheet], Sheet]:
    """Return a change of one panel of a sheet."""

    def changed(sheet: Sheet) -> Sheet:
        assert any(panel.name == name for panel in sheet.panels), name
        return replace(
            sheet, panels=tuple(change(panel) if panel.name == name else panel for panel in sheet.panels)
        )

    return changed


def at(water: Water, place: str) -> PlaceVerdict:
    """Return the verdict for a place."""
    return next(each for each in water.places if each.place == place)
