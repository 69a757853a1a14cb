"""New jobs: the usual kit and a unit in each opening, to be changed; or the invented example."""

from __future__ import annotations

from typing import Any

from sillwright.errors import BadInput
from sillwright.job import set_value, starter
from sillwright.job.layout import job_text
from sillwright.lengths import Unit
from sillwright.wording import fault, say

_KITS: dict[Unit, dict[str, Any]] = {
    "in": {
        "shims": ["1/32", "1/16", "1/8", "3/16", "1/4", "3/8"],
        "shim_width": "1 1/2",
        "planing_max": "1/4",
        "stack_above_line": "7/16",
    },
    "mm": {"shims": [1, 2, 3, 5, 10], "shim_width": 40, "planing_max": 6, "stack_above_line": 12},
}
_UNITS: dict[Unit, dict[str, Any]] = {
    "in": {
        "frame_width": "36",
        "frame_height": "48",
        "least_side_clearance": "1/4",
        "least_head_clearance": "1/4",
        "largest_out_of_plane": "1/8",
    },
    "mm": {
        "frame_width": 900,
        "frame_height": 1200,
        "least_side_clearance": 6,
        "least_head_clearance": 6,
        "largest_out_of_plane": 3,
    },
}


def blank(units: Unit, title: str, openings: list[str]) -> str:
    """Return the text of a job without readings.

    Raises:  BadInput: an opening has no name, or another's
    """
    names = [name.strip() for name in openings] or ["A"]
    if not all(names) or len({*names}) != len(names):
        raise BadInput(fault("request.no_openings", "openings"))
    data = {
        "sillwright": 1,
        "units": units,
        "title": title.strip() or say("starter.blank.title"),
        "kit": _KITS[units],
        "row": [{"openings": names}],
        "unit": [{"opening": name, "kind": "casement", **_UNITS[units], "ordered": False} for name in names],
        "opening": [{"name": name} for name in names],
    }
    return job_text(data)


def example(units: Unit, title: str) -> str:
    """Return the text of the invented job, under a title of one's own if there is one."""
    text = starter(units)
    return set_value(text, "title", title.strip()) if title.strip() else text
