"""Joists, beam, posts and footings of a deck by calculation, value by value.

For your engineer. Load is deck live load or ground snow, whichever is larger, and 10 psf dead; wet in use,
incised where the code's span tables take it so. Sources: NDS 2018 3.3 to 3.7 and 3.10; IRC 2018 R507.3.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace

from sillwright.errors import OutOfRange
from sillwright.structure.columns import CONCRETE_PCF, SAWN_C, footing, post_capacity, post_species
from sillwright.structure.given import need_not_negative, need_positive
from sillwright.structure.ledger_sheet import DECK_DEAD_PSF
from sillwright.structure.member_sheet import STATICS, Member, checked, checks, strengths
from sillwright.structure.members import LineLoad, overhang
from sillwright.structure.tables import refuse
from sillwright.structure.timber import Service, adjusted, section, species_known, wood
from sillwright.structure.worked import Sheet, Worked, inputs

DEFLECTION = 360.0
OVERHANG_DEFLECTION = 180.0
TIP_LBF = 220.0
"""At the end of an overhanging joist, as the code's table takes it (footnote)."""
SEAT = 1.5
"""Least bearing of a joist on wood or in its hanger (IRC 2018 R507.6, from memory) [in]."""
INCISED = ("douglas_fir_larch", "hem_fir", "spruce_pine_fir")
"""Woods that the code's deck tables take as incised."""
TAKEN = (
    f"dead load {DECK_DEAD_PSF:g} psf; wet in service; No. 2",
    "held along the compression edge; the code's span tables come before this",
)


@dataclass(frozen=True, slots=True, kw_only=True)
class DeckCase:
    """A deck's framing to be calculated; what is None was not stated."""

    species: str
    surface_psf: float
    """Live load or ground snow, whichever is larger."""
    snow: bool
    """It is snow that rules."""
    joist_span_ft: float
    joist: str | None = None
    joist_spacing: float = 16.0
    joist_overhang: float = 0.0
    """Past the beam [in]."""
    beam: str | None = None
    beam_span_ft: float | None = None
    beam_overhang: float = 0.0
    post: str | None = None
    post_height: float | None = None
    """From the footing to the beam's underside [in]."""
    soil_psf: float | None = None
    footing_thickness: float | None = None

    def __post_init__(self) -> None:
        need_positive(
            surface_psf=self.surface_psf, joist_span_ft=self.joist_span_ft, joist_spacing=self.joist_spacing
        )
        need_not_negative(joist_overhang=self.joist_overhang, beam_overhang=self.beam_overhang)

    @property
    def total_psf(self) -> float:
        """Return what lies on the deck with its own weight [lbf/ft2]."""
        return self.surface_psf + DECK_DEAD_PSF

    @property
    def service(self) -> Service:
        """Return what the wood lives through."""
        return Service(
            duration="two_months_snow" if self.snow else "ten_years_live",
            wet=True,
            incised=self.species in INCISED,
        )

    @property
    def carried_ft(self) -> float:
        """Return the width of deck that the beam carries: (L + a)^2 / 2L, moments about the ledger [ft]."""
        span, reach = self.joist_span_ft, self.joist_overhang / 12.0
        return (span + reach) ** 2 / (2.0 * span)


def deck_sheets(case: DeckCase) -> dict[str, Sheet]:
    """Return joists, beam, posts and footings by calculation, as far as the case states them.

    Raises:  BadInput: a size or number that cannot be
    """
    made: list[tuple[str, str, bool, Callable[[DeckCase], Sheet]]] = [
        ("joist", "joists", case.joist is not None, _joist),
        ("beam", "beam", None not in (case.beam, case.beam_span_ft), _beam),
        (
            "post",
            "posts",
            None not in (case.post, case.post_height, case.beam_span_ft),
            _post,
        ),
        ("footing", "footing under a post", None not in (case.soil_psf, case.beam_span_ft), _footing),
    ]
    return {key: _made(case, subject, make) for key, subject, stated, make in made if stated}


def _made(case: DeckCase, subject: str, make: Callable[[DeckCase], Sheet]) -> Sheet:
    """Return a sheet, or its subject with why there are no values."""
    try:
        return replace(make(case), subject=subject)
    except OutOfRange as error:
        return Sheet(subject=subject, values=(), refused=str(error), taken=TAKEN)


def _member(
    case: DeckCase, size: str, *, span: float, surface_plf: float, dead_plf: float, seat: float
) -> Member:
    if case.species not in species_known():
        raise refuse(f"no design values are held for {wood(case.species)}")
    ply = section(size)
    service = replace(case.service, repetitive=ply.plies != 2)  # joists under decking, or three plies
    return Member(
        section=ply,
        species=case.species,
        service=service,
        strength=adjusted(case.species, size=ply.size, service=service),
        load=LineLoad(live_plf=surface_plf, dead_plf=dead_plf),
        span=span,
        bearing_length=seat,
        deflection_ratio=DEFLECTION,
    )


def _joist(case: DeckCase) -> Sheet:
    apart_ft = case.joist_spacing / 12.0
    member = _member(
        case,
        case.joist or "",
        span=case.joist_span_ft * 12.0,
        surface_plf=case.surface_psf * apart_ft,
        dead_plf=DECK_DEAD_PSF * apart_ft,
        seat=SEAT,
    )
    load = Worked(
        key="load",
        what="load on a joist",
        formula="w = (surface + dead) × spacing",
        inputs=inputs(
            (_surface(case), case.surface_psf, "psf"),
            ("dead", DECK_DEAD_PSF, "psf"),
            ("spacing", case.joist_spacing, "in"),
        ),
        value=member.load.total_plf,
        unit="lbf/ft",
        source=STATICS,
    )
    past = _past(member, case.joist_overhang, back_span=member.span, tip_lbf=TIP_LBF)
    return _told(member, (load, *strengths(member), *checks(member), *past))


def _beam(case: DeckCase) -> Sheet:
    carried_ft, post = case.carried_ft, section(case.post or "6x6")
    member = _member(
        case,
        case.beam or "",
        span=(case.beam_span_ft or 0.0) * 12.0,
        surface_plf=case.surface_psf * carried_ft,
        dead_plf=DECK_DEAD_PSF * carried_ft,
        seat=post.breadth / 2.0,
    )
    load = Worked(
        key="load",
        what="load on the beam",
        formula="w = (surface + dead) × (L + a)² / 2L",
        inputs=inputs(
            (_surface(case), case.surface_psf, "psf"),
            ("dead", DECK_DEAD_PSF, "psf"),
            ("L, span of the joists", case.joist_span_ft, "ft"),
            ("a, past the beam", case.joist_overhang / 12.0, "ft"),
        ),
        value=member.load.total_plf,
        unit="lbf/ft",
        source=STATICS,
    )
    past = _past(member, case.beam_overhang, back_span=member.span, tip_lbf=0.0)
    bears = "half of a post" + (f" {case.post}" if case.post else ", taken as 6x6")
    return _told(
        member,
        (load, *strengths(member), *checks(member), *past),
        taken=f"each end of the beam bears on {bears}",
    )


def _past(member: Member, reach: float, *, back_span: float, tip_lbf: float) -> Iterator[Worked]:
    """Yield the checks of what runs on past its support.

    Raises:  OutOfRange: further than a quarter of the back span
    """
    if not reach:
        return
    found = overhang(
        member.section,
        member.strength,
        back_span=back_span,
        reach=reach,
        load=member.load,
        tip_lbf=tip_lbf,
        deflection_ratio=OVERHANG_DEFLECTION,
    )
    formulas = {
        "bending": "(w a² / 2 + P a) / S",
        "shear": "1.5 (w a + P) / A",
        "deflection": "w a³ (4L + 3a) / (24 E' I) + P a² (L + a) / (3 E' I), limit 2a / 180",
    }
    load = member.load
    given = inputs(
        ("w", load.total_plf, "lbf/ft"),
        ("w live", load.live_plf, "lbf/ft"),
        ("a", reach, "in"),
        ("L", back_span, "in"),
        ("P at the tip", tip_lbf, "lbf"),
    )
    for check in found.checks:
        yield checked(check, formulas[check.limit], given, prefix="overhang-")


def _told(member: Member, values: tuple[Worked, ...], *, taken: str = "") -> Sheet:
    worst = max(values, key=lambda each: each.use or 0.0)
    use = 100.0 * (worst.use or 0.0)
    return Sheet(
        subject="",
        values=values,
        main=worst.key,
        governs=worst.key,
        verdict=f"{_no_2(member.size, member.species)}: {worst.what} governs at {use:.0f}%{_over(worst)}",
        taken=(*TAKEN, taken) if taken else TAKEN,
    )


def _load_on_a_post(case: DeckCase) -> Worked:
    beam_span_ft = case.beam_span_ft or 0.0
    return Worked(
        key="load",
        what="load on a post between two others; an end post carries less",
        formula="P = (surface + dead) × beam span × (L + a)² / 2L",
        inputs=inputs(
            (_surface(case), case.surface_psf, "psf"),
            ("dead", DECK_DEAD_PSF, "psf"),
            ("beam span", beam_span_ft, "ft"),
            ("L, span of the joists", case.joist_span_ft, "ft"),
            ("a, past the beam", case.joist_overhang / 12.0, "ft"),
        ),
        value=case.total_psf * beam_span_ft * case.carried_ft,
        unit="lbf",
        source=STATICS,
    )


def _post(case: DeckCase) -> Sheet:
    size, height = case.post or "", case.post_height or 0.0
    if case.species not in post_species(size):
        raise refuse(f"no design values are held for posts {size} of {wood(case.species)}")
    column = post_capacity(size, species=case.species, height=height, service=case.service)
    load, post = _load_on_a_post(case), section(size)
    factor = Worked(
        key="column-factor",
        what="column factor",
        formula="CP = (1 + F)/2c − √(((1 + F)/2c)² − F/c), F = 0.822 Emin' / (le/d)² / Fc*",
        inputs=inputs(
            ("le/d", column.slenderness, ""),
            ("Fc* = Fc CD CM CF Ci", column.fc_star_psi, "psi"),
            ("Emin'", column.e_min_psi, "psi"),
            ("c", SAWN_C, ""),
        ),
        value=column.column_factor,
        unit="",
        source=f"NDS 2018 3.7.1; {column.source}",
    )
    capacity = Worked(
        key="capacity",
        what="what the post carries on its axis",
        formula="Fc* CP A",
        inputs=inputs(
            ("Fc*", column.fc_star_psi, "psi"), ("CP", column.column_factor, ""), ("A", post.area, "in²")
        ),
        value=column.capacity_lbf,
        unit="lbf",
        source="NDS 2018 3.6.3, 3.7",
    )
    used = replace(load, limit=column.capacity_lbf)
    percent = 100.0 * (used.use or 0.0)
    return Sheet(
        subject="",
        values=(factor, capacity, used),
        main="load",
        verdict=f"{_no_2(size, case.species)}: {percent:.0f}% of what it carries is used{_over(used)}",
        taken=(*TAKEN[:1], "pinned at both ends, no brace between, no bending, no guard post at its top"),
    )


def _footing(case: DeckCase) -> Sheet:
    load, soil = _load_on_a_post(case), case.soil_psf or 0.0
    thick = case.footing_thickness
    bare = footing(load.value, soil_psf=soil)
    whole = footing(load.value, soil_psf=soil, thickness=thick) if thick is not None else None
    own = () if whole is None else (("t, footing", thick or 0.0, "in"), ("concrete", CONCRETE_PCF, "pcf"))
    found = whole or bare
    values = (
        load,
        Worked(
            key="area",
            what="area of the footing" + ("" if whole is None else ", its own weight counted"),
            formula="A = P / q" if whole is None else "A = P / (q − 150 pcf t)",
            inputs=inputs(("P", load.value, "lbf"), ("q, soil", soil, "psf"), *own),
            value=found.area_sqft,
            unit="sq ft",
            source="IRC 2018 R507.3; own weight as in the AWC deck guide",
        ),
        Worked(
            key="side",
            what="side of a square footing",
            formula="12 √A, at least 12 in",
            inputs=inputs(("A", found.area_sqft, "sq ft")),
            value=found.side,
            unit="in",
            source="IRC 2018 R507.3.1 (from memory)",
        ),
        Worked(
            key="diameter",
            what="diameter of a round one",
            formula="2 side / √π",
            inputs=inputs(("side", found.side, "in")),
            value=found.diameter,
            unit="in",
            source=STATICS,
        ),
    )
    without = "" if whole is not None else "the footing's own weight is left out, as the code's table does"
    return Sheet(
        subject="",
        values=values,
        main="side",
        phrase="at least {} square",
        verdict="below frost, on the soil that was stated",
        taken=tuple(each for each in (f"dead load {DECK_DEAD_PSF:g} psf", without) if each),
    )


def _no_2(size: str, species: str) -> str:
    return f"{size} of {wood(species)} No. 2"


def _over(used: Worked) -> str:
    return "" if used.met else ": too much"


def _surface(case: DeckCase) -> str:
    return "ground snow" if case.snow else "live"
