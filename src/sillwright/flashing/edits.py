"""A dressed wall with the changes of a job: pieces left out, moved, cut otherwise, or of its own."""

from __future__ import annotations

import difflib
from collections.abc import Iterable, Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass, field, replace

from sillwright.errors import BadInput, Fault
from sillwright.job import PieceEdit, Water
from sillwright.water import Complex, Dressing, Join, Kind, Panel, Seam, Sheet, Span, Stock

_JOINS = {"fold": Join.FOLD, "pleat": Join.PLEAT, "formed": Join.FORMED}
_BODIES = (Kind.UNIT, Kind.MOUNT)
"""What stands on the wall whatever is laid round it."""
_SLACK = 1e-6


@dataclass(slots=True)
class Changing:
    """The pieces of a wall in their order, while they are changed; flaps know until which piece they wait."""

    complex: Complex
    rolls: Mapping[str, Stock]
    sheets: list[Sheet]
    waits: dict[tuple[str, str], str] = field(default_factory=dict)
    """Piece and part: the piece after which the part comes down."""

    def place(self, name: str, where: str) -> int:
        """Return the place of a piece in the order.

        Raises:  BadInput: there is none of that name; names the nearest
        """
        names = [sheet.name for sheet in self.sheets]
        if name not in names:
            raise BadInput(Fault(where, f"there is no piece '{name}'.", nearest(name, names)))
        return names.index(name)


def nearest(name: str, known: Iterable[str]) -> str:
    """Return advice that names the nearest known names, or says where all are listed."""
    names = {each.casefold(): each for each in known}
    close = [names[each] for each in difflib.get_close_matches(name.casefold(), names, n=3)]
    return f"Did you mean {' or '.join(close)}?" if close else "sillwright water lists the pieces."


def changed(
    dressing: Dressing, water: Water, *, rolls: Mapping[str, Stock], own_only: bool, skip: Iterable[str] = ()
) -> Dressing:
    """Return a dressed wall with the changes of a job.

    Args:    rolls: the job's own, by name; own_only: nothing of the scheme stays but units and ledger;
             skip: openings that are not dressed, whose pieces are passed over
    Raises:  BadInput: a piece, part or face is named that is not there, or a part does not lie on its face
    """
    if not (water.sheet or water.order or own_only):
        return dressing
    before = sorted(dressing.sheets, key=lambda sheet: sheet.laid)
    work = Changing(dressing.complex, rolls, list(before), _waits(before))
    if own_only:
        work.sheets = [sheet for sheet in work.sheets if sheet.kind in _BODIES]
    away = tuple(f"{name}." for name in skip)
    faults: list[Fault] = []
    for number, edit in enumerate(water.sheet):
        if not edit.name.startswith(away):
            with _kept(faults):
                _edit(work, edit, f"water.sheet[{number}]")
    with _kept(faults):
        _reorder(work, {n: name for n, name in enumerate(water.order) if not name.startswith(away)})
    if faults:
        raise BadInput(*faults)
    return _renumbered(dressing, work)


@contextmanager
def _kept(faults: list[Fault]) -> Iterator[None]:
    """Keep what is wrong with one thing, so that all is told at once."""
    try:
        yield
    except BadInput as error:
        faults += error.faults


def _waits(sheets: list[Sheet]) -> dict[tuple[str, str], str]:
    return {
        (sheet.name, panel.name): held_until(sheets, panel)
        for sheet in sheets
        for panel in sheet.panels
        if panel.laid is not None
    }


def held_until(sheets: list[Sheet], panel: Panel) -> str:
    """Return the piece after which a part comes down, of pieces in their order; empty: with its own piece."""
    if panel.laid is None:
        return ""
    return next((sheet.name for sheet in reversed(sheets) if sheet.laid <= panel.laid), "")


# --- one piece


def _edit(work: Changing, edit: PieceEdit, where: str) -> None:
    names = [sheet.name for sheet in work.sheets]
    if edit.name not in names:
        if edit.kind is None:
            advice = nearest(edit.name, names)
            raise BadInput(
                Fault(
                    f"{where}.name", f"there is no piece '{edit.name}'.", f"{advice} A new one says its kind."
                )
            )
        work.sheets.append(_new(work, edit, where))
    elif edit.kind is not None:
        what = f"the piece '{edit.name}' is there already, so its kind cannot be said."
        raise BadInput(Fault(f"{where}.kind", what, "Leave kind out, or give your own piece another name."))
    elif edit.leave_out:
        del work.sheets[work.place(edit.name, where)]
        return
    else:
        number = work.place(edit.name, where)
        work.sheets[number] = _cut_otherwise(work, work.sheets[number], edit, where)
    _move(work, edit, where)


def _move(work: Changing, edit: PieceEdit, where: str) -> None:
    beside, key = (edit.after, "after") if edit.after is not None else (edit.before, "before")
    if beside is None:
        return
    sheet = work.sheets.pop(work.place(edit.name, where))
    place = work.place(beside, f"{where}.{key}")
    work.sheets.insert(place + (key == "after"), sheet)


def _new(work: Changing, edit: PieceEdit, where: str) -> Sheet:
    if edit.roll is None or edit.kind is None:
        fault = Fault(f"{where}.roll", "a piece of your own needs its roll.", "Name a [[water.roll]].")
        raise BadInput(fault)
    if not edit.panel:
        raise BadInput(Fault(f"{where}.panel", "a piece of your own needs a part.", "Say where it lies."))
    panels = {each.name: _panel(work, None, edit, number, where) for number, each in enumerate(edit.panel)}
    return Sheet(
        name=edit.name,
        words=edit.words or edit.name,
        kind=Kind(edit.kind),
        stock=work.rolls[edit.roll],
        panels=tuple(panels.values()),
        seams=_seams(panels, (), edit, where),
        laid=0,
        opening=edit.opening,
    )


def _cut_otherwise(work: Changing, sheet: Sheet, edit: PieceEdit, where: str) -> Sheet:
    panels = {panel.name: panel for panel in sheet.panels}
    if edit.bonded is not None:
        panels = {name: replace(panel, bonded=edit.bonded) for name, panel in panels.items()}
    for number, each in enumerate(edit.panel):
        if each.leave_out:
            place = f"{where}.panel[{number}].name"
            if panels.pop(each.name, None) is None:
                raise BadInput(Fault(place, _no_part(sheet.name, each.name), _parts(panels)))
        else:
            panels[each.name] = _panel(work, panels.get(each.name), edit, number, where)
    if not panels:
        raise BadInput(
            Fault(where, "nothing is left of the piece.", "Leave the piece out: leave_out = true.")
        )
    return replace(
        sheet,
        panels=tuple(panels.values()),
        seams=_seams(panels, sheet.seams, edit, where),
        stock=sheet.stock if edit.roll is None else work.rolls[edit.roll],
        words=edit.words or sheet.words,
    )


def _no_part(piece: str, part: str) -> str:
    return f"the piece '{piece}' has no part '{part}'."


def _parts(panels: Iterable[str]) -> str:
    return f"It has: {', '.join(panels)}."


def _panel(work: Changing, old: Panel | None, edit: PieceEdit, number: int, where: str) -> Panel:
    said, place = edit.panel[number], f"{where}.panel[{number}]"
    facet = said.facet if said.facet is not None else old.facet if old is not None else None
    if facet is None:
        raise BadInput(Fault(f"{place}.facet", f"a new part '{said.name}' needs its face.", _faces(work)))
    if facet not in work.complex.by_name:
        raise BadInput(Fault(f"{place}.facet", f"there is no face '{facet}'.", _faces(work, facet)))
    u, v = said.u or (old.u if old else None), said.v or (old.v if old else None)
    if u is None or v is None:
        what = f"a new part '{said.name}' needs u and v."
        raise BadInput(Fault(place, what, "Say from where to where it lies on its face."))
    _on_face(work, facet, (u, v), place)
    if said.held_until is not None:
        work.place(said.held_until, f"{place}.held_until")
        work.waits[edit.name, said.name] = said.held_until
    bonded = said.bonded if said.bonded is not None else edit.bonded
    if bonded is None:
        bonded = old.bonded if old is not None else False
    return Panel(name=said.name, facet=facet, u=u, v=v, bonded=bonded)


def _faces(work: Changing, name: str = "") -> str:
    close = difflib.get_close_matches(name, work.complex.by_name, n=1)
    return f"Did you mean '{close[0]}'?" if close else f"Known: {', '.join(work.complex.by_name)}."


def _on_face(work: Changing, facet: str, spans: tuple[Span, Span], place: str) -> None:
    face = work.complex.by_name[facet]
    for key, (low, high), (least, most) in zip("uv", spans, (face.u, face.v), strict=True):
        if high <= low:
            raise BadInput(Fault(f"{place}.{key}", "it has no size.", "The first is less than the second."))
        if low < least - _SLACK or high > most + _SLACK:
            axis = face.axes["uv".index(key)]
            what = f"{low:g} to {high:g} in reaches past the face '{facet}'."
            raise BadInput(
                Fault(f"{place}.{key}", what, f"Its {axis} runs from {least:.3f} to {most:.3f} in.")
            )


def _seams(
    panels: Mapping[str, Panel], old: tuple[Seam, ...], edit: PieceEdit, where: str
) -> tuple[Seam, ...]:
    found = [each for each in old if each.one in panels and each.other in panels]
    for number, each in enumerate(edit.seam):
        for key, name in (("one", each.one), ("other", each.other)):
            if name not in panels:
                place = f"{where}.seam[{number}].{key}"
                raise BadInput(Fault(place, _no_part(edit.name, name), _parts(panels)))
        found = [seam for seam in found if {seam.one, seam.other} != {each.one, each.other}]
        found.append(Seam(each.one, each.other, _JOINS[each.join]))
    return tuple(found)


# --- the order


def _reorder(work: Changing, order: Mapping[int, str]) -> None:
    """Let the named pieces change places among themselves.

    Args:    order: names by their place in the job's list
    """
    faults: list[Fault] = []
    places: list[int] = []
    for number, name in order.items():
        with _kept(faults):
            places.append(work.place(name, f"water.order[{number}]"))
    if faults:
        raise BadInput(*faults)
    by_name = {sheet.name: sheet for sheet in work.sheets}
    for place, name in zip(sorted(places), order.values(), strict=True):
        work.sheets[place] = by_name[name]


def _renumbered(dressing: Dressing, work: Changing) -> Dressing:
    """Number the acts anew: a part that is held up comes down in an act of its own, after its piece."""
    down: dict[str, int] = {}
    numbers: dict[str, int] = {}
    act = 0
    for sheet in work.sheets:
        act += 1
        numbers[sheet.name] = act
        if sheet.name in work.waits.values():
            act += 1
            down[sheet.name] = act
    by_old = {sheet.laid: sheet.name for sheet in dressing.sheets}

    def panel(sheet: Sheet, part: Panel) -> Panel:
        wait = work.waits.get((sheet.name, part.name))
        return replace(part, laid=None if wait is None else down.get(wait, act))

    sheets = tuple(
        replace(sheet, laid=numbers[sheet.name], panels=tuple(panel(sheet, part) for part in sheet.panels))
        for sheet in work.sheets
    )
    fasteners = tuple(
        replace(each, laid=numbers.get(by_old.get(each.laid, ""), act)) for each in dressing.fasteners
    )
    return replace(dressing, sheets=sheets, fasteners=fasteners)
