"""Flaps: the part of a sheet that is held up until what must go under it is laid."""

from __future__ import annotations

from dataclasses import dataclass, replace

from sillwright.lengths import Unit, show
from sillwright.water.acts import Act, Do, Force, Must
from sillwright.water.lattice import SAME
from sillwright.water.model import Dressing, Join, Kind, Panel, Seam, Sheet, Span
from sillwright.water.tiles import on_each_other

TUCK = 2.0
"""How far what goes under a flap reaches up behind it, inches; common practice, no source."""
CUT = (Kind.WRAP, Kind.LEDGER_SHEET, Kind.BACKING, Kind.STRIP, Kind.PAN)
"""What can be cut into a flap on the wall."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Flap:
    """A flap to cut: an upright rectangle of a facet that hangs on its upper edge."""

    name: str
    sheet: str
    panels: tuple[str, ...]
    """The parts of the sheet that it is cut from."""
    facet: str
    u: Span
    v: Span
    """The hinge is at the upper end."""
    after: str
    """The act after which it comes down."""
    why: str
    """What comes of it without the flap."""
    words: tuple[str, str, str]
    """Of the sheet, of the facet, of the piece that goes under it."""

    def said(self, unit: Unit = "in") -> str:
        """Return how to cut it, in the unit of a job."""
        sheet, facet, first = self.words
        along, up = (f"{show(low, unit=unit)} to {show(high, unit=unit)}" for low, high in (self.u, self.v))
        return (
            f"Cut a flap in the {sheet} on the {facet}: {along} along it, {up} up, hinged along its upper "
            f"edge. Hold it up, and fold it down after the {first}. Without it, {self.why}"
        )

    @property
    def act(self) -> Act:
        """Return the act that folds it down."""
        return Act(do=Do.FOLD_DOWN, sheet=self.sheet, panel=self.name, words=f"fold the {self.name} down")


def flap_for(dressing: Dressing, rule: Must, number: int) -> Flap | None:
    """Return the flap that keeps a rule though its sheet goes on first; None: it cannot be cut there."""
    sheet = next((each for each in dressing.sheets if each.name == rule.then), None)
    if sheet is None or sheet.kind not in CUT or rule.force is Force.WORK or rule.reach is None:
        return None
    facet = dressing.complex.by_name[rule.facet]
    u, v = rule.reach
    v = v[0], min(v[1] + TUCK, facet.v[1])
    own = Panel(name="", facet=rule.facet, u=u, v=v, bonded=False)
    panels = [panel for panel in sheet.panels if on_each_other(panel, own)]
    name = f"new flap {number}"
    first = next((each.words for each in dressing.sheets if each.name == rule.first), rule.first)
    return Flap(
        name=name,
        sheet=sheet.name,
        panels=tuple(panel.name for panel in panels),
        facet=rule.facet,
        u=u,
        v=v,
        after=rule.first,
        why=rule.why,
        words=(sheet.words, facet.words, first),
    )


def cut_flap(sheet: Sheet, flap: Flap, laid: int) -> Sheet:
    """Return a sheet with a flap cut in it that comes down by the act `laid`."""
    own = Panel(name=flap.name, facet=flap.facet, u=flap.u, v=flap.v, bonded=False, laid=laid)
    pieces = {panel.name: _left(panel, own) for panel in sheet.panels}
    seams = [
        Seam(a.name, b.name) for each in pieces.values() for n, a in enumerate(each) for b in each[n + 1 :]
    ]
    seams += [
        Seam(a.name, b.name, seam.join)
        for seam in sheet.seams
        for a in pieces[seam.one]
        for b in pieces[seam.other]
    ]
    seams += [
        Seam(own.name, panel.name, Join.FOLD)
        for each in pieces.values()
        for panel in each
        if panel.facet == own.facet and abs(panel.v[0] - own.v[1]) < SAME
    ]
    panels = tuple(panel for each in pieces.values() for panel in each)
    return replace(sheet, panels=(*panels, own), seams=tuple(seams))


def _left(panel: Panel, flap: Panel) -> list[Panel]:
    """Return what is left of a panel beside a flap cut in it."""
    if not on_each_other(panel, flap):
        return [panel]
    (u0, u1), (v0, v1) = panel.u, panel.v
    low, high = max(v0, flap.v[0]), min(v1, flap.v[1])
    rects = [
        ((u0, u1), (v0, low)),
        ((u0, u1), (high, v1)),
        ((u0, max(u0, flap.u[0])), (low, high)),
        ((min(u1, flap.u[1]), u1), (low, high)),
    ]
    return [
        replace(panel, name=f"{panel.name} {letter}", u=u, v=v)
        for letter, (u, v) in zip("abcd", rects, strict=True)
        if u[1] - u[0] > SAME and v[1] - v[0] > SAME
    ]
