"""Where a unit and its opening could meet: points of jacks and head, with their joint uncertainty.

A frame is plumb, level and rigid; the opening is not. So every point of the left jack counts against every
point of the right one, and every place of the head against the sill below it, as it will be padded.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from sillwright.job import Kit, UnitToSet
from sillwright.setting.bearing import Bearings
from sillwright.survey import OpeningNet, Profile, Terms, Wall, plus

Floats = NDArray[np.float64]


@dataclass(frozen=True, slots=True, kw_only=True)
class Over:
    """Places of the head over a unit."""

    z: Floats
    """Height of the head at each place [in]."""
    sd: Floats
    """Of head less sill there: the unit stands on the sill as it is [in]."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Meeting:
    """Points at which a unit could meet its opening (m,): jacks as x, heads as height above the sill."""

    forms: tuple[Terms, ...]
    mean: Floats
    covariance: Floats
    left: tuple[tuple[int, str], ...]
    """Index and place of each point of the left jack."""
    right: tuple[tuple[int, str], ...]
    head: tuple[tuple[int, str], ...]
    head_sill: Floats
    """Adjusted height of the sill below each point of the head [in]."""

    def sd(self, index: int) -> float:
        """Return the standard deviation of one point [in]."""
        return float(max(self.covariance[index, index], 0.0) ** 0.5)


def meeting(wall: Wall, bearings: Bearings) -> Meeting:
    """Return the points at which a unit could meet its opening."""
    net, unit = bearings.net, bearings.unit
    forms: list[Terms] = []
    sides: dict[str, list[tuple[int, str]]] = {"left": [], "right": [], "head": []}
    if net.left is not None and net.right is not None:
        for side, faces in (("left", (net.left, net.left_inner)), ("right", (net.right, net.right_inner))):
            for h, face in jack_points(net, unit, *faces):
                sides[side].append((len(forms), up(h, net)))
                forms.append(face.at(h))
    sill_forms: list[Terms] = []
    for x, head, sill in heads(bearings):
        sides["head"].append((len(forms), across(x, bearings)))
        sill_forms.append(sill.at(x))
        forms.append(plus((1.0, head.at(x)), (-1.0, sill_forms[-1])))
    return Meeting(
        forms=tuple(forms),
        mean=wall.values(forms) if forms else np.zeros(0),
        covariance=wall.covariance(forms) if forms else np.zeros((0, 0)),
        left=tuple(sides["left"]),
        right=tuple(sides["right"]),
        head=tuple(sides["head"]),
        head_sill=wall.values(sill_forms) if sill_forms else np.zeros(0),
    )


def heads_over(wall: Wall, bearings: Bearings) -> Over:
    """Return the head over a unit, at every place where it could be lowest."""
    places = heads(bearings)
    if not places:
        return Over(z=np.zeros(0), sd=np.zeros(0))
    room = [plus((1.0, head.at(x)), (-1.0, sill.at(x))) for x, head, sill in places]
    variance = np.diag(wall.covariance(room))
    return Over(z=wall.values([head.at(x) for x, head, _ in places]), sd=np.sqrt(np.maximum(variance, 0.0)))


def heads(bearings: Bearings) -> list[tuple[float, Profile, Profile]]:
    """Return the places of a head over a unit, with the head's and the sill's profile there."""
    net = bearings.net
    ends = (bearings.left, bearings.left + bearings.unit.frame_width)
    found = []
    for head, sill in ((net.head, net.sill), (net.head_inner, net.sill_inner or net.sill)):
        if head is not None:
            inside = [s for s in head.stations if ends[0] < s < ends[1]]
            found += [(x, head, sill) for x in (ends[0], *inside, ends[1])]
    return found


def jack_points(net: OpeningNet, unit: UnitToSet, *faces: Profile | None) -> list[tuple[float, Profile]]:
    """Return heights above the sill, with the face, at which a jack could be nearest to the unit."""
    top = min(net.frame.height, unit.frame_height + 1.0)
    return [
        (h, face)
        for face in faces
        if face is not None
        for h in (0.0, *(s for s in face.stations if 0.0 < s < top), top)
    ]


def up(h: float, net: OpeningNet) -> str:
    """Return where a height of a jack is, in words."""
    share = h / max(net.frame.height, 1e-9)
    return "at the bottom" if share < 0.2 else "at the top" if share > 0.8 else "at mid height"


def across(x: float, bearings: Bearings) -> str:
    """Return where a place of a head is, in words."""
    share = (x - bearings.left) / bearings.unit.frame_width
    return "at the left" if share < 0.2 else "at the right" if share > 0.8 else "at the centre"


def resized(bearings: Bearings, *, width: float, height: float) -> Bearings:
    """Return the bearings with a unit of another size, on the same left side."""
    unit = bearings.unit.model_copy(update={"frame_width": width, "frame_height": height})
    return replace(bearings, unit=unit)


def stack_height(kit: Kit, unit: UnitToSet) -> float:
    """Return what lies between line and head besides the unit [in]."""
    return kit.stack_above_line + unit.least_head_clearance
