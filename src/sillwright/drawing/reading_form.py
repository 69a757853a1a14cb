"""A blank opening, seen from outside, with a letter at every place where a reading is taken."""

from __future__ import annotations

from sillwright.drawing.scene import (
    Along,
    Anchor,
    AnyItem,
    Dim,
    Fill,
    Mark,
    MarkKind,
    Path,
    Role,
    Scene,
    Text,
)

_W, _H = 3.0, 3.4
"""The sketch's opening [paper inches]; it is no real opening."""

PLACES: tuple[tuple[str, str], ...] = (
    ("W1 W2 W3", "width at the bottom, in the middle, at the top"),
    ("H1 H2 H3", "height at the left, in the centre, at the right"),
    ("D1", "diagonal, bottom left to top right"),
    ("D2", "diagonal, bottom right to top left"),
    ("P1 P2", "left and right jack: how far the top leans right, and in, over which height"),
    ("S", "gap between two strings corner to corner; + when the one rising to the right lies further in"),
    ("T1–T4", "wall thickness at the corners"),
    ("X1 X2", "running tape from the wall mark to both jacks at the sill"),
    ("L", "laser down to the sill, outer and inner edge, every 16 in or 400 mm, and to the head"),
)


def reading_form() -> Scene:
    """Return the sketch of where to read what, at its own size."""
    frame = ((0.0, 0.0), (_W, 0.0), (_W, _H), (0.0, _H))
    marks: list[AnyItem] = [
        Path(frame, closed=True, fill=Fill.PAPER, weight=1.4),
        Path(((0.0, 0.0), (_W, _H)), role=Role.CHALK),
        Path(((_W, 0.0), (0.0, _H)), role=Role.CHALK),
        Text((0.42, 0.56), "D1", anchor=Anchor.SE, size=0.12, bold=True, nudge=(-0.04, 0.06)),
        Text((_W - 0.42, 0.56), "D2", anchor=Anchor.SW, size=0.12, bold=True, nudge=(0.04, 0.06)),
        Text((_W / 2, _H / 2), "S", anchor=Anchor.S, size=0.12, bold=True, nudge=(0, 0.14)),
        *_widths(),
        *_heights(),
        *_corners(),
        *_laser(),
        Dim((-0.75, -0.55), (0.0, -0.55), -0.35, "X1", along=Along.X, size=0.12),
        Dim((-0.75, -0.55), (_W, -0.55), -0.65, "X2", along=Along.X, size=0.12),
        Path(((-0.75, -1.4), (-0.75, _H + 0.2)), role=Role.CHALK),
        Text((-0.75, _H + 0.2), "wall mark", anchor=Anchor.S, size=0.11, nudge=(0, 0.04), role=Role.CHALK),
        Text((-0.16, _H * 0.5), "P1", anchor=Anchor.E, size=0.12, bold=True),
        Text((_W + 0.16, _H * 0.5), "P2", anchor=Anchor.W, size=0.12, bold=True),
    ]
    return Scene(tuple(marks), title="Where to read", alt="An opening with letters where readings are taken.")


def _widths() -> list[AnyItem]:
    places = ((0.3, "W1"), (_H / 2 - 0.55, "W2"), (_H - 0.3, "W3"))
    return [Dim((0.0, z), (_W, z), 0.0001, words, along=Along.X, size=0.12) for z, words in places]


def _heights() -> list[AnyItem]:
    places = ((0.5, "H1"), (_W / 2 + 0.38, "H2"), (_W - 0.22, "H3"))
    return [Dim((x, 0.0), (x, _H), 0.0001, words, along=Along.Z, size=0.12) for x, words in places]


def _corners() -> list[AnyItem]:
    places = (
        (0.0, _H, "T1", Anchor.SE),
        (_W, _H, "T2", Anchor.SW),
        (0.0, 0.0, "T3", Anchor.NE),
        (_W, 0.0, "T4", Anchor.NW),
    )
    return [Text((x, z), words, anchor=anchor, size=0.12, bold=True) for x, z, words, anchor in places]


def _laser() -> list[AnyItem]:
    marks: list[AnyItem] = [
        Mark((0.3 + 0.6 * k, 0.0), MarkKind.STATION, role=Role.PENCIL, size=0.12) for k in range(5)
    ]
    return [
        *marks,
        Text((_W / 2, 0.0), "L  L  L, outer and inner edge", anchor=Anchor.N, size=0.12, nudge=(0, -0.08)),
    ]
