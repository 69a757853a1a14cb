"""The screens, in the order of the work: one function each, from a job and its plan to drawings and blocks.

A new screen is one function and its line in `SCREENS`.
"""

from __future__ import annotations

from collections.abc import Callable

from sillwright.web.blocks import Screen
from sillwright.web.faults import tell
from sillwright.web.screens.days import days
from sillwright.web.screens.deck import deck
from sillwright.web.screens.heights import heights
from sillwright.web.screens.lists import lists
from sillwright.web.screens.measure import measure
from sillwright.web.screens.proof import proof
from sillwright.web.screens.setting import setting
from sillwright.web.screens.view import Filled, View
from sillwright.web.screens.water import water
from sillwright.wording import say

SCREENS: dict[str, Callable[[View], Filled]] = {
    "measure": measure,
    "set": setting,
    "heights": heights,
    "water": water,
    "deck": deck,
    "lists": lists,
    "days": days,
    "proof": proof,
}


WET = ("water", "lists", "proof")
"""Screens that tell of water; the others need not wait for its paths."""


def screen(name: str, view: View) -> Screen:
    """Return one screen of a job.

    Raises:  KeyError: there is no such screen
    """
    filled = SCREENS[name](view)
    return Screen(
        screen=name,
        title=say(f"screen.{name}"),
        seq=view.state.seq,
        plan=view.planned.fingerprint,
        units=view.state.document.units,
        faults=tell(view.planned.faults),
        **filled,
    )


__all__ = ["SCREENS", "WET", "View", "screen"]
