"""Will it stick today: surface, air and dew point against the product's sheet, or against its family.

Temperatures differ more between products than between families, so a sheet's own figures come first and
butyl and acrylic tapes without a sheet are asked about. Three degrees Celsius over the dew point is a rule of
coatings on steel, taken by analogy.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

from sillwright.findings import Finding
from sillwright.materials.families import family
from sillwright.materials.limits import SHEET, in_force
from sillwright.materials.product import Product
from sillwright.rules import (
    Case,
    Check,
    FactMissing,
    Limit,
    RuleBook,
    Source,
    Verdict,
    check_stated,
    examine,
    gathered,
    rule_book,
    said,
)

EDITION = "2018"
"""Of the book that is taken without one; these rules are the same in every edition."""
_COLD = {"rubberized asphalt tape": "stick.asphalt", "butyl tape": "stick.butyl_low"}
"""Below this no product of the family that was read goes on."""
_ASK = {"butyl tape": "stick.butyl_high"}
"""Below this it depends on the product; other tapes have one limit in common."""


@dataclass(frozen=True, slots=True, kw_only=True)
class StickFacts:
    """One product on one surface now."""

    name: str | None = said("the product")
    family: str | None = said("the family of the product")
    surface_f: float | None = said("the temperature of the surface", sign="either")
    air_f: float | None = said("the temperature of the air", sign="either")
    dew_point_f: float | None = said("the dew point", sign="either")
    wet: bool | None = said("whether the surface is wet")
    frost: bool | None = said("whether there is frost on it")
    sheet_least_f: float | None = said("the lowest temperature of its sheet", sign="either")
    sheet_most_f: float | None = said("the highest temperature of its sheet", sign="either")
    sheet_said: str | None = said("the product sheet")

    def __post_init__(self) -> None:
        check_stated(self)


def can_stick(
    what: str | Product,
    *,
    surface_f: float | None,
    air_f: float | None,
    dew_point_f: float | None,
    book: RuleBook | None = None,
    place: str = "",
    wet: bool | None = None,
    frost: bool | None = None,
) -> tuple[Finding, ...]:
    """Return what speaks against sticking something on now; a stop or a fix is no go.

    Args:    what: a product, or the name of a family; temperatures: [F]
             wet, frost: as seen on the surface; None: nobody has looked, which is told
    Raises:  BadInput: no such family, or a temperature that is none
    """
    product = what if isinstance(what, Product) else Product(name=what, family=what)
    facts = StickFacts(
        name=product.name,
        family=product.family,
        surface_f=surface_f,
        air_f=air_f,
        dew_point_f=dew_point_f,
        wet=wet,
        frost=frost,
        sheet_least_f=product.least_f,
        sheet_most_f=product.most_f,
        sheet_said=product.said if product.sheet_date else None,
    )
    found = gathered(examine(CHECKS, facts, book or rule_book(EDITION), place=place))
    return tuple(replace(each, id=f"{each.id}.{product.name}") for each in found)


def _kind(case: Case) -> str:
    return family(case.word("family")).kind


def _coldest(case: Case) -> float:
    return min(case.number("surface_f"), case.number("air_f"))


def _hottest(case: Case) -> float:
    return max(case.number("surface_f"), case.number("air_f"))


def _at_least(case: Case, rule: str) -> Verdict:
    return replace(case.at_least(_coldest(case), rule), detail=_for(case))


def _for(case: Case) -> str:
    return f"That is for {case.word('name')}."


def _sheet(case: Case, fact: str) -> Limit | None:
    """Return a figure of the product's own sheet, noted as used."""
    value = case.if_known(fact)
    if value is None:
        return None
    told = case.word("sheet_said")
    limit = Limit(id=fact, value=value, unit="F", section="", from_memory=False, cited=told, basis=SHEET)
    case.used.append(limit)
    return limit


def _dry(case: Case) -> Verdict | None:
    if not in_force(case, "stick.dry"):
        return None
    unfit = case.some(lambda: case.yes("wet"), lambda: case.yes("frost"))
    return Verdict(
        met=not unfit, value="wet" if case.if_known("wet") else "frost", limit="dry, without frost"
    )


def _above_dew(case: Case) -> tuple[float, str]:
    """Return how far the surface is above the dew point [C], and both in words."""
    surface, dew = case.number("surface_f"), case.number("dew_point_f")
    above = round((surface - dew) * 5.0 / 9.0, 6)  # 5.4 F is 3 C, whatever is lost in binary
    return above, f"{surface:g} F, dew point {dew:g} F"


def _dew(case: Case) -> Verdict:
    above, told = _above_dew(case)
    limit = case.limit("stick.dew")
    return Verdict(met=above > limit.value, value=told, limit="above the dew point", detail=_for(case))


def _dew_margin(case: Case) -> Verdict | None:
    above, told = _above_dew(case)
    if above <= case.limit("stick.dew").value:
        return None  # told as a stop
    margin = case.limit("stick.dew_margin").value
    asked = f"at least {margin:g} C ({margin * 9 / 5:.1f} F) above the dew point"
    return Verdict(met=above >= margin, value=told, limit=asked, detail=_for(case))


def _freezing(case: Case, *, latex: bool) -> Verdict | None:
    if _kind(case) != "sealant" or (case.word("family") == "acrylic latex sealant") != latex:
        return None
    return _at_least(case, "stick.freezing")


def _cold(case: Case) -> Verdict | None:
    sheet = _sheet(case, "sheet_least_f")
    if sheet is not None:
        return replace(case.reaches(_coldest(case), sheet), detail=_for(case))
    if _kind(case) == "sealant":
        return replace(case.at_least(case.number("air_f"), "stick.sealant_least"), detail=_for(case))
    rule = _COLD.get(case.word("family"))
    return _at_least(case, rule) if rule else None


def _ask(case: Case) -> Verdict | None:
    """Tell where it depends on the product, and its sheet is not stated."""
    kind, name = _kind(case), case.word("family")
    if case.if_known("sheet_least_f") is not None or kind not in {"tape", "liquid"}:
        return None
    if kind == "liquid":
        raise FactMissing(f"ask the maker: the lowest temperature for {case.word('name')}")
    if name in _COLD and _coldest(case) < case.limit(_COLD[name]).value:
        return None  # told as too cold
    return _at_least(case, _ASK.get(name, "stick.tape"))


def _hot(case: Case) -> Verdict | None:
    sheet = _sheet(case, "sheet_most_f")
    hottest = _hottest(case)
    if sheet is not None:
        met = hottest <= sheet.value
        return Verdict(met=met, value=f"{hottest:g} F", limit=f"at most {sheet.value:g} F", detail=_for(case))
    if _kind(case) != "sealant":
        return None
    return replace(case.at_most(case.number("air_f"), "stick.sealant_most"), detail=_for(case))


_DRY = Check(
    id="stick.dry",
    title="dry surface without frost",
    source=Source(title="", has_editions=False),
    facts=("wet", "frost"),
    limits=("stick.dry",),
    severity="stop",
    message="The surface at {place}: {value}. It must be {limit}.",
    advice="Dry and warm it, then look again; nothing sticks on water or ice.",
    decides="the maker's product sheet",
    mark="surface",
    judge=_dry,
)
_WEATHER = ("name", "family", "surface_f", "air_f")
_DEW = replace(
    _DRY,
    id="stick.dew",
    title="surface above the dew point",
    facts=("name", "surface_f", "dew_point_f"),
    limits=("stick.dew",),
    message="Water settles on the surface at {place}: {value}; it must be {limit}.",
    advice="Wait, or warm the surface, and measure again.",
    judge=_dew,
)
_COLD_CHECK = replace(
    _DRY,
    id="stick.cold",
    title="warm enough to stick",
    facts=(*_WEATHER, "sheet_least_f", "sheet_said"),
    limits=("stick.asphalt", "stick.butyl_low", "stick.sealant_least"),
    severity="fix",
    message="Too cold at {place}: {value}; it must be {limit}.",
    advice="Wait, warm surface and roll, or take a product whose sheet goes lower.",
    judge=_cold,
)

CHECKS = (
    _DRY,
    _DEW,
    replace(
        _DEW,
        id="stick.dew_margin",
        title="margin over the dew point",
        limits=("stick.dew", "stick.dew_margin"),
        severity="watch",
        message="Close to the dew point at {place}: {value}; better {limit}.",
        advice="Feel the surface, and measure again just before.",
        judge=_dew_margin,
    ),
    replace(
        _DRY,
        id="stick.latex_freezing",
        title="water-based sealant above freezing",
        facts=_WEATHER,
        limits=("stick.freezing",),
        message="Water-based sealant at {place} in {value}; it must be {limit}.",
        advice="Wait, or take another sealant.",
        judge=lambda case: _freezing(case, latex=True),
    ),
    replace(
        _COLD_CHECK,
        id="stick.joint_freezing",
        title="joint above freezing",
        facts=_WEATHER,
        limits=("stick.freezing",),
        message="The joint at {place} is below freezing: {value}; it must be {limit}.",
        advice="Warm and dry the joint first.",
        judge=lambda case: _freezing(case, latex=False),
    ),
    _COLD_CHECK,
    replace(
        _COLD_CHECK,
        id="stick.ask",
        title="cold for some products of the family",
        facts=(*_WEATHER, "sheet_least_f"),
        limits=("stick.asphalt", "stick.butyl_low", "stick.butyl_high", "stick.tape"),
        severity="watch",
        message="Ask the maker: the lowest temperature for it. At {place} it is {value}; some need {limit}.",
        advice="Look at the sheet of the product and put its figure into the job.",
        judge=_ask,
    ),
    replace(
        _COLD_CHECK,
        id="stick.hot",
        title="not too hot to stick",
        facts=(*_WEATHER, "sheet_most_f", "sheet_said"),
        limits=("stick.sealant_most",),
        message="Too hot at {place}: {value}; it must be {limit}.",
        advice="Wait for shade or evening.",
        judge=_hot,
    ),
)
