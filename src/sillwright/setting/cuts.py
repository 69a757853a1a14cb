"""What the pads take from the stock, and what is to be cut."""

from __future__ import annotations

from collections import Counter

from sillwright.job import Job, Kit
from sillwright.setting.model import Cut, Pad, StockUse, UnitPosition
from sillwright.survey import Wall


def stock_use(kit: Kit, pads: tuple[Pad, ...]) -> tuple[StockUse, ...]:
    """Return how many shims of each kind the pads take."""
    used: Counter[tuple[float, float | None]] = Counter()
    for pad in pads:
        for piece in pad.pieces:
            used[piece.thickness, piece.thin] += piece.count
    return tuple(
        StockUse(thickness=s.thickness, thin=s.thin, needed=used[s.thickness, s.thin], on_hand=s.count)
        for s in sorted(kit.shims, key=lambda s: -s.thickness)
    )


def cuts_of(job: Job, wall: Wall, pads: tuple[Pad, ...], units: tuple[UnitPosition, ...]) -> tuple[Cut, ...]:
    """Return the shims to cut to depth, and one sloped strip for each unit."""
    found: list[Cut] = []
    for unit in units:
        depth = _depth(job, wall, unit.opening)
        found += _shims(job, unit.opening, pads, depth)
        strip = job.kit.sloped_strip
        found.append(
            Cut(
                id=f"cut.{unit.opening}.strip",
                what="sloped strip",
                opening=unit.opening,
                count=1,
                length=unit.width,
                width=depth,
                thick=None if strip is None else strip.thick,
                thin=None if strip is None else strip.thin,
                note="thick edge to the room"
                if strip
                else "thicknesses are not stated in [kit.sloped_strip]",
            )
        )
    return tuple(found)


def _shims(job: Job, opening: str, pads: tuple[Pad, ...], depth: float | None) -> list[Cut]:
    count: Counter[tuple[float, float | None, str]] = Counter()
    for pad in pads:
        for piece in pad.pieces if pad.opening == opening else ():
            half = piece.place in ("front", "back")
            count[piece.thickness, piece.thin, "half" if half else "full"] += piece.count
    return [
        Cut(
            id=f"cut.{opening}.{number}",
            what="shim",
            opening=opening,
            count=pieces,
            length=None if depth is None else depth / 2.0 if reach == "half" else depth,
            width=job.kit.shim_width,
            thick=thick,
            thin=thin,
            note=("half the depth of the sill" if reach == "half" else "the full depth of the sill"),
        )
        for number, ((thick, thin, reach), pieces) in enumerate(
            sorted(count.items(), key=lambda item: (-item[0][0], item[0][2])), start=1
        )
    ]


def _depth(job: Job, wall: Wall, opening: str) -> float | None:
    """Return the depth of the sill: the least wall thickness read at the bottom; None: not read."""
    del job
    thickness = wall.openings[opening].thickness
    read = [wall.value(((thickness[c], 1.0),)) for c in ("bottom_left", "bottom_right") if c in thickness]
    return min(read) if read else None
