"""The story pole at full size, in strips for an ordinary printer, three to a sheet."""

from __future__ import annotations

from sillwright.drawing import Scene, inch_ruler, millimetre_ruler, pole_tiles
from sillwright.packet.blocks import Block, Figure, Page, Side
from sillwright.packet.sheets import UNIT_WORDS, Sheets, room
from sillwright.plan import Plan

_STRIPS = 3
_RULER = 0.62
"""Paper that the checking ruler and what is said beside it take [in]."""


def pole_pages(sheets: Sheets) -> list[Page]:
    """Return the strips with a checking ruler on every sheet."""
    tiles = pole_tiles(sheets.plan, tall=room(sheets.paper)[1] - _RULER)
    groups = [tiles[start : start + _STRIPS] for start in range(0, len(tiles), _STRIPS)]
    pages = []
    for n, group in enumerate(groups):
        first, last = n * _STRIPS + 1, n * _STRIPS + len(group)
        which = f"strip {first}" if first == last else f"strips {first} to {last}"
        subtitle = (
            f"Full size, {which} of {len(tiles)}. Print at 100 %, check the ruler, cut at "
            "the dashed lines, butt letter "
            f"to letter up a straight stick. Heights from {sheets.plan.survey.datum} in "
            f"{UNIT_WORDS[sheets.plan.units]}."
        )
        blocks: tuple[Block, ...] = (
            Figure(scene=ruler(sheets.plan)),
            Side(columns=tuple((Figure(scene=tile),) for tile in group), gap=6),
        )
        pages.append(Page(title="Story pole", subtitle=subtitle, blocks=blocks))
    return pages


def ruler(plan: Plan) -> Scene:
    """Return the checking ruler of the job's unit: 4 in, or 100 mm."""
    mark = inch_ruler((0.0, 0.0)) if plan.units == "in" else millimetre_ruler((0.0, 0.0))
    return Scene((mark,), title="Checking ruler", alt=mark.text, margin=0.04)
