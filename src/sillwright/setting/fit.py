"""How surely a unit fits: the chance that it finds all the room it needs, at once."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray
from scipy.special import ndtri

from sillwright.job import Kit, UnitToSet
from sillwright.setting.bearing import Bearings
from sillwright.setting.model import Clearance, Fit
from sillwright.survey import OpeningNet, Profile, Terms, Wall, plus, probability_all_above

Floats = NDArray[np.float64]
POINTS = 4096


@dataclass(frozen=True, slots=True, kw_only=True)
class Margin:
    """One place where unit and framing could meet: room there is `form` + `constant`."""

    form: Terms
    constant: float
    side: str
    where: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Seated:
    """A unit at a place along the wall on a line."""

    bearings: Bearings
    left: float | None
    line: float
    trimmed: dict[str, float]


def margins(wall: Wall, kit: Kit, seated: Seated) -> list[Margin]:
    """Return every clearance of a unit, as room left over nothing (the demanded clearance not yet taken off)."""
    net, unit = seated.bearings.net, seated.bearings.unit
    found: list[Margin] = []
    if seated.left is not None and net.left is not None and net.right is not None:
        right = seated.left + unit.frame_width
        for h, face in _heights(net, unit, net.left, net.left_inner):
            cut = seated.trimmed.get("left", 0.0)
            found.append(Margin(form=_minus(face.at(h)), constant=seated.left + cut, side="left", where=_up(h, net)))
        for h, face in _heights(net, unit, net.right, net.right_inner):
            cut = seated.trimmed.get("right", 0.0)
            found.append(Margin(form=face.at(h), constant=cut - right, side="right", where=_up(h, net)))
    for x, head, sill in heads(seated.bearings):
        # the unit stands on pads of known thickness over the sill as it is, so head less sill counts
        pad = seated.line - wall.value(sill.at(x))
        used = pad + kit.stack_above_line + unit.frame_height
        form = plus((1.0, head.at(x)), (-1.0, sill.at(x)))
        found.append(Margin(form=form, constant=-used, side="head", where=_along(x, seated.bearings)))
    return found


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


def _heights(net: OpeningNet, unit: UnitToSet, *faces: Profile | None) -> list[tuple[float, Profile]]:
    top = min(net.frame.height, unit.frame_height + 1.0)
    return [(h, face) for face in faces if face is not None for h in (0.0, *(s for s in face.stations if s < top), top)]


def _minus(form: Terms) -> Terms:
    return tuple((index, -coefficient) for index, coefficient in form)


def _up(h: float, net: OpeningNet) -> str:
    share = h / max(net.frame.height, 1e-9)
    return "at the bottom" if share < 0.2 else "at the top" if share > 0.8 else "at mid height"


def _along(x: float, bearings: Bearings) -> str:
    share = (x - bearings.left) / bearings.unit.frame_width
    return "at the left" if share < 0.2 else "at the right" if share > 0.8 else "at the centre"


def clearances(wall: Wall, unit: UnitToSet, found: list[Margin]) -> dict[str, Clearance]:
    """Return the least room on each side, with its standard deviation and place."""
    values = wall.values([m.form for m in found]) if found else np.zeros(0)
    result = {}
    for side in ("left", "right", "head"):
        own = [i for i, m in enumerate(found) if m.side == side]
        if own:
            least = min(own, key=lambda i: values[i] + found[i].constant)
            result[side] = Clearance(
                least=float(values[least] + found[least].constant),
                sd=wall.sd(found[least].form),
                where=found[least].where,
                demanded=demanded(unit, side),
            )
    return result


def demanded(unit: UnitToSet, side: str) -> float:
    """Return the clearance a unit asks for on a side [in]."""
    return unit.least_head_clearance if side == "head" else unit.least_side_clearance


@dataclass(frozen=True, slots=True, kw_only=True)
class Need:
    """A room that must be at least nothing: `form` + `constant`."""

    form: Terms
    constant: float
    what: str


def needs(wall: Wall, kit: Kit, bearings: Bearings, *, line: float, trimmed: float) -> list[Need]:
    """Return all that a unit needs to fit, wherever along its opening it fits best.

    A plumb frame of width w with clearance c on both sides fits where every right-hand point of the opening is
    at least w + 2c from every left-hand point; so crossed, leaning and bowed jacks count with each other.
    """
    net, unit = bearings.net, bearings.unit
    found: list[Need] = []
    if net.left is not None and net.right is not None:
        taken = unit.frame_width + 2.0 * unit.least_side_clearance - trimmed
        for low, left in _heights(net, unit, net.left, net.left_inner):
            for high, right in _heights(net, unit, net.right, net.right_inner):
                what = f"width, left jack {_up(low, net)} to right jack {_up(high, net)}"
                form = plus((1.0, right.at(high)), (-1.0, left.at(low)))
                found.append(Need(form=form, constant=-taken, what=what))
    for x, head, sill in heads(bearings):
        # the unit stands on pads of known thickness over the sill as it is, so head less sill counts
        pad = line - wall.value(sill.at(x))
        taken = pad + kit.stack_above_line + unit.frame_height + unit.least_head_clearance
        form = plus((1.0, head.at(x)), (-1.0, sill.at(x)))
        found.append(Need(form=form, constant=-taken, what=f"head room {_along(x, bearings)}"))
    return found


def fit(wall: Wall, asked: list[Need], *, net: OpeningNet) -> Fit | None:
    """Return the probability that all needs are met at once; None where nothing is determined."""
    if not asked:
        return None
    missing = (("room at the sides",) if net.left is None else ()) + (("head room",) if net.head is None else ())
    forms = [need.form for need in asked]
    mean = wall.values(forms) + np.array([need.constant for need in asked])
    probability = probability_all_above(mean, wall.covariance(forms), np.zeros(len(asked)))
    return Fit(
        probability=min(max(probability, 0.0), 1.0),
        governed_by=asked[governing(wall, asked)].what,
        not_determined=missing,
    )


def governing(wall: Wall, asked: list[Need]) -> int:
    """Return which need is most likely to fail."""
    slack = [(wall.value(need.form) + need.constant) / max(wall.sd(need.form), 1e-6) for need in asked]
    return int(np.argmin(slack))


@dataclass(frozen=True, slots=True)
class Room:
    """The widest and highest box that fits an opening, as equally likely cases of what the wall may be."""

    width: Floats | None
    """Free width between the jacks (k,) [in]; None: not determined."""
    height: Floats | None
    """From the line to the head (k,) [in]; None: not determined."""

    def odds(self, *, width: float, height: float) -> float:
        """Return the share of cases in which a box of that width and height fits."""
        if self.width is None or self.height is None:
            return float("nan")
        return float(np.mean((self.width >= width) & (self.height >= height)))


def room(wall: Wall, bearings: Bearings, *, line: float, trimmed: float = 0.0) -> Room:
    """Return the room in an opening over a fixed lattice of cases.

    The box is plumb and level, wherever along the opening it fits best: its width is the least right-hand
    point less the greatest left-hand point, not the smallest taped width.
    """
    net, unit = bearings.net, bearings.unit
    forms: list[Terms] = []
    lefts: list[int] = []
    rights: list[int] = []
    if net.left is not None and net.right is not None:
        for h, face in _heights(net, unit, net.left, net.left_inner):
            lefts.append(len(forms))
            forms.append(face.at(h))
        for h, face in _heights(net, unit, net.right, net.right_inner):
            rights.append(len(forms))
            forms.append(face.at(h))
    tops: list[int] = []
    pads: list[float] = []
    for x, head, sill in heads(bearings):
        tops.append(len(forms))
        forms.append(plus((1.0, head.at(x)), (-1.0, sill.at(x))))
        pads.append(line - wall.value(sill.at(x)))
    if not forms:
        return Room(None, None)
    cases = _cases(wall.values(forms), wall.covariance(forms))
    width = cases[rights].min(axis=0) - cases[lefts].max(axis=0) + trimmed if lefts else None
    height = (cases[tops] - np.array(pads)[:, None]).min(axis=0) if tops else None
    return Room(width, height)


def _cases(mean: Floats, covariance: Floats) -> Floats:
    """Return equally likely cases (m, POINTS) of a normal vector on a Richtmyer lattice: no random numbers."""
    value, vector = np.linalg.eigh(covariance)
    kept = value > 1e-12 * max(float(value.max()), 1e-300)
    root = vector[:, kept] * np.sqrt(value[kept])
    return np.asarray(mean[:, None] + root @ _normal_lattice(root.shape[1]))


@lru_cache(maxsize=4)
def _normal_lattice(dimensions: int) -> Floats:
    primes = [n for n in range(2, 400) if all(n % p for p in range(2, int(n**0.5) + 1))]
    steps = np.arange(1, POINTS + 1)[None, :] * np.sqrt(primes[:dimensions])[:, None]
    return np.asarray(ndtri(np.clip(steps % 1.0, 1e-9, 1 - 1e-9)))
