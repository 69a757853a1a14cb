"""Heights, ledger, framing and code checks of a wall: what the domain packages say of this job.

Answers: every height from the footing to the head of each opening above the deck; where each ledger fastener
goes; whether joists, beam and footings reach; what the checks of openings and ledger come to, for the
inspector. From a `Job`, its `Survey`, its `Setting` and a rule book to an `Inspection`. What the job does not
state is said once, together. Knows nothing of drawings or files.
"""

from sillwright.inspection.engineer import EngineerInput, EngineerSheet, EngineerValue, quantity, told
from sillwright.inspection.framing import GUARD_POST
from sillwright.inspection.inspect import Inspection, inspect_wall, with_answers
from sillwright.inspection.model import (
    DeckFrame,
    FramingValue,
    Height,
    HeightConflict,
    Heights,
    HeightStep,
    InspectionRow,
    LedgerFastener,
    LedgerPlan,
    OpeningAbove,
    SectionShape,
)

__all__ = [
    "GUARD_POST",
    "DeckFrame",
    "EngineerInput",
    "EngineerSheet",
    "EngineerValue",
    "FramingValue",
    "Height",
    "HeightConflict",
    "HeightStep",
    "Heights",
    "Inspection",
    "InspectionRow",
    "LedgerFastener",
    "LedgerPlan",
    "OpeningAbove",
    "SectionShape",
    "inspect_wall",
    "quantity",
    "told",
    "with_answers",
]
