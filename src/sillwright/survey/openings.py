"""Rows of an opening: its sill, its head, its heights, its diagonals, the thickness of the wall round it."""

from __future__ import annotations

from sillwright.job import Shot
from sillwright.survey.faces import faces
from sillwright.survey.frame import ACROSS, frame_of
from sillwright.survey.jacks import jacks
from sillwright.survey.lasers import STATION_MERGE, beam_start
from sillwright.survey.network import OpeningNet
from sillwright.survey.observation import Diagonal, Profile, merge, plus
from sillwright.survey.rows import STATED_SD, UNTIED_SD, Rows, Taken

INTERPOLATION = 0.002
"""Standard deviation a place gains for each inch it lies from the nearest station [in/in]."""
CORNERS = ("top_left", "top_right", "bottom_left", "bottom_right")


def opening(rows: Rows, index: int) -> None:
    """Add one opening's profiles and taped readings."""
    o = rows.job.opening[index]
    shots = [s for setup in rows.job.setup for s in setup.series if s.sill == o.name and s.x is not None]
    frame = frame_of(rows.job, o, shots, excluded=rows.verdicts.excluded)
    places = [s.x for s in shots if s.x is not None]
    stations = merge(places, within=STATION_MERGE)
    if len(stations) < 2:
        stations = merge([*stations, *frame.across], within=STATION_MERGE)
    sill = _sill(rows, o.name, stations, shot=bool(shots), height=frame.height)
    head_shot = _beam_less_down(rows, "head", o.name) is not None
    tied = head_shot and any((o.height.left, o.height.centre, o.height.right))
    net = OpeningNet(
        name=o.name,
        frame=frame,
        sill=sill,
        level_known=bool(shots) or tied,
        position_known=frame.position_known,
    )
    rows.network.openings[o.name] = net
    jacks(rows, index, net)
    inner_heights = any((o.height_inner.left, o.height_inner.centre, o.height_inner.right))
    if inner_heights or any(s.edge == "inner" for s in shots):
        what = f"sill of {o.name} falls evenly front to back"
        net.sill_inner = rows.behind(sill, f"{o.name}.sill", what, opening=o.name)
    _head(rows, index, net)
    _diagonals(rows, index, net)
    faces(rows, index, net)
    _thickness(rows, index, net)


def _sill(rows: Rows, name: str, stations: tuple[float, ...], *, shot: bool, height: float) -> Profile:
    seen, head = _beam_less_down(rows, "sill", name), _beam_less_down(rows, "head", name)
    z = seen if seen is not None else head - height if head is not None else 0.0
    sill = Profile(stations, tuple(rows.unknowns.add((name, "sill", x), z) for x in stations))
    bow = rows.job.assume.sill_bow
    rows.straight(sill, f"{name}.sill", f"sill of {name} straight", sd=bow, span=32.0, opening=name)
    rows.level(sill, f"{name}.sill_level", f"sill of {name} roughly level", opening=name)
    if not shot:
        what, sd = f"sill of {name} was not shot: heights count from its own middle", STATED_SD
        if head is not None:
            what, sd = f"sill of {name} lies somewhere below its head", UNTIED_SD
        middle = sill.at((stations[0] + stations[-1]) / 2.0)
        rows.assume(f"{name}.datum", what, middle, sd=sd, value=z, opening=name)
    return sill


def _beam_less_down(rows: Rows, target: str, name: str) -> float | None:
    """Return the approximate height of the first shot to an opening's sill or head; None without one."""
    for i, setup in enumerate(rows.job.setup):
        for shot in setup.series:
            if getattr(shot, target) == name:
                return beam_start(rows, i) - shot.down[0].value
    return None


def _head(rows: Rows, index: int, net: OpeningNet) -> None:
    o, name = rows.job.opening[index], net.name
    shots = [s for setup in rows.job.setup for s in setup.series if s.head == name and s.x is not None]
    across = dict(zip(ACROSS, net.frame.across, strict=True))
    taped = [x for where, x in across.items() if getattr(o.height, where) or getattr(o.height_inner, where)]
    stations = merge([*taped, *(s.x for s in shots if s.x is not None)], within=2.0)
    if not stations:
        return
    z = rows.unknowns.start[net.sill.unknown[0]] + net.frame.height
    net.head = Profile(stations, tuple(rows.unknowns.add((name, "head", x), z) for x in stations))
    sag = rows.job.assume.head_sag
    rows.straight(net.head, f"{name}.head", f"head of {name} straight", sd=sag, span=64.0, opening=name)
    rows.level(net.head, f"{name}.head_level", f"head of {name} roughly level", opening=name)
    if _head_read_inside(rows, index, shots):
        what = f"head of {name} falls evenly front to back"
        net.head_inner = rows.behind(net.head, f"{name}.head", what, opening=name)
    _heights(rows, index, net, across, "height", "")
    _heights(rows, index, net, across, "height_inner", " at the room side")


def _head_read_inside(rows: Rows, index: int, shots: list[Shot]) -> bool:
    inner = rows.job.opening[index].height_inner
    return any((inner.left, inner.centre, inner.right)) or any(s.edge == "inner" for s in shots)


def _heights(rows: Rows, index: int, net: OpeningNet, across: dict[str, float], face: str, said: str) -> None:
    head, sill = (net.head, net.sill) if face == "height" else (net.head_inner, net.sill_inner)
    if head is None or sill is None:
        return
    for where, x in across.items():
        readings = getattr(getattr(rows.job.opening[index], face), where)
        taken = Taken(
            readings=readings,
            path=f"opening[{index}].{face}.{where}",
            id=f"{net.name}.{face}.{where}",
            kind="height",
            label=f"{net.name}: height{said}, {where}",
            extra_sd=INTERPOLATION * (head.distance(x) + sill.distance(x)),
            opening=net.name,
            x=x,
        )
        rows.read(taken, plus((1.0, head.at(x)), (-1.0, sill.at(x))))


def diagonal_forms(net: OpeningNet) -> dict[str, Diagonal]:
    """Return both diagonals by their keys; none where jacks or head are not known."""
    if net.left is None or net.right is None or net.head is None:
        return {}
    top, left, right = net.frame.height, net.frame.left, net.frame.right
    rising = plus((1.0, net.right.at(top)), (-1.0, net.left.at(0.0)))
    falling = plus((1.0, net.left.at(top)), (-1.0, net.right.at(0.0)))
    return {
        "bottom_left_to_top_right": Diagonal(
            dx=rising, dz=plus((1.0, net.head.at(right)), (-1.0, net.sill.at(left)))
        ),
        "bottom_right_to_top_left": Diagonal(
            dx=falling, dz=plus((1.0, net.head.at(left)), (-1.0, net.sill.at(right)))
        ),
    }


def _diagonals(rows: Rows, index: int, net: OpeningNet) -> None:
    for key, span in diagonal_forms(net).items():
        taken = Taken(
            readings=getattr(rows.job.opening[index].diagonal, key),
            path=f"opening[{index}].diagonal.{key}",
            id=f"{net.name}.diagonal.{key}",
            kind="diagonal",
            label=f"{net.name}: diagonal, {key.replace('_', ' ')}",
            opening=net.name,
        )
        rows.read(taken, span)


def _thickness(rows: Rows, index: int, net: OpeningNet) -> None:
    name, given = net.name, rows.job.opening[index].wall_thickness
    values = [r[0].value for r in (getattr(given, corner) for corner in CORNERS) if r]
    if not values:
        return
    mean = rows.unknowns.add((name, "thickness"), values[0])
    sd = rows.job.assume.thickness
    for corner in CORNERS:
        own = rows.unknowns.add((name, "thickness", corner), values[0])
        net.thickness[corner] = own
        form = ((own, 1.0), (mean, -1.0))
        rows.assume(f"{name}.thickness.{corner}", f"wall at {name} evenly thick", form, sd=sd, opening=name)
        taken = Taken(
            readings=getattr(given, corner),
            path=f"opening[{index}].wall_thickness.{corner}",
            id=f"{name}.wall_thickness.{corner}",
            kind="thickness",
            label=f"{name}: wall thickness, {corner.replace('_', ' ')}",
            opening=name,
        )
        rows.read(taken, ((own, 1.0),))
