"""Heights of the deck: sections at the sill and from footing to head, every height with its spread."""

from __future__ import annotations

from sillwright.drawing import scale_words
from sillwright.inspection import Heights
from sillwright.packet.blocks import Block, Page, Table, Words
from sillwright.packet.sheets import Sheets, centred, left, right


def height_pages(sheets: Sheets, heights: Heights) -> list[Page]:
    """Return the sections and the table of heights."""
    scene = sheets.drawings["section"]
    key = (
        f"Scale {scale_words(scene)}. Hatched: new; grey: there now; long dashes: level line and face of the "
        "sheathing. Thick figures: heights that follow; red: set these out."
    )
    title = f"Section at the sill of {heights.opening}"
    close = Page(
        title=title,
        subtitle=sheets.units_note,
        blocks=(centred(scene, sheets.paper, landscape=True, caption=key),),
        landscape=True,
    )
    whole = sheets.drawings["section-whole"]
    far = Page(
        title="From footing to head",
        subtitle=sheets.units_note,
        blocks=(centred(whole, sheets.paper, caption=f"Scale {scale_words(whole)}."),),
    )
    listed = Page(
        title="Heights at the door",
        subtitle=sheets.units_note,
        blocks=(*assumed(heights.assumed), _height_table(sheets, heights)),
    )
    return [close, far, listed]


def _height_table(sheets: Sheets, heights: Heights) -> Table:
    figures = sheets.figures
    columns = (
        left("height", width=2, style="strong"),
        right("z"),
        right("± 95 %"),
        right("off at worst"),
        left("", width=1.4),
    )
    rows = tuple(
        (
            level.name,
            "open" if level.z is None else figures.fine(level.z),
            figures.band(level.sd) if level.sd else "–",
            "–" if level.worst is None or level.z is None else figures.decimal(level.worst),
            _HOW[level.how],
        )
        for level in reversed(heights.levels)
    )
    return Table(columns=columns, rows=rows, size=9, pad=3)


_HOW = {
    "known": "read, or set by the plan",
    "tied": "follows from the rest",
    "chosen": "chosen within its limits",
    "open": "nothing settles it yet",
}


def assumed(texts: tuple[str, ...]) -> list[Block]:
    """Return what is to be said of things the job left unsaid."""
    if not texts:
        return []
    return [Words(text=f"Not said in the job, and taken: {'; '.join(texts)}.", style="note")]
