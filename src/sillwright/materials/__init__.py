"""Materials at an opening: what may touch what, how far pieces must lap, how high dams stand, will it stick.

From products (a family, and what the user's own dated product sheet says), a rule book with the water
requirements of a place, and what is known of the flashing, to verdicts and findings with value, limit and
source, by the engine of `rules`. Where nobody has published a number the answer is whom to ask, never a
guess. Heads of water, slopes, shrinkage and dew points are worked out here. Knows families, never makers;
knows nothing of shapes, sheets on a wall, or drawings.
"""

from sillwright.materials.air import (
    ALDUCHOV_ESKRIDGE,
    BOLTON,
    CONSTANTS,
    OLDER,
    SONNTAG,
    Magnus,
    dew_point_c,
    dew_point_f,
)
from sillwright.materials.checks import CHECKS, check_water, examine_one, examine_water
from sillwright.materials.facts import StripMethod, WaterFacts, WrapCut
from sillwright.materials.families import Family, families, family
from sillwright.materials.head import (
    CLASSES,
    PerformanceClass,
    TestPressure,
    back_dam_height,
    end_dam_height,
    head_in_water,
    pressure_of_head_psf,
    velocity_pressure_psf,
    water_test_pressure,
    wind_mph_for,
)
from sillwright.materials.laps import JOINTS, Joint, check_lap, required_lap
from sillwright.materials.limits import Requirement, requirement
from sillwright.materials.pairs import PairVerdict, Touch, check_touching, compatible
from sillwright.materials.pieces import sill_strip_length
from sillwright.materials.product import Product
from sillwright.materials.sill import eave_shelters
from sillwright.materials.slope import (
    pct_of_deg,
    pct_of_in_per_ft,
    shrinkage,
    slope_deg,
    slope_in_per_ft,
    slope_left_pct,
)
from sillwright.materials.sticking import can_stick

__all__ = [
    "ALDUCHOV_ESKRIDGE",
    "BOLTON",
    "CHECKS",
    "CLASSES",
    "CONSTANTS",
    "JOINTS",
    "OLDER",
    "SONNTAG",
    "Family",
    "Joint",
    "Magnus",
    "PairVerdict",
    "PerformanceClass",
    "Product",
    "Requirement",
    "StripMethod",
    "TestPressure",
    "Touch",
    "WaterFacts",
    "WrapCut",
    "back_dam_height",
    "can_stick",
    "check_lap",
    "check_touching",
    "check_water",
    "compatible",
    "dew_point_c",
    "dew_point_f",
    "eave_shelters",
    "end_dam_height",
    "examine_one",
    "examine_water",
    "families",
    "family",
    "head_in_water",
    "pct_of_deg",
    "pct_of_in_per_ft",
    "pressure_of_head_psf",
    "required_lap",
    "requirement",
    "shrinkage",
    "sill_strip_length",
    "slope_deg",
    "slope_in_per_ft",
    "slope_left_pct",
    "velocity_pressure_psf",
    "water_test_pressure",
    "wind_mph_for",
]
