"""Which pieces of a dressed wall are drawn flat, and their drawings by name."""

from __future__ import annotations

from sillwright.drawing.cutting import pieces_drawn
from sillwright.drawing.full_size import blank_tiles, slit_templates
from sillwright.drawing.scene import Scene
from sillwright.errors import BadInput
from sillwright.lengths import Unit
from sillwright.water.model import Dressing, Kind
from sillwright.water.pattern_model import FlatPattern, Make
from sillwright.water.patterns import NOT_CUT, flat_pattern

_BOX = (7.0, 2.9)
"""Of a drawn piece [paper inches]."""
_SQUARE = 3.4
_WHOLE = 1000.0
"""Paper as large as a drawing: files are not printed in parts."""


def cut_patterns(dressing: Dressing, *, joint_lap: float) -> tuple[FlatPattern, ...]:
    """Return the patterns of all pieces that are more than a plain strip off the roll, in the order of work.

    Wrap is cut where it hangs. Pieces that no flat sheet makes are left out: they are findings.

    Args:    joint_lap: of joints along the roll [in]
    """
    found = []
    for piece in sorted(dressing.sheets, key=lambda each: each.laid):
        if piece.kind in (*NOT_CUT, Kind.WRAP):
            continue
        try:
            pattern = flat_pattern(piece, dressing.complex, joint_lap=joint_lap)
        except BadInput:
            continue
        if pattern.make is not Make.FOLDED or any(each.folds for each in pattern.pieces):
            found.append(pattern)
    return tuple(found)


def cutting_drawings(dressing: Dressing, *, joint_lap: float, units: Unit) -> dict[str, Scene]:
    """Return the drawings of the folded pieces by name.

    `cutting-<piece>` (of several, `cutting-<piece>-2` ...) on its roll; at full size `patch-<piece>` and
    `slit-<piece>-1` ...
    """
    drawings: dict[str, Scene] = {}
    for pattern in cut_patterns(dressing, joint_lap=joint_lap):
        name = pattern.sheet.replace(".", "-")
        if pattern.make is Make.STRETCHED:
            (drawings[f"patch-{name}"],) = blank_tiles(pattern, units=units, width=_WHOLE, height=_WHOLE)
            continue
        scenes = pieces_drawn(pattern, units=units, width=_BOX[0], height=_BOX[1])
        for number, scene in enumerate(scenes, 1):
            drawings[f"cutting-{name}" + (f"-{number}" if number > 1 else "")] = scene
        for number, scene in enumerate(slit_templates(pattern, units=units, side=_SQUARE), 1):
            drawings[f"slit-{name}-{number}"] = scene
    return drawings
