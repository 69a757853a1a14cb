"""The wall in elevation with its acts, and the sill line of every row."""

from __future__ import annotations

from sillwright.drawing import Scene, scale_words, sheet
from sillwright.packet.blocks import Block, Figure, Heading, Page, Step, Steps, Words
from sillwright.packet.sheets import Sheets, centred, listed, sentence
from sillwright.setting.model import Act, RowPlan

_KEY = (
    "Grey: openings as they are. Heavy: frames, with the least room at each side. Long dashes: chalk lines. "
    "Under the wall: frame sides from the wall mark."
)


_FEW_ACTS = 20
"""So many acts stand under a wall in three columns."""


def elevation_pages(sheets: Sheets) -> list[Page]:
    """Return the wall from outside, with its list of acts; a long wall again in parts."""
    scene = sheets.drawings.get("elevation")
    if scene is None:
        return []
    title = "The wall from outside"
    pages = [_wall_page(sheets, title, scene, last="elevation-part-1" not in sheets.drawings)]
    parts = [drawing for key, drawing in sheets.drawings.items() if key.startswith("elevation-part-")]
    for n, part in enumerate(parts, start=1):
        pages.append(_wall_page(sheets, f"{title}, part {n} of {len(parts)}", part, last=n == len(parts)))
    return pages


def _wall_page(sheets: Sheets, title: str, scene: Scene, *, last: bool) -> Page:
    blocks: list[Block] = [
        centred(scene, sheets.paper, landscape=True, caption=f"Scale {scale_words(scene)}. {_KEY}")
    ]
    acts = sheets.plan.setting.acts
    if last and acts:
        steps = tuple(Step(number=str(act.number), text=_act_words(act)) for act in acts)
        columns = 3 if len(acts) <= _FEW_ACTS else 4
        blocks += [Heading(text="Acts by number"), Steps(steps=steps, columns=columns)]
    elif last:
        blocks.append(Words(text="Nothing is to be done to this wall as far as it is planned.", style="note"))
    return Page(title=title, subtitle=sheets.units_note, blocks=tuple(blocks), landscape=True)


def _act_words(act: Act) -> str:
    named = act.opening in act.text.replace(",", " ").replace(".", " ").split()
    return act.text if named else f"{act.opening}: {act.text}"


def sill_pages(sheets: Sheets) -> list[Page]:
    """Return one page for each drawing of a row's sill line."""
    pages: list[Page] = []
    for number, row in enumerate(sheets.plan.setting.rows, start=1):
        keys = [
            key
            for key in sheets.drawings
            if key.startswith(f"sill-line-{number}") and not key.endswith("-true")
        ]
        own = [
            key for key in keys if key == f"sill-line-{number}" or key.startswith(f"sill-line-{number}-part-")
        ]
        pages += [_sill_page(sheets, row, key) for key in own]
    return pages


def _sill_page(sheets: Sheets, row: RowPlan, key: str) -> Page:
    scene, true = sheets.drawings[key], sheets.drawings[f"{key}-true"]
    caption = (
        f"Scale {scale_words(scene)}. Solid: sill, outer edge; dashed: inner edge; dotted "
        "band: ± of the outer edge. "
        "Crow's feet: readings, small ones at the inner edge; a cross: set aside. "
        "Hatched: pads. Thick: plane here."
    )
    stretched = centred(scene, sheets.paper, landscape=True, caption=caption)
    beside = stretched.indent + sheet(true).left - sheet(scene).left
    blocks: list[Block] = [
        Words(text=_row_words(sheets, row)),
        stretched,
        Figure(scene=true, indent=beside, caption=f"The same at true scale, {scale_words(true)}."),
    ]
    return Page(title=scene.title, subtitle=sheets.units_note, blocks=tuple(blocks), landscape=True)


def _row_words(sheets: Sheets, row: RowPlan) -> str:
    figures = sheets.figures
    high, low = row.high_point, row.low_end
    ends = (
        f"High point {figures.fine(high.z)} {figures.band(high.sd)} at "
        f"{figures.place(high.x)} in {high.opening}, "
        f"{high.edge} edge; low end {figures.fine(low.z)} {figures.band(low.sd)} at "
        f"{figures.place(low.x)} in {low.opening}."
    )
    if not row.lines:
        return f"No level line meets every demand for {listed(row.openings)}, so there are no pads. {ends}"
    lines = "; ".join(
        f"{listed(line.openings)}: tops of pads at {figures.fine(line.z)}, unit bottom at "
        f"{figures.fine(line.unit_bottom)}"
        for line in row.lines
    )
    return f"{sentence(('Stepped. ' if row.stepped else '') + lines)} {ends}"
