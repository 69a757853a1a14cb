"""Rows of the jacks in the wall's plane: widths, running tape, leans, plumb lines."""

from __future__ import annotations

from typing import Literal

from sillwright.survey.frame import UP
from sillwright.survey.network import OpeningNet
from sillwright.survey.observation import Profile, plus
from sillwright.survey.rows import Rows, Taken

Side = Literal["left", "right"]


def jacks(rows: Rows, index: int, net: OpeningNet) -> None:
    """Add both jacks of an opening, if anything was taped that tells its width."""
    o, frame = rows.job.opening[index], net.frame
    if not frame.has_jacks:
        return
    left = _jack(rows, net, "left", o.plumb_line.left.at if o.plumb_line.left else ())
    right = _jack(rows, net, "right", o.plumb_line.right.at if o.plumb_line.right else ())
    net.left, net.right = left, right
    _widths(rows, index, net, left, right, "width")
    if any((o.width_inner.bottom, o.width_inner.middle, o.width_inner.top)):
        net.left_inner = _behind(rows, net, "left", left)
        net.right_inner = _behind(rows, net, "right", right)
        _widths(rows, index, net, net.left_inner, net.right_inner, "width_inner")
    _place(rows, index, net, "left", left)
    _place(rows, index, net, "right", right)
    if not frame.position_known:
        what = f"{net.name}: opening centred on its sill shots, no jack was taped from the wall mark"
        middle = plus((0.5, left.at(0.0)), (0.5, right.at(0.0)))
        at = (frame.left + frame.right) / 2.0
        rows.assume(f"{net.name}.position", what, middle, sd=3.0, value=at, opening=net.name)


def _jack(rows: Rows, net: OpeningNet, side: Side, extra: tuple[float, ...]) -> Profile:
    x = net.frame.left if side == "left" else net.frame.right
    name, stations, assume = net.name, net.frame.stations_up(extra), rows.job.assume
    jack = Profile(stations, tuple(rows.unknowns.add((name, side, h), x) for h in stations))
    what, span = f"{side} jack of {name} straight", stations[-1] - stations[0]
    rows.straight(jack, f"{name}.{side}", what, sd=assume.jack_bow, span=span, opening=name)
    lean = ((jack.unknown[-1], 1.0), (jack.unknown[0], -1.0))
    what = f"{side} jack of {name} roughly plumb"
    rows.assume(f"{name}.{side}_plumb", what, lean, sd=assume.plumb, opening=name)
    return jack


def _behind(rows: Rows, net: OpeningNet, side: Side, outer: Profile) -> Profile:
    """Return the room side of a jack: square to the wall but for its bow."""
    x, name = (net.frame.left if side == "left" else net.frame.right), net.name
    inner = Profile(
        outer.stations, tuple(rows.unknowns.add((name, side, "inner", h), x) for h in outer.stations)
    )
    what, sd = f"{side} jack of {name} square to the wall", rows.job.assume.jack_bow
    for h, a, b in zip(outer.stations, outer.unknown, inner.unknown, strict=True):
        rows.assume(f"{name}.{side}_square@{h:.2f}", what, ((a, 1.0), (b, -1.0)), sd=sd, opening=name)
    return inner


def _widths(
    rows: Rows,
    index: int,
    net: OpeningNet,
    left: Profile,
    right: Profile,
    face: Literal["width", "width_inner"],
) -> None:
    said = "width" if face == "width" else "width at the room side"
    given = getattr(rows.job.opening[index], face)
    for where, height in zip(UP, net.frame.up, strict=True):
        taken = Taken(
            readings=getattr(given, where),
            path=f"opening[{index}].{face}.{where}",
            id=f"{net.name}.{face}.{where}",
            kind="width",
            label=f"{net.name}: {said}, {where}",
            opening=net.name,
        )
        rows.read(taken, plus((1.0, right.at(height)), (-1.0, left.at(height))))


def _place(rows: Rows, index: int, net: OpeningNet, side: Side, jack: Profile) -> None:
    """Add what places one jack along the wall and says how it leans."""
    o, name, frame = rows.job.opening[index], net.name, net.frame
    taken = Taken(
        readings=getattr(o, f"{side}_jack_x"),
        path=f"opening[{index}].{side}_jack_x",
        id=f"{name}.{side}_jack_x",
        kind="run",
        label=f"{name}: {side} jack from the wall mark",
        opening=name,
    )
    rows.read(taken, jack.at(0.0))
    lean = getattr(o.plumb, side)
    if lean is not None:
        taken = Taken(
            readings=lean.top_leans_right,
            path=f"opening[{index}].plumb.{side}.top_leans_right",
            id=f"{name}.plumb.{side}.right",
            kind="plumb",
            label=f"{name}: {side} jack, lean to the right",
            opening=name,
        )
        rows.read(taken, plus((1.0, jack.at(frame.top_of(lean.over_height))), (-1.0, jack.at(frame.near))))
    _plumb_line(rows, index, net, side, jack)


def _plumb_line(rows: Rows, index: int, net: OpeningNet, side: Side, jack: Profile) -> None:
    line = getattr(rows.job.opening[index].plumb_line, side)
    if line is None:
        return
    sign = 1.0 if side == "left" else -1.0
    start = rows.unknowns.start[jack.unknown[0]] + sign * line.gap[0][0].value
    hanging = ((rows.unknowns.add((net.name, side, "plumb line"), start), 1.0),)
    for k, (height, gap) in enumerate(zip(line.at, line.gap, strict=True)):
        taken = Taken(
            readings=gap,
            path=f"opening[{index}].plumb_line.{side}.gap[{k}]",
            id=f"{net.name}.plumb_line.{side}.{k + 1}",
            kind="plumb",
            label=f"{net.name}: plumb line at the {side} jack, gap {k + 1}",
            opening=net.name,
        )
        rows.read(taken, plus((sign, hanging), (-sign, jack.at(height))))
