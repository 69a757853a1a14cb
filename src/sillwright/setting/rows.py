"""The level line of a row, its low end and its high point."""

from __future__ import annotations

import numpy as np

from sillwright.setting.bearing import Bearings
from sillwright.setting.choose import Chosen
from sillwright.setting.model import Edge, Line, Place, RowPlan
from sillwright.setting.seat import RowSeats
from sillwright.survey import Profile, Wall


def row_plan(wall: Wall, row: RowSeats, chosen: Chosen, *, stack: float, number: int) -> RowPlan:
    """Return one row on the line or lines chosen.

    Args: stack: from the line to the underside of the units [in]
    """
    places = [place for seat in row.seats for place in _places(wall, seat.bearings)]
    heights: dict[float, list[str]] = {}
    for seat in row.seats:
        heights.setdefault(float(row.lines[chosen.line_index[seat.name]]), []).append(seat.name)
    stepped = len(heights) > 1
    return RowPlan(
        id=f"row.{number}",
        openings=row.row.openings,
        lines=tuple(
            Line(
                id=f"line.{number}" + (f".{k + 1}" if stepped else ""),
                openings=tuple(names),
                z=z,
                unit_bottom=z + stack,
            )
            for k, (z, names) in enumerate(heights.items())
        ),
        stepped=stepped,
        low_end=min(places, key=lambda p: (round(p.z, 9), p.x)),
        high_point=max(places, key=lambda p: (round(p.z, 9), -p.x)),
    )


def _places(wall: Wall, b: Bearings) -> list[Place]:
    edges: list[tuple[Edge, Profile | None]] = [("outer", b.net.sill), ("inner", b.net.sill_inner)]
    found = []
    for edge, profile in edges:
        if profile is not None:
            forms = [profile.at(float(x)) for x in b.along]
            sds = np.sqrt(np.maximum(np.diag(wall.covariance(forms)), 0.0))
            values = wall.values(forms)
            found += [
                Place(opening=b.unit.opening, x=float(x), edge=edge, z=float(z), sd=float(sd))
                for x, z, sd in zip(b.along, values, sds, strict=True)
            ]
    return found
