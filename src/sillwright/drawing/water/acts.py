"""The acts of a dressed wall in the order of work, and what is on the wall at each."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from sillwright.water import WALL, Dressing, Kind, Panel, Sheet


@dataclass(frozen=True, slots=True, kw_only=True)
class Act:
    """One piece going on, or one flap of a piece coming down."""

    number: int
    """Its place in the order of work, from 1."""
    key: str
    """The piece's name; of a flap `<piece>.<flap>` with dashes for blanks."""
    sheet: Sheet
    panels: tuple[Panel, ...]
    """The panels that this act lays down."""
    opening: str | None
    flap: bool = False
    over: tuple[str, ...] = ()
    """Of a flap, the openings that it hangs over."""

    @property
    def ref(self) -> str:
        """Return what a tap on the new piece opens."""
        return piece_ref(self.sheet)


def piece_ref(sheet: Sheet) -> str:
    """Return the id of a piece in pictures; a flap has that of its piece."""
    return f"piece.{sheet.name.partition('#')[0]}"


def acts(dressing: Dressing) -> tuple[Act, ...]:
    """Return the acts in the order of work, numbered from 1; a flap comes down after what it covers."""
    found = sorted(_all(dressing), key=lambda pair: pair[0])
    return tuple(_act(dressing, number, *found_act) for number, found_act in enumerate(found, 1))


def _act(
    dressing: Dressing,
    number: int,
    rank: tuple[int, bool, float],
    key: str,
    sheet: Sheet,
    panels: tuple[Panel, ...],
    opening: str | None,
) -> Act:
    over = _below(dressing, panels[0]) if rank[1] else ()
    opening = opening or next(iter(over), None)
    return Act(number=number, key=key, sheet=sheet, panels=panels, opening=opening, flap=rank[1], over=over)


_Found = tuple[tuple[int, bool, float], str, Sheet, tuple[Panel, ...], str | None]


def _all(dressing: Dressing) -> Iterator[_Found]:
    for sheet in dressing.sheets:
        now = tuple(panel for panel in sheet.panels if not _held(sheet, panel))
        if now:
            yield (sheet.laid, False, 0.0), sheet.name, sheet, now, sheet.opening
        for panel in sheet.panels:
            if _held(sheet, panel):
                key = f"{sheet.name}.{panel.name.replace(' ', '-')}"
                yield (panel.laid or 0, True, panel.u[0]), key, sheet, (panel,), sheet.opening


def _held(sheet: Sheet, panel: Panel) -> bool:
    return panel.laid is not None and panel.laid > sheet.laid


def _below(dressing: Dressing, panel: Panel) -> tuple[str, ...]:
    """Return the openings that a flap of the wrap hangs over, from left to right."""
    return tuple(
        name
        for name, hole in named_holes(dressing)
        if panel.facet == WALL and hole[0][0] < panel.u[1] and panel.u[0] < hole[0][1]
    )


def named_holes(dressing: Dressing) -> list[tuple[str, tuple[tuple[float, float], tuple[float, float]]]]:
    """Return the openings of a wall from left to right: name, and x and z of the hole in the wall."""
    by_name = dressing.complex.by_name
    names = [name.removesuffix(".sill") for name in by_name if name.endswith(".sill")]
    found = [(name, (by_name[f"{name}.sill"].u, by_name[f"{name}.left"].v)) for name in names]
    return sorted(found, key=lambda pair: pair[1])


@dataclass(frozen=True, slots=True)
class Standing:
    """What is on the wall once an act is done."""

    dressing: Dressing
    act: Act
    done: tuple[Act, ...]
    """The acts before it."""

    def laid(self) -> list[tuple[Act, Panel]]:
        """Return the panels that lie on the wall, each with its act, in the order of work."""
        return [(act, panel) for act in (*self.done, self.act) for panel in act.panels]

    def held_up(self) -> list[tuple[Act, Panel]]:
        """Return flaps that are cut but not yet down, with the act that cut them."""
        down = {(act.sheet.name, panel.name) for act, panel in self.laid()}
        return [
            (act, panel)
            for act in (*self.done, self.act)
            if not act.flap
            for panel in act.sheet.panels
            if (act.sheet.name, panel.name) not in down
        ]

    def unit_on(self, opening: str) -> Act | None:
        """Return the act that set the unit of an opening; None: it is not in."""
        return next(
            (a for a in (*self.done, self.act) if a.sheet.kind is Kind.UNIT and a.opening == opening), None
        )

    def mounted(self, mount: str) -> Act | None:
        """Return the act that put a solid piece on the wall, e.g. the ledger; None: it is not on."""
        named = (a for a in (*self.done, self.act) if a.sheet.kind is Kind.MOUNT and a.sheet.name == mount)
        return next(named, None)


def standings(dressing: Dressing) -> Iterator[Standing]:
    """Yield the wall as it is once each act is done, in the order of work."""
    every = acts(dressing)
    for number, act in enumerate(every):
        yield Standing(dressing, act, every[:number])
