"""Where every unit goes, how much room it has, how surely it fits, and its plane against the wall."""

from __future__ import annotations

from sillwright.drawing import chance, scale_words, section_stretch, sheet
from sillwright.packet.blocks import Block, Heading, Page, Table, Words
from sillwright.packet.sheets import Sheets, centred, left, right, room, sentence
from sillwright.setting.model import Clearance, UnitPosition


def position_page(sheets: Sheets) -> Page | None:
    """Return setting-out marks, clearances and odds of every unit; None without units."""
    units = sheets.plan.setting.units
    if not units:
        return None
    blocks: list[Block] = [
        Heading(text="Setting-out marks"),
        _marks(sheets),
        Heading(text="Room round the frame"),
        _room(sheets),
        Heading(text="How surely it fits"),
        _odds(sheets),
    ]
    if sheets.plan.setting.trims:
        blocks += [Heading(text="Trim before setting"), _trims(sheets)]
    return Page(title="Where the units go", subtitle=sheets.units_note, blocks=tuple(blocks))


def _marks(sheets: Sheets) -> Table:
    figures = sheets.figures
    columns = (
        left("opening", style="strong"),
        left("unit", width=1),
        right("left side"),
        right("right side"),
        right("bottom"),
        right("top"),
        right("frame"),
    )
    rows = tuple(
        (
            unit.opening,
            sentence(unit.kind).removesuffix("."),
            *_sides(sheets, unit),
            figures.fine(unit.bottom),
            figures.fine(unit.top),
            figures.size(unit.width, unit.height),
        )
        for unit in sheets.plan.setting.units
    )
    note = ""
    if not all(unit.position_known for unit in sheets.plan.setting.units):
        note = "– : the opening's place along the wall was not taped; centre the unit by its clearances."
    return Table(columns=columns, rows=rows, note=note)


def _sides(sheets: Sheets, unit: UnitPosition) -> tuple[str, str]:
    if not unit.position_known:
        return "–", "–"
    return sheets.figures.place(unit.left), sheets.figures.place(unit.right)


def _room(sheets: Sheets) -> Table:
    columns = (
        left("opening", style="strong"),
        left("left", width=1),
        left("right", width=1),
        left("head", width=1),
    )
    rows = tuple(
        (
            unit.opening,
            *(
                _clearance(sheets, one)
                for one in (unit.left_clearance, unit.right_clearance, unit.head_clearance)
            ),
        )
        for unit in sheets.plan.setting.units
    )
    return Table(columns=columns, rows=rows, note="Least room ±, where it is least, and what is asked for.")


def _clearance(sheets: Sheets, clearance: Clearance | None) -> str:
    if clearance is None:
        return "not determined"
    figures = sheets.figures
    where = f", {clearance.where}" if clearance.where else ""
    return (
        f"{figures.fine(clearance.least)} {figures.band(clearance.sd)}{where}; asked "
        f"{figures.fine(clearance.demanded)}"
    )


def _odds(sheets: Sheets) -> Table:
    figures = sheets.figures
    columns = (
        left("opening", style="strong"),
        right("fits"),
        left("governed by", width=1),
        left("not determined", width=1),
        right("out of level"),
        right("95 % under"),
        right("cross-leg"),
        right("allowed"),
    )
    rows: list[tuple[str, ...]] = []
    unsure: set[int] = set()
    wanted = sheets.job.tolerances.fit_probability
    for unit in sheets.plan.setting.units:
        fit = unit.fit
        crossed = unit.cross_leg is not None and abs(unit.cross_leg) > unit.largest_out_of_plane
        if crossed or (fit is not None and fit.probability < wanted):
            unsure.add(len(rows))
        rows.append(
            (
                unit.opening,
                chance(fit.probability) if fit else "–",
                fit.governed_by if fit else "–",
                ", ".join(fit.not_determined) if fit and fit.not_determined else "–",
                figures.fine(unit.out_of_level),
                figures.fine(unit.out_of_level_95),
                "–" if unit.cross_leg is None else figures.signed(unit.cross_leg),
                figures.fine(unit.largest_out_of_plane),
            )
        )
    note = (
        f"Grey: less sure than the {chance(wanted)} asked for, or crossed by more than the unit "
        "allows. Out of level: expected between highest and lowest pad top; "
        "beside it, what the two ends stay within on 95 of 100 such walls. Cross-leg: one leg in, "
        "one out, and what the unit allows."
    )
    return Table(columns=columns, rows=tuple(rows), marked=frozenset(unsure), note=note, size=9)


def _trims(sheets: Sheets) -> Table:
    columns = (left("act"), left("opening", style="strong"), left("side"), right("by"), left("", width=1))
    rows = tuple(
        (str(trim.number), trim.opening, f"{trim.side} jack", sheets.figures.fine(trim.amount), "")
        for trim in sheets.plan.setting.trims
    )
    return Table(columns=columns, rows=rows)


def plane_pages(sheets: Sheets) -> list[Page]:
    """Return the plane of every unit whose corners are determined, as many to a page as have room."""
    scenes = [
        (unit.opening, sheets.drawings[f"wall-plane-{unit.opening}"])
        for unit in sheets.plan.setting.units
        if f"wall-plane-{unit.opening}" in sheets.drawings
    ]
    high = room(sheets.paper)[1] - _NOTE
    groups: list[list[Block]] = []
    used = high
    for opening, scene in scenes:
        caption = (
            f"Scale {scale_words(scene)}; in and out in the sections stretched {section_stretch(scene)}."
        )
        needed = sheet(scene).height + _WITH
        if used + needed > high:
            groups.append([Words(text=_PLANE, style="note")])
            used = 0.0
        used += needed
        groups[-1] += [Heading(text=f"Opening {opening}"), centred(scene, sheets.paper, caption=caption)]
    title = "The units' plane against the wall"
    return [Page(title=title, subtitle=sheets.units_note, blocks=tuple(blocks)) for blocks in groups]


_NOTE, _WITH = 0.4, 0.72
"""Height of the note over the drawings, and of heading and caption of one [in]."""


_PLANE = (
    "Packing: between the sheathing and the unit's plane at that corner. Ext.: jamb "
    "extension to the wall's inner "
    "face, ±; with a minus the jamb stands proud. Sections: outside is left; dashes "
    "are plumb, thin is the wall's "
    "face, heavy the unit."
)
