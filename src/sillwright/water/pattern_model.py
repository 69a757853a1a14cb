"""The flat pattern of a sheet: what is cut, folded, slit, pleated, patched. All lengths in inches.

Points are on the roll: along it, and across it from one edge. One sees the outer side of the sheet.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from enum import StrEnum

from sillwright.water.rolls import CutSize

XY = tuple[float, float]


@dataclass(frozen=True, slots=True)
class Moved:
    """From the plane of a flat sheet to its roll."""

    turn: complex
    origin: complex

    def point(self, at: complex) -> XY:
        """Return a point on the roll."""
        moved = at * self.turn - self.origin
        return moved.real, moved.imag

    def line(self, points: Iterable[complex]) -> tuple[XY, ...]:
        """Return points on the roll."""
        return tuple(self.point(each) for each in points)


class Make(StrEnum):
    """How a flat piece becomes what lies on the wall."""

    FOLDED = "folded"
    """Creased only: no length on it changes."""
    STRETCHED = "stretched"
    """Stretched round a corner."""
    FORMED = "formed"
    """Bent, and soldered, welded or sealed where the metal does not run on."""


@dataclass(frozen=True, slots=True, kw_only=True)
class FlatPanel:
    """The part of a sheet that will lie on one face."""

    name: str
    facet: str
    words: str
    """Of the face."""
    outline: tuple[XY, ...]
    up: XY | None
    """The direction that will point up the wall, or up the slope, or inward on a level face; length 1.

    None: the panel is stretched, so there is no one direction.
    """


@dataclass(frozen=True, slots=True, kw_only=True)
class Fold:
    """A crease between two panels."""

    one: str
    other: str
    line: tuple[XY, ...]
    turn_deg: float
    """How far the other panel is folded out of the plane: more than 0 up to the eye, less than 0 down."""

    @property
    def words(self) -> str:
        """Return which way it is creased."""
        return f"{'up' if self.turn_deg > 0 else 'down'} {abs(self.turn_deg):.0f}°"


@dataclass(frozen=True, slots=True, kw_only=True)
class Slit:
    """A cut between two panels that are beside each other in the plane."""

    one: str
    other: str
    tip: XY
    one_end: XY
    other_end: XY
    inches: float
    wedge_deg: float
    """To cut out between the banks; less than 0: so much is lacking, and the panels come out narrower."""
    short: float
    """How much narrower at the far end."""
    opens_deg: float
    """How far it opens on the wall; 0: it closes again, as beside a flap."""
    corner: str | None
    """The corner of the wall at its tip."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Pleat:
    """Sheet that is folded over itself in a corner: whole, so that nothing has to be patched."""

    one: str
    other: str
    outline: tuple[XY, XY, XY, XY]
    """From the corner point out along one panel, round, and back along the other."""
    crease: tuple[XY, XY]


@dataclass(frozen=True, slots=True, kw_only=True)
class Patch:
    """A corner that the sheet does not hold: another piece must cover it."""

    corner: str
    words: str
    angle_deg: float
    """Sum of the angles there; the theorem of Descartes calls 360 degrees less this the defect."""
    opens_deg: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Meeting:
    """Two panels that meet on the wall and are not one piece there: an edge against an edge."""

    one: str
    other: str
    words: str
    inches: float
    soldered: bool
    """It is closed when the piece is formed."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Stretch:
    """A corner round which the sheet is stretched."""

    corner: str
    words: str
    angle_deg: float
    """Sum of the angles that the sheet has to cover there."""
    flat_deg: float
    """Angle of flat sheet that covers them."""

    @property
    def percent(self) -> float:
        """Return by how much it grows longer round the corner; less than 0: it is gathered."""
        return 100 * (self.angle_deg / self.flat_deg - 1)


@dataclass(frozen=True, slots=True, kw_only=True)
class FlatPiece:
    """One piece to cut."""

    panels: tuple[FlatPanel, ...]
    rings: tuple[tuple[XY, ...], ...]
    """The lines to cut along, closed; the sheet is on the left, so holes go round to the right."""
    folds: tuple[Fold, ...]
    slits: tuple[Slit, ...]
    pleats: tuple[Pleat, ...]
    stretches: tuple[Stretch, ...]
    size: CutSize
    upper_over: bool
    """Where it is joined from strips: does the strip farther across the roll lie over the one before?"""


@dataclass(frozen=True, slots=True, kw_only=True)
class FlatPattern:
    """A sheet, flat."""

    sheet: str
    words: str
    make: Make
    pieces: tuple[FlatPiece, ...]
    patches: tuple[Patch, ...]
    meetings: tuple[Meeting, ...]
    added: tuple[str, ...]
    """Panels that come of stretching: they are not in the flat piece."""
