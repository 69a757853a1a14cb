"""A joist, beam or header by calculation, value by value: adjusted strengths, then demand against each.

For your engineer. Source: NDS 2018 3.3 to 3.5 and 3.10, 4.3.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from sillwright.structure.members import (
    Check,
    LineLoad,
    MemberResult,
    beam_stability,
    critical_buckling,
    effective_length_uniform,
    simple_span,
    slenderness,
)
from sillwright.structure.timber import Section, Service, Strength, factors, reference_values, wood
from sillwright.structure.worked import Input, Worked, inputs

FACTORS = "NDS 2018 4.3; CD, CM and Ci from memory"
STATICS = "statics"
_STRENGTHS = (
    ("fb", "Fb'", "strength in bending"),
    ("fv", "Fv'", "strength in shear"),
    ("fc_perp", "Fc perp'", "strength in bearing across the grain"),
    ("e", "E'", "modulus of elasticity"),
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Stability:
    """What keeps a beam without a held edge from tipping over."""

    effective_length: float
    slenderness: float
    """RB."""
    fb_star_psi: float
    """Fb with all its factors but CL."""
    fbe_psi: float
    factor: float
    """CL."""


def stability_of(section: Section, strength: Strength, *, unsupported: float) -> Stability:
    """Return the beam stability of a member that is held at its ends only, loaded all along.

    Args: strength: adjusted, with CL 1; unsupported: [in]
    Raises: OutOfRange: RB above 50
    Source: NDS 2018 3.3.3
    """
    le = effective_length_uniform(unsupported, depth=section.depth)
    rb = slenderness(section, effective_length=le)
    fbe = critical_buckling(strength.e_min_psi, rb=rb)
    return Stability(
        effective_length=le,
        slenderness=rb,
        fb_star_psi=strength.fb_psi,
        fbe_psi=fbe,
        factor=beam_stability(strength.fb_psi, fbe_psi=fbe),
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class Member:
    """A member under one load, as it was checked."""

    section: Section
    species: str
    service: Service
    strength: Strength
    load: LineLoad
    span: float
    """Between the middles of its bearings [in]."""
    bearing_length: float
    deflection_ratio: float
    stability: Stability | None = None
    """None: the compression edge is held."""

    @property
    def size(self) -> str:
        """Return its nominal size, with its plies: 2-2x10."""
        plies = f"{self.section.plies}-" if self.section.plies > 1 else ""
        return plies + self.section.size

    def result(self) -> MemberResult:
        """Return its checks over a simple span."""
        return simple_span(
            self.section,
            self.strength,
            span=self.span,
            load=self.load,
            bearing_length=self.bearing_length,
            deflection_ratio=self.deflection_ratio,
        )


def strengths(member: Member) -> Iterator[Worked]:
    """Yield the adjusted design values, each with its factors."""
    size = member.section.size
    reference = reference_values(member.species, size=size)
    held = member.stability
    if held is not None:
        yield _stability(member, held)
    by = factors(
        member.species, size=size, service=member.service, stability=held.factor if held is not None else 1.0
    )
    for key, symbol, what in _STRENGTHS:
        plain = symbol.removesuffix("'")
        yield Worked(
            key=key.replace("_", "-"),
            what=what,
            formula=" ".join([f"{symbol} =", plain, *by[key]]),
            inputs=(
                Input(
                    name=f"{plain}, {wood(member.species)} No. 2", value=_value(reference, key), unit="psi"
                ),
                *_factors(by[key]),
            ),
            value=_value(member.strength, key),
            unit="psi",
            source=f"{reference.source}; {FACTORS}",
        )


def _stability(member: Member, held: Stability) -> Worked:
    return Worked(
        key="stability",
        what="beam stability, the top edge not held",
        formula="CL = (1 + F)/1.9 − √(((1 + F)/1.9)² − F/0.95), F = 1.2 Emin' / RB² / Fb*, RB = √(le d / b²)",
        inputs=inputs(
            ("le", held.effective_length, "in"),
            ("d", member.section.depth, "in"),
            ("b, plies as one", member.section.breadth, "in"),
            ("RB", held.slenderness, ""),
            ("Emin'", member.strength.e_min_psi, "psi"),
            ("Fb*", held.fb_star_psi, "psi"),
        ),
        value=held.factor,
        unit="",
        source="NDS 2018 3.3.3; le of Table 3.3.3 from memory",
    )


def checks(member: Member) -> Iterator[Worked]:
    """Yield what bends, shears, bears and sags against the adjusted design values."""
    load, section = member.load, member.section
    w = ("w", load.total_plf, "lbf/ft")
    span, reaction = ("L", member.span, "in"), load.total_plf / 12.0 * member.span / 2.0
    made: Mapping[str, tuple[str, tuple[Input, ...]]] = {
        "bending": ("fb = w L² / 8 / S", inputs(w, span, ("S = b d² / 6", section.modulus, "in³"))),
        "shear": ("fv = 1.5 (w L / 2) / A", inputs(w, span, ("A = b d", section.area, "in²"))),
        "bearing": (
            "fc perp = R / (b lb)",
            inputs(
                ("R = w L / 2", reaction, "lbf"),
                ("b", section.breadth, "in"),
                ("lb", member.bearing_length, "in"),
            ),
        ),
        "deflection": (
            "5 w L⁴ / (384 E' I), w of the live load alone",
            inputs(
                ("w", load.live_plf, "lbf/ft"),
                span,
                ("E'", member.strength.e_psi, "psi"),
                ("I = b d³ / 12", section.inertia, "in⁴"),
                ("limit L over", member.deflection_ratio, ""),
            ),
        ),
    }
    for check in member.result().checks:
        formula, given = made[check.limit]
        yield checked(check, formula, given)


def checked(check: Check, formula: str, given: tuple[Input, ...], *, prefix: str = "") -> Worked:
    """Return one check of a member as a value with its limit."""
    deflection = check.limit == "deflection"
    return Worked(
        key=f"{prefix}{check.limit}",
        what=f"{prefix.replace('-', ' ')}{check.limit}",
        formula=formula,
        inputs=given,
        value=check.demand,
        unit=check.unit,
        limit=check.capacity,
        source="limit: IRC 2018 Table R301.7 (from memory)" if deflection else "NDS 2018 3.3 to 3.10",
    )


def _factors(by: Mapping[str, float]) -> tuple[Input, ...]:
    return tuple(Input(name=name, value=factor) for name, factor in by.items())


def _value(strength: Strength, key: str) -> float:
    return float(getattr(strength, f"{key}_psi"))
