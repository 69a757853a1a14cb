"""Rows across the wall: how far the jacks stand in or out, crossed strings, a string along the wall."""

from __future__ import annotations

from sillwright.survey.network import OpeningNet
from sillwright.survey.observation import Profile, Terms, plus
from sillwright.survey.rows import Rows, Taken

BESIDE = 4.0
"""A string's gap read within this of a jack is read at the jack [in]."""


def faces(rows: Rows, index: int, net: OpeningNet) -> None:
    """Add the faces of both jacks, where anything was read across the wall."""
    o = rows.job.opening[index]
    leans = [lean for lean in (o.plumb.left, o.plumb.right) if lean is not None]
    read = o.string_gap is not None or any(lean.top_leans_in is not None for lean in leans)
    if not (read or rows.job.wall.string) or not net.frame.has_jacks:
        return
    net.left_out = _face(rows, index, net, "left")
    net.right_out = _face(rows, index, net, "right")
    taken = Taken(
        readings=o.string_gap,
        path=f"opening[{index}].string_gap",
        id=f"{net.name}.string_gap",
        kind="string",
        label=f"{net.name}: gap of the crossed strings",
        opening=net.name,
    )
    rows.read(taken, crossing(net) or ())


def crossing(net: OpeningNet) -> Terms | None:
    """Return how much further in the string from bottom left to top right lies where both cross."""
    if net.left_out is None or net.right_out is None:
        return None
    top = net.frame.height
    return plus(
        (0.5, net.left_out.at(0.0)),
        (0.5, net.right_out.at(top)),
        (-0.5, net.right_out.at(0.0)),
        (-0.5, net.left_out.at(top)),
    )


def _face(rows: Rows, index: int, net: OpeningNet, side: str) -> Profile:
    name, assume, lean = net.name, rows.job.assume, getattr(rows.job.opening[index].plumb, side)
    near, _, far = net.frame.up
    low, high = (rows.unknowns.add((name, side, "out", h), 0.0) for h in (near, far))
    face = Profile((near, far), (low, high))
    what = f"sheathing at the {side} jack of {name} in the wall's plane"
    rows.assume(f"{name}.{side}_flat", what, ((low, 1.0),), sd=assume.wall_flat, opening=name)
    what = f"{side} jack of {name} roughly plumb in and out"
    form = ((high, 1.0), (low, -1.0))
    rows.assume(f"{name}.{side}_plumb_in", what, form, sd=assume.plumb, opening=name)
    if lean is not None:
        top = net.frame.top_of(lean.over_height)
        taken = Taken(
            readings=lean.top_leans_in,
            path=f"opening[{index}].plumb.{side}.top_leans_in",
            id=f"{name}.plumb.{side}.in",
            kind="plumb",
            label=f"{name}: {side} jack, lean into the house",
            opening=name,
        )
        rows.read(taken, plus((1.0, face.at(top)), (-1.0, face.at(near))))
    return face


def wall_string(rows: Rows) -> None:
    """Add the string along the wall: it ties the openings' faces to one plane."""
    string = rows.job.wall.string
    if string is None:
        return
    for k, offset in enumerate(string.offsets):
        taken = Taken(
            readings=offset.gap,
            path=f"wall.string.offsets[{k}].gap",
            id=f"string.{k + 1}",
            kind="string",
            label=f"string along the wall, place {k + 1}",
            offset=-string.clear,
            x=offset.x,
        )
        rows.read(taken, _face_at(rows, offset.x, string.height))


def _face_at(rows: Rows, x: float, height: float) -> Terms:
    beside = [
        (abs(jack - x), face)
        for net in rows.network.openings.values()
        for jack, face in ((net.frame.left, net.left_out), (net.frame.right, net.right_out))
        if face is not None and abs(jack - x) <= BESIDE
    ]
    if beside:
        return min(beside, key=lambda pair: pair[0])[1].at(height)
    index = rows.unknowns.add(("wall", x), 0.0)
    what = "sheathing between openings in the wall's plane"
    rows.assume(f"wall@{x:.2f}", what, ((index, 1.0),), sd=2.0 * rows.job.assume.wall_flat)
    return ((index, 1.0),)
