"""Heights above the deck: for each opening its sections, and every height with its spread."""

from __future__ import annotations

from sillwright.drawing import scale_words
from sillwright.inspection import Height, Heights
from sillwright.packet.blocks import Block, Heading, Page, Table, Words
from sillwright.packet.sheets import Sheets, centred, left, listed, right


def height_pages(sheets: Sheets, heights: Heights) -> list[Page]:
    """Return the section at each opening above the deck, whole at its doors, and the tables of heights."""
    pages: list[Page] = []
    for each in heights.openings:
        pages.append(_close(sheets, each.opening))
        if each.door:
            pages.append(_whole(sheets, each.opening))
    return [*pages, _listed(sheets, heights)]


def _close(sheets: Sheets, opening: str) -> Page:
    scene = sheets.drawings[f"section-{opening}"]
    key = (
        f"Scale {scale_words(scene)}. Hatched: new; grey: there now; long dashes: level line and face of the "
        "sheathing. Thick figures: heights that follow; red: set these out."
    )
    return Page(
        title=f"Section at the sill of {opening}",
        subtitle=sheets.units_note,
        blocks=(centred(scene, sheets.paper, landscape=True, caption=key),),
        landscape=True,
    )


def _whole(sheets: Sheets, opening: str) -> Page:
    scene = sheets.drawings[f"whole-section-{opening}"]
    return Page(
        title=f"From footing to head at {opening}",
        subtitle=sheets.units_note,
        blocks=(centred(scene, sheets.paper, caption=f"Scale {scale_words(scene)}."),),
    )


def _listed(sheets: Sheets, heights: Heights) -> Page:
    names = tuple(each.opening for each in heights.openings)
    blocks: list[Block] = [*assumed(heights.assumed), *_told(sheets, heights)]
    for opening in ("", *names):
        levels = [level for level in heights.levels if level.opening == opening]
        blocks += [Heading(text=f"At {opening}" if opening else "The deck"), _height_table(sheets, levels)]
    return Page(title=f"Heights at {listed(names)}", subtitle=sheets.units_note, blocks=tuple(blocks))


def _told(sheets: Sheets, heights: Heights) -> list[Block]:
    """Say how far each door steps down to the one walking surface, and where that cannot be had."""
    steps = [
        f"{each.opening} {sheets.figures.fine(each.step_down)}"
        for each in heights.openings
        if each.step_down is not None
    ]
    said = [f"From the threshold down to the walking surface: {', '.join(steps)}."] if steps else []
    said += [
        f"Cannot be had together, see the findings: {'; '.join(each.texts)}." for each in heights.conflicts
    ]
    return [Words(text=text, style="plain") for text in said]


def _height_table(sheets: Sheets, levels: list[Height]) -> Table:
    figures = sheets.figures
    columns = (
        left("what", width=2, style="strong"),
        right("above the datum"),
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
        for level in reversed(levels)
    )
    return Table(columns=columns, rows=rows, size=9, pad=2.2)


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
