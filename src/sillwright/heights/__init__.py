"""The story pole: one vertical chain for a wall, from grade and footing to the head.

Answers: every height of a wall and of the deck below it; how far each can be off, at worst and as a root of
squares, and from which pieces; which demands cannot hold together, and the least change that cures each; what
the model code and good practice say of them. From levels, steps and demands (`Chain`, `solve`), or from what
is known of a wall (`WallHeights`, `wall_chain`), to `ChainResult`, `Finding`s and the numbers of a section.
Two chains may meet at one wall: the ledger where the backing is, the joists where the step down wants them.
Knows nothing of water, loads, readings or drawings.
"""

from sillwright.heights.checks import findings
from sillwright.heights.doorway import (
    even_risers,
    guard_needed,
    most_drop,
)
from sillwright.heights.ledger import notch_faults
from sillwright.heights.limits import limits
from sillwright.heights.model import (
    DATUM,
    Chain,
    ChainResult,
    Conflict,
    Cure,
    Demand,
    DemandResult,
    Difference,
    Holds,
    How,
    Level,
    LevelResult,
    Share,
    Step,
    StepResult,
    Unmet,
    at,
)
from sillwright.heights.section import Depths, PoleMark, Section, Shape, pole, section
from sillwright.heights.solve import difference, solve
from sillwright.heights.wall import wall_chain
from sillwright.heights.wall_model import (
    Backing,
    DeckHeights,
    DoorHeights,
    Ground,
    Layer,
    Place,
    Swing,
    UnitHeights,
    WallHeights,
)

__all__ = [
    "DATUM",
    "Backing",
    "Chain",
    "ChainResult",
    "Conflict",
    "Cure",
    "DeckHeights",
    "Demand",
    "DemandResult",
    "Depths",
    "Difference",
    "DoorHeights",
    "Ground",
    "Holds",
    "How",
    "Layer",
    "Level",
    "LevelResult",
    "Place",
    "PoleMark",
    "Section",
    "Shape",
    "Share",
    "Step",
    "StepResult",
    "Swing",
    "UnitHeights",
    "Unmet",
    "WallHeights",
    "at",
    "difference",
    "even_risers",
    "findings",
    "guard_needed",
    "limits",
    "most_drop",
    "notch_faults",
    "pole",
    "section",
    "solve",
    "wall_chain",
]
