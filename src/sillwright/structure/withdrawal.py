"""Fasteners pulled along their length, and pulled and sheared at once.

Sources: NDS 2018 12.2.1 to 12.2.3, 12.4.1.
"""

from __future__ import annotations

from math import atan2, cos, degrees, hypot, radians, sin

from sillwright.errors import BadInput, Fault
from sillwright.structure.given import need_not_negative, need_one_of, need_positive
from sillwright.structure.tables import refuse

KINDS = ("lag screw", "wood screw", "nail")
END_GRAIN_LAG = 0.75
"""Lag screws in end grain (NDS 12.2.1.4, from memory); wood screws and nails are not allowed there."""


def withdrawal_per_inch(
    kind: str, *, specific_gravity: float, diameter: float, end_grain: bool = False
) -> float:
    """Return the reference withdrawal value of one inch of thread in side grain [lbf/in].

    Lag screw 1800 G^1.5 D^0.75; wood screw 2850 G^2 D; smooth nail 1380 G^2.5 D; tip left out.

    Args: kind: `lag screw`, `wood screw` or `nail`; diameter: nominal [in]
    Raises: BadInput: kind not known; OutOfRange: wood screw or nail in end grain
    Source: NDS 2018 12.2.1 to 12.2.3, Tables 12.2A to 12.2C
    """
    need_one_of(KINDS, kind=kind)
    need_positive(specific_gravity=specific_gravity, diameter=diameter)
    if end_grain and kind != "lag screw":
        raise refuse(f"a {kind} may not be loaded in withdrawal from end grain (NDS 12.2.2, 12.2.3)")
    formula: dict[str, float] = {
        "lag screw": 1800.0 * specific_gravity**1.5 * diameter**0.75,
        "wood screw": 2850.0 * specific_gravity**2 * diameter,
        "nail": 1380.0 * specific_gravity**2.5 * diameter,
    }
    return formula[kind] * (END_GRAIN_LAG if end_grain else 1.0)


def withdrawal(
    per_inch_lbf: float, *, thread_in_main: float, duration: float = 1.0, wet: float = 1.0
) -> float:
    """Return W' = W p CD CM of one fastener [lbf].

    Args: thread_in_main: thread in the main member without the tip [in]
    """
    need_positive(per_inch_lbf=per_inch_lbf, thread_in_main=thread_in_main, duration=duration, wet=wet)
    return per_inch_lbf * thread_in_main * duration * wet


def combined(w_adjusted_lbf: float, *, z_adjusted_lbf: float, lateral_lbf: float, pull_lbf: float) -> float:
    """Return the part used, demand over capacity, of a fastener that is sheared and pulled at once.

    Z'a = W'p Z' / (W'p cos^2 a + Z' sin^2 a), a from the wood's surface to the load (NDS 12.4.1, lag and
    wood screws).

    Raises: BadInput: no load at all, or a negative one
    """
    need_positive(w_adjusted_lbf=w_adjusted_lbf, z_adjusted_lbf=z_adjusted_lbf)
    need_not_negative(lateral_lbf=lateral_lbf, pull_lbf=pull_lbf)
    total = hypot(lateral_lbf, pull_lbf)
    if total == 0.0:
        raise BadInput(Fault("lateral_lbf, pull_lbf", "there is no load.", "Give one of them."))
    return total / combined_value(
        w_adjusted_lbf, z_adjusted_lbf=z_adjusted_lbf, angle_deg=degrees(atan2(pull_lbf, lateral_lbf))
    )


def combined_value(w_adjusted_lbf: float, *, z_adjusted_lbf: float, angle_deg: float) -> float:
    """Return Z'a, what a fastener carries at an angle from the wood's surface [lbf]; 0 is pure shear."""
    need_positive(w_adjusted_lbf=w_adjusted_lbf, z_adjusted_lbf=z_adjusted_lbf)
    need_not_negative(angle_deg=angle_deg)
    a = radians(angle_deg)
    return w_adjusted_lbf * z_adjusted_lbf / (w_adjusted_lbf * cos(a) ** 2 + z_adjusted_lbf * sin(a) ** 2)
