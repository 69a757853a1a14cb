"""Walls of known shape as jobs, invented: every reading is what a perfect tape and laser would say."""

from __future__ import annotations

import json
from dataclasses import dataclass, field
from typing import Any

from sillwright.job import Job, read_job
from sillwright.setting import Setting, set_wall
from sillwright.survey import Wall, cleanse, report

SPAN = 44.5
"""Between the lowest and highest places of an opening 48 1/2 in high at which its jacks are read [in]."""
SHARP = 1e-4
"""Standard deviation of a reading that leaves nothing to chance [in]."""


@dataclass(frozen=True, kw_only=True)
class Hole:
    """One rough opening and its unit [in]."""

    name: str
    left: float
    width: float = 36.5
    sill: tuple[float, ...] = (0.0, 0.0, 0.0)
    """Heights of the outer edge, evenly spaced between 2 in inside both jacks."""
    inner: tuple[float, ...] | None = None
    head: float | tuple[float, float, float] | None = 48.5
    """Above the datum."""
    widths: tuple[float, float, float] | None = None
    """Bottom, middle, top; None: what `width` at the sill and the leans make."""
    leans: tuple[float, float] | None = (0.0, 0.0)
    """How far the left and right jack lean to the right, over SPAN of height."""
    leans_in: tuple[float, float] | None = None
    unit: dict[str, Any] = field(default_factory=dict)
    """Keys of [[unit]] that differ from a 36 x 47 window; {"none": True} leaves it out."""
    has_jacks: bool = True


def job_of(*holes: Hole, sd: float = SHARP, **parts: Any) -> Job:
    """Return the job of a wall with these openings; `parts` are tables of the job file."""
    return read_job(text_of(*holes, sd=sd, **parts))


def set_job(job: Job) -> Setting:
    """Return the setting plan of a job, without all that hangs on it."""
    solution = cleanse(job)
    wall = Wall(solution)
    return set_wall(job, wall, report(job, solution))


def text_of(*holes: Hole, sd: float = SHARP, **parts: Any) -> str:
    """Return the job file's text.

    Args:    parts: tables of the job file; `stand`: where mark and laser are along the wall [in]; `points`:
             name, x and z of whatever else was shot
    """
    stand, points = parts.pop("stand", 0.0), parts.pop("points", ())
    kit = {"shims": ["1/32", "1/16", "1/8", "1/4"], "shim_width": 1.5, "stack_above_line": 0.25}
    job: dict[str, Any] = {
        "sillwright": 1,
        "title": "invented wall",
        "invented": True,
        "kit": kit | parts.pop("kit", {}),
        "reading_sd": dict.fromkeys(
            ("laser", "width", "height", "diagonal", "plumb", "run", "string", "thickness"), sd
        )
        | parts.pop("reading_sd", {}),
        "assume": {"jack_bow": 0.001} | parts.pop("assume", {}),
        "mark": [{"name": "M1", "x": stand}],
        "row": [{"openings": [hole.name for hole in holes], "step": parts.pop("step", "never")}],
        "unit": [_unit(hole) for hole in holes if "none" not in hole.unit],
        "setup": [{"name": "S1", "x": stand, "series": [*_shots(holes), *map(_point, points)]}],
        "opening": [_opening(hole) for hole in holes],
    }
    return "\n".join(_toml(job | parts))


def _unit(hole: Hole) -> dict[str, Any]:
    usual = {
        "opening": hole.name,
        "kind": "fixed window",
        "frame_width": 36.0,
        "frame_height": 47.0,
        "least_side_clearance": 0.125,
        "least_head_clearance": 0.125,
        "largest_out_of_plane": 0.125,
    }
    return usual | hole.unit


BEAM = 60.0
"""Height of the laser's beam above its mark [in]."""


def _point(point: tuple[str, float, float]) -> dict[str, Any]:
    name, x, z = point
    return {"point": name, "x": x, "down": BEAM - z}


def _shots(holes: tuple[Hole, ...]) -> list[dict[str, Any]]:
    shots: list[dict[str, Any]] = [{"mark": "M1", "down": BEAM}]
    for hole in holes:
        for edge, heights in (("outer", hole.sill), ("inner", hole.inner or ())):
            last = max(len(heights) - 1, 1)
            shots += [
                {
                    "sill": hole.name,
                    "x": hole.left + 2.0 + (hole.width - 4.0) * k / last,
                    "edge": edge,
                    "down": BEAM - z,
                }
                for k, z in enumerate(heights)
            ]
        if hole.head is not None:
            three = hole.head if isinstance(hole.head, tuple) else (hole.head,) * 3
            shots += [
                {"head": hole.name, "x": hole.left + share * hole.width, "down": BEAM - z}
                for share, z in zip((0.0, 0.5, 1.0), three, strict=True)
            ]
    return shots


def _opening(hole: Hole) -> dict[str, Any]:
    found: dict[str, Any] = {"name": hole.name}
    if hole.head is not None and len(hole.sill) == 3:
        found["height"] = _heights(hole)
    if not hole.has_jacks:
        return found
    spread = 0.0 if hole.leans is None else (hole.leans[1] - hole.leans[0]) / SPAN
    low, half, high = hole.widths or tuple(hole.width + spread * h for h in (2.0, 24.25, 46.5))
    found |= {"left_jack_x": hole.left, "right_jack_x": hole.left + hole.width}
    found |= {"width": {"bottom": low, "middle": half, "top": high}}
    if hole.leans is not None or hole.leans_in is not None:
        found["plumb"] = {}
    for k, side in enumerate(("left", "right")):
        lean: dict[str, Any] = {"over_height": SPAN}
        if hole.leans is not None:
            lean["top_leans_right"] = hole.leans[k]
        if hole.leans_in is not None:
            lean["top_leans_in"] = hole.leans_in[k]
        if len(lean) > 1:
            found["plumb"][side] = lean
    return found


def _heights(hole: Hole) -> dict[str, float]:
    """Return head less sill 2 in from the left jack, at the centre and 2 in from the right one."""
    left, centre, right = hole.head if isinstance(hole.head, tuple) else (hole.head or 0.0,) * 3
    near = 4.0 / hole.width
    heads = (left + (centre - left) * near, centre, right + (centre - right) * near)
    return {
        where: z - sill for where, z, sill in zip(("left", "centre", "right"), heads, hole.sill, strict=True)
    }


def _toml(job: dict[str, Any]) -> list[str]:
    """Write tables as inline values: plain, and enough for a test."""
    return [f"{key} = {_value(value)}" for key, value in job.items()]


def _value(value: Any) -> str:
    if isinstance(value, bool):
        return str(value).lower()
    if isinstance(value, dict):
        return "{ " + ", ".join(f"{key} = {_value(each)}" for key, each in value.items()) + " }"
    if isinstance(value, list | tuple):
        return "[" + ", ".join(_value(each) for each in value) + "]"
    return json.dumps(value) if isinstance(value, str) else repr(value)
