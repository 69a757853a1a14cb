"""From the adjusted wall to the setting plan.

Answers: where the level line goes; what to pad, plane or cut back and by how much; where each unit sits and
how surely it fits; which size to order; why nothing works and what least change would cure it; whether pads
shot again are good. From a `Job`, a `Wall` and its `Survey` to a `Setting`. Knows nothing of prices.
"""

from sillwright.setting.build import set_wall
from sillwright.setting.decision import decision
from sillwright.setting.model import Setting

__all__ = ["Setting", "decision", "set_wall"]
