"""How the openings of a wall are dressed: the choices that make a scheme, in the words of the trade."""

from __future__ import annotations

from dataclasses import dataclass, field
from enum import StrEnum

from sillwright.water import Fastener, RoughOpening, Stock, WallFace


class WrapWhen(StrEnum):
    """When the weather-resistive layer of the wall goes on."""

    BEFORE = "before the unit"
    AFTER = "after the unit"
    COURSES = "in courses"
    """The upper course after the head strip, so that it laps over it."""
    FACE = "sheathing face"
    """The sheathing's own face, its joints taped."""


class PanMake(StrEnum):
    """How the pan gets round the front corners of the sill."""

    PATCHED = "cut and patched"
    STRETCHED = "stretched"
    FORMED = "formed with end dams"


class UnitSet(StrEnum):
    """How the unit meets the wall."""

    STRIPS_OVER = "fin, strips over it"
    STRIPS_UNDER = "fin, strips under it"
    LINED = "no fin, opening lined"


@dataclass(frozen=True, slots=True, kw_only=True)
class Scheme:
    """One way to dress an opening."""

    name: str
    words: str
    wrap: WrapWhen
    pan: PanMake
    unit: UnitSet


@dataclass(frozen=True, slots=True, kw_only=True)
class Sizes:
    """How far the pieces reach, inches. Rolls limit them; laps that codes ask for are checked apart."""

    upturn: float = 6.0
    """Of the pan at the jambs."""
    strip: float = 6.0
    """Width of a jamb strip on the wall."""
    above_fin: float = 4.0
    """How far a jamb strip runs above the head of the opening."""
    head_strip: float = 6.0
    beyond: float = 1.0
    """How far the head strip runs past the jamb strips."""
    patch: float = 3.0
    """Of a corner patch, each way from the corner."""
    lining: float = 4.0
    """Of the lining of an opening, out on the wall."""
    fold_in: float = 2.0
    """Of a jamb strip under the fin, into the opening."""
    tape: float = 2.0
    """Of a tape, each way from the cut that it covers."""
    ledger_up: float = 4.0
    """Of the ledger sheet, up the wall."""
    ledger_down: float = 2.0
    """Of the ledger sheet, down the face of the ledger."""
    course_lap: float = 4.0
    """Of one course of wrap over the one below."""
    bead: float = 0.375
    """Width of a bead."""


@dataclass(frozen=True, slots=True, kw_only=True)
class SetUnit:
    """The unit in an opening, as far as water cares."""

    opening: str
    fin: float | None
    """Width of the fin beyond the opening, inches; None: no fin."""
    depth: float
    """Of the frame, inches."""
    mulls: tuple[float, ...] = ()
    """x of every mull."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Rolls:
    """What the pieces are cut from."""

    pan: Stock
    patch: Stock
    strip: Stock
    ledger: Stock
    backing: Stock
    wrap: Stock
    tape: Stock
    metal: Stock


@dataclass(frozen=True, slots=True, kw_only=True)
class ToDress:
    """A wall to be dressed."""

    wall: WallFace
    units: tuple[SetUnit, ...]
    scheme: Scheme
    rolls: Rolls
    sizes: Sizes = field(default_factory=Sizes)
    ledger_fasteners: tuple[Fastener, ...] = ()

    def unit(self, opening: RoughOpening) -> SetUnit:
        """Return the unit of an opening."""
        return next(each for each in self.units if each.opening == opening.name)
