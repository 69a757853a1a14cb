"""Pictures of water: each act of dressing a wall, sections through it, and where water gets.

From a dressed wall (and the verdicts on it) to scenes. A step picture shows the wall from outside at one act:
what is on in pencil, the new piece hatched, folds dashed, cuts and the roller's way in crayon. Lengths on
pictures are the job's; where a long middle is drawn short, a break on the picture's edge says so. Refs are
those of the water plan: `piece.<name>`, `water.<place>`. Nothing here judges or decides.
"""

from sillwright.drawing.water.acts import Act, acts
from sillwright.drawing.water.maps import WaterMap, box_map, wall_map, water_maps
from sillwright.drawing.water.paper import PHONE, Paper
from sillwright.drawing.water.section_pictures import SectionPicture, section_pictures
from sillwright.drawing.water.seen import Seen, seen_in_plan, seen_in_water
from sillwright.drawing.water.steps import Step, step_picture, step_pictures

__all__ = [
    "PHONE",
    "Act",
    "Paper",
    "SectionPicture",
    "Seen",
    "Step",
    "WaterMap",
    "acts",
    "box_map",
    "section_pictures",
    "seen_in_plan",
    "seen_in_water",
    "step_picture",
    "step_pictures",
    "wall_map",
    "water_maps",
]
