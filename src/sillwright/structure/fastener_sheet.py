"""What one dowel carries, value by value: bearing, penetration, modes, pull. For a ledger and any connection.

For your engineer. Source: NDS 2018 12.1 to 12.4; AWC TR 12.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from sillwright.structure.connection_factors import WET_DOWEL
from sillwright.structure.dowels import Dowel, Side
from sillwright.structure.timber import DURATIONS
from sillwright.structure.withdrawal import withdrawal, withdrawal_per_inch
from sillwright.structure.worked import Worked, inputs
from sillwright.structure.yield_limit import MODES, Lateral, reductions

YIELD = "NDS 2018 Table 12.3.1A"
YIELD_WITH_GAP = "AWC TR 12 Table 1-1 (from memory)"
FACTORS = "NDS 2018 Tables 2.3.2, 11.3.1, 11.3.3 (factors from memory)"
_WET = "Table 11.3.3 (wet factor from memory)"
_WITHDRAWAL = {
    "lag screw": ("W = 1800 G^1.5 D^0.75", "NDS 2018 12.2.1", "12.2A"),
    "wood screw": ("W = 2850 G² D", "NDS 2018 12.2.2", "12.2B"),
}
_THREAD = {"lag screw": "thread of a stock screw", "wood screw": "thread of two thirds of the screw"}
_ROOT = "(−B + √(B² − 4AC)) / (2A Rd)"
_FORMULAS = {
    "Im": "qm lm / Rd",
    "Is": "qs ls / Rd",
    "II": f"{_ROOT}; A = 1/4qs + 1/4qm, B = ls/2 + g + lm/2, C = −qs ls²/4 − qm lm²/4",
    "IIIm": f"{_ROOT}; A = 1/2qs + 1/4qm, B = g + lm/2, C = −M − qm lm²/4",
    "IIIs": f"{_ROOT}; A = 1/4qs + 1/2qm, B = ls/2 + g, C = −qs ls²/4 − M",
    "IV": f"{_ROOT}; A = 1/2qs + 1/2qm, B = g, C = −2M",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Names:
    """What the two members of a joint are called."""

    main: str = "main member"
    side: str = "side member"

    def gives_way(self, mode: str) -> str:
        """Return what gives way in a yield mode."""
        return MODES[mode].replace("main member", self.main).replace("side member", self.side)


def mode_values(
    dowel: Dowel,
    found: Lateral,
    *,
    main: Side,
    side: Side,
    names: Names,
    gap: float = 0.0,
    double: bool = False,
) -> Iterator[Worked]:
    """Yield bearing and bending of a dowel, and every yield mode with what went into it."""
    qm, qs = (member.fe_psi * dowel.diameter for member in (main, side))
    for key, name, q, member in (("qs", names.side, qs, side), ("qm", names.main, qm, main)):
        yield Worked(
            key=key,
            what=f"bearing of the fastener in the {name}",
            formula=f"{key} = Fe D",
            inputs=inputs(("Fe", member.fe_psi, "psi"), ("D, root or shank", dowel.diameter, "in")),
            value=q,
            unit="lbf/in",
            source="AWC TR 12",
        )
    moment = dowel.fyb_psi * dowel.diameter**3 / 6.0
    memory = "from memory" if dowel.kind == "wood screw" else "lag screws from memory"
    yield Worked(
        key="moment",
        what="bending moment at which the fastener yields",
        formula="M = Fyb D³ / 6",
        inputs=inputs(("Fyb", dowel.fyb_psi, "psi"), ("D, root or shank", dowel.diameter, "in")),
        value=moment,
        unit="in lbf",
        source=f"NDS 2018 appendix I and L ({memory})",
    )
    terms = reductions(dowel, main, side)
    by_mode = dict(zip(("Im", "Is", "II"), (terms[0], terms[0], terms[1]), strict=True))
    for mode, z in found.modes.items():
        twice = double and mode != "Im"
        yield Worked(
            key=f"mode-{mode}",
            what=f"mode {mode}: {names.gives_way(mode)}",
            formula=("2 × " if twice else "") + _FORMULAS[mode],
            inputs=tuple(
                each
                for each in inputs(
                    ("qs", qs, "lbf/in"),
                    ("qm", qm, "lbf/in"),
                    ("ls", side.bearing_length, "in"),
                    ("lm", main.bearing_length, "in"),
                    ("g", gap, "in"),
                    ("M", moment, "in lbf"),
                    ("Rd", by_mode.get(mode, terms[2]), ""),
                )
                if each.name in _FORMULAS[mode]
            ),
            value=z,
            unit="lbf",
            source=f"{YIELD_WITH_GAP if gap else YIELD}; Rd: NDS 2018 Table 12.3.1B",
        )


def adjusted_value(
    reference: Lateral,
    adjusted_lbf: float,
    *,
    duration: str,
    wet: bool,
    group: float = 1.0,
    geometry: float,
    what: str = "each fastener, adjusted",
) -> Worked:
    """Return Z' with its factors."""
    return Worked(
        key="z",
        what=what,
        formula="Z' = Z CD CM Cg C∆, Z the least of the modes",
        inputs=inputs(
            (f"Z, mode {reference.mode}", reference.z_lbf, "lbf"),
            *_service(duration, wet=wet),
            ("Cg", group, ""),
            ("C∆", geometry, ""),
        ),
        value=adjusted_lbf,
        unit="lbf",
        source=FACTORS,
    )


def _service(duration: str, *, wet: bool) -> tuple[tuple[str, float | str, str], ...]:
    return (
        (f"CD, {duration.replace('_', ' ')}", DURATIONS[duration], ""),
        ("CM, wet" if wet else "CM, dry", WET_DOWEL if wet else 1.0, ""),
    )


def pull_values(
    dowel: Dowel,
    *,
    specific_gravity: float,
    thread: float,
    duration: str,
    wet: bool,
    where: str,
    note: str = "",
) -> Iterator[Worked]:
    """Yield what a screw holds along its length in side grain.

    Args: thread: in the member that holds its point, tip left out [in]; where: that member, in words
    """
    formula, source, table = _WITHDRAWAL[dowel.kind]
    each = withdrawal_per_inch(dowel.kind, specific_gravity=specific_gravity, diameter=dowel.nominal)
    yield Worked(
        key="withdrawal-inch",
        what=f"pull that an inch of thread takes{note}",
        formula=formula,
        inputs=inputs(("G", specific_gravity, ""), ("D", dowel.nominal, "in")),
        value=each,
        unit="lbf/in",
        source=f"{source}, Table {table}",
    )
    if thread <= 0.0:
        return
    yield Worked(
        key="withdrawal",
        what=f"pull that the thread in the {where} takes, tip left out",
        formula="W' = W p CD CM",
        inputs=inputs(("W", each, "lbf/in"), ("p, thread", thread, "in"), *_service(duration, wet=wet)),
        value=withdrawal(
            each,
            thread_in_main=thread,
            duration=DURATIONS[duration],
            wet=WET_DOWEL if wet else 1.0,
        ),
        unit="lbf",
        source=f"{source}, {_WET}; {_THREAD[dowel.kind]}: appendix L, from memory",
    )
