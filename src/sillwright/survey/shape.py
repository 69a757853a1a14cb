"""The shape of each opening, and what its readings do not determine."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from sillwright.job import Job
from sillwright.survey.faces import crossing
from sillwright.survey.model import OpeningShape, Side, Station
from sillwright.survey.network import OpeningNet
from sillwright.survey.observation import Profile, Terms, plus
from sillwright.survey.wall import Wall

Flags = NDArray[np.bool_]

ASSUMED_SHARE = 0.5
"""Share of a variance owed to assumptions above which a value counts as not measured."""
LOOSE = 1.0
"""Standard deviation beyond which a height counts as not known [in]."""
LOOSE_DROP = 0.5
"""Standard deviation beyond which the fall of a sill from end to end counts as not known [in]."""
UNTIED = 100.0
"""Standard deviation of a beam's height beyond which nothing ties it to the datum [in]."""
TELLING = 1.96
"""Standard deviations by which two ends must differ before one is called low."""


def opening_shape(job: Job, wall: Wall, net: OpeningNet) -> OpeningShape:
    """Return the adjusted shape of one opening."""
    measured = _measured(wall)
    drop = plus((1.0, net.sill.at(net.frame.left)), (-1.0, net.sill.at(net.frame.right)))
    cross = crossing(net)
    return OpeningShape(
        name=net.name,
        left=net.frame.left if net.left is None else wall.value(net.left.at(0.0)),
        right=net.frame.right if net.right is None else wall.value(net.right.at(0.0)),
        height=net.frame.height,
        level_known=net.level_known,
        position_known=net.position_known and net.left is not None,
        sill_outer=_stations(wall, net.sill, measured),
        sill_inner=_stations(wall, net.sill_inner, measured),
        head_outer=_stations(wall, net.head, measured),
        head_inner=_stations(wall, net.head_inner, measured),
        left_jack=_stations(wall, net.left, measured),
        right_jack=_stations(wall, net.right, measured),
        left_face=_stations(wall, net.left_out, measured),
        right_face=_stations(wall, net.right_out, measured),
        wall_thickness={
            corner: Station(at=0.0, value=wall.value(form), sd=wall.sd(form), measured=bool(measured[index]))
            for corner, index in net.thickness.items()
            for form in [((index, 1.0),)]
        },
        low_end=_low_end(wall, drop) if net.level_known else None,
        sill_drop=wall.value(drop),
        sill_drop_sd=wall.sd(drop),
        sill_crown=_departure(wall, net.sill, highest=True),
        head_sag=None if net.head is None else -_departure(wall, net.head, highest=False),
        fall_outward=_fall_outward(wall, net),
        cross_leg=None if cross is None else wall.value(cross),
        cross_leg_sd=None if cross is None else wall.sd(cross),
        not_determined=_missing(job, wall, net, measured),
    )


def not_determined(job: Job, wall: Wall, shapes: tuple[OpeningShape, ...]) -> tuple[str, ...]:
    """Return what the readings leave open, in sentences."""
    found = [what for shape in shapes for what in shape.not_determined]
    for i, (setup, height) in enumerate(zip(job.setup, wall.solution.network.heights, strict=True)):
        if wall.sd(((height, 1.0),)) > UNTIED:
            found.append(
                f"set-up {i + 1} ({setup.name}) shares no mark, sill or head with the datum, "
                "so heights shot from it cannot be compared with the others"
            )
    named = {shape.name for shape in shapes}
    found += [f"{u.opening}: no opening of that name was read" for u in job.unit if u.opening not in named]
    return tuple(found)


def _measured(wall: Wall) -> Flags:
    """Tell for each unknown whether its variance is owed to readings more than to assumptions.

    Q N_a Q, with N_a the assumptions' part of the normal matrix, is the part of Q that their errors bring.
    """
    adjustment = wall.solution.adjustment
    assumed = np.array([o.assumed and not _exact(o.id) for o in wall.solution.network.observations])
    part = adjustment.design[assumed] @ adjustment.cofactor
    share = np.einsum("ij,ij->j", part, part) / np.maximum(np.diag(adjustment.cofactor), 1e-300)
    loose = np.diag(adjustment.cofactor) > 100.0
    return np.asarray((share < ASSUMED_SHARE) & ~loose)


def _exact(ident: str) -> bool:
    return ident == "assumed.datum" or ident.startswith("assumed.mark.")


def _stations(wall: Wall, profile: Profile | None, measured: Flags) -> tuple[Station, ...]:
    if profile is None:
        return ()
    x, sd = wall.solution.adjustment.x, wall.solution.adjustment.sd()
    return tuple(
        Station(at=at, value=float(x[index]), sd=float(sd[index]), measured=bool(measured[index]))
        for at, index in zip(profile.stations, profile.unknown, strict=True)
    )


def _low_end(wall: Wall, drop: Terms) -> Side | None:
    value, sd = wall.value(drop), wall.sd(drop)
    if abs(value) <= TELLING * sd:
        return None
    return "right" if value > 0 else "left"


def _departure(wall: Wall, profile: Profile, *, highest: bool) -> float:
    """Return the largest rise (or deepest fall) of a profile from the chord of its ends [in]."""
    if len(profile.stations) < 3:
        return 0.0
    at, z = np.array(profile.stations), wall.values([((i, 1.0),) for i in profile.unknown])
    off = z - np.interp(at, [at[0], at[-1]], [z[0], z[-1]])
    return float(off.max() if highest else off.min())


def _fall_outward(wall: Wall, net: OpeningNet) -> float | None:
    if net.sill_inner is None:
        return None
    pairs = zip(net.sill_inner.unknown, net.sill.unknown, strict=True)
    return float(np.mean([wall.value(((a, 1.0), (b, -1.0))) for a, b in pairs]))


def _missing(job: Job, wall: Wall, net: OpeningNet, measured: Flags) -> tuple[str, ...]:
    name = net.name
    found = [*_sill_missing(wall, net)]
    if net.left is None:
        found.append(f"{name}: no width was taped, so room at the sides is not known")
    elif not net.position_known:
        found.append(
            f"{name}: no jack was taped from the wall mark, so its place along the wall is not known"
        )
    middle = (net.frame.left + net.frame.right) / 2.0
    if net.head is None:
        found.append(f"{name}: neither a height nor a shot to the head was taken, so head room is not known")
    elif wall.sd(plus((1.0, net.head.at(middle)), (-1.0, net.sill.at(middle)))) > LOOSE:
        found.append(f"{name}: nothing ties the head to the sill, so head room is not known")
    if net.left_out is None:
        found.append(f"{name}: no lean into the house nor crossed strings were read, so twist is not known")
    middles = [i for jack in (net.left, net.right) if jack is not None for i in jack.unknown[1:-1]]
    if not all(measured[i] for i in middles):
        found.append(f"{name}: which jack bows is not known; a straightedge along each would tell")
    return (*found, *_unused(job, net))


def _ends(profile: Profile) -> Terms:
    return ((profile.unknown[0], 1.0), (profile.unknown[-1], -1.0))


def _sill_missing(wall: Wall, net: OpeningNet) -> list[str]:
    name, found = net.name, []
    if not net.level_known:
        found.append(f"{name}: the sill was not shot, so its height and level are not known")
    elif wall.sd(_ends(net.sill)) > LOOSE_DROP:
        found.append(f"{name}: the sill is known in one place at most, so its level end to end is not known")
    if net.sill_inner is None:
        found.append(f"{name}: the inner edge of the sill was not shot, so pads are known at the front only")
    return found


def _unused(job: Job, net: OpeningNet) -> list[str]:
    """Return which readings say nothing yet, for want of others."""
    o = next(o for o in job.opening if o.name == net.name)
    found = []
    across = (o.left_jack_x, o.right_jack_x, o.plumb.left, o.plumb.right, o.plumb_line.left)
    if net.left is None and any((*across, o.plumb_line.right, o.string_gap)):
        found.append(f"{o.name}: what was read at the jacks is not used yet, a width is wanting")
    diagonals = any((o.diagonal.bottom_left_to_top_right, o.diagonal.bottom_right_to_top_left))
    if diagonals and (net.left is None or net.head is None):
        found.append(f"{o.name}: diagonals are not used yet, they need a width and a height")
    return found
