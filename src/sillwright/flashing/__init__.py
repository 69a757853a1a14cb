"""How openings are dressed: schemes in the words of the trade, and the water plan of a job.

From a `Job`, its adjusted wall, its setting plan and its ledger to every piece of sheet in its order, the
verdict for every place that must stay dry, and what that means for the next step. What the job does not say
is listed with what was taken; an opening whose shape is not settled is left out with the reason. The way of
water itself is the business of `water`, laps and materials of `materials`.
"""

from sillwright.flashing.assumed import Assumed
from sillwright.flashing.dress import dress
from sillwright.flashing.from_job import FromJob, from_job
from sillwright.flashing.geometry import LeftOut
from sillwright.flashing.plan_laps import least_of_each
from sillwright.flashing.plan_model import (
    Holds,
    WaterAct,
    WaterCorner,
    WaterCut,
    WaterLap,
    WaterMaterial,
    WaterPart,
    WaterPiece,
    WaterPlace,
    WaterPlan,
    WaterStanding,
    WaterStep,
    weakest_first,
)
from sillwright.flashing.plan_water import Dressed, Watered, check_water, dressed, plan_water
from sillwright.flashing.practice import (
    PanMake,
    Rolls,
    Scheme,
    SetUnit,
    Sizes,
    ToDress,
    UnitSet,
    WrapWhen,
)
from sillwright.flashing.schemes import SchemeCard, scheme_card, schemes

__all__ = [
    "Assumed",
    "Dressed",
    "FromJob",
    "Holds",
    "LeftOut",
    "PanMake",
    "Rolls",
    "Scheme",
    "SchemeCard",
    "SetUnit",
    "Sizes",
    "ToDress",
    "UnitSet",
    "WaterAct",
    "WaterCorner",
    "WaterCut",
    "WaterLap",
    "WaterMaterial",
    "WaterPart",
    "WaterPiece",
    "WaterPlace",
    "WaterPlan",
    "WaterStanding",
    "WaterStep",
    "Watered",
    "WrapWhen",
    "check_water",
    "dress",
    "dressed",
    "from_job",
    "least_of_each",
    "plan_water",
    "scheme_card",
    "schemes",
    "weakest_first",
]
