"""What units, ledger, framing and sheathing are made of, as far as a job says it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from sillwright.flashing.on_hand import OnHand
from sillwright.job import Job
from sillwright.materials import Product
from sillwright.water import LEDGER, WALL, Dressing, Kind, Sheet, Stock

TREATED, PLAIN, FRAMING = "copper-treated wood", "wood", "wood"
_WOOD = ("sill", "left", "right", "head", "dam")
"""Faces of an opening that are bare framing."""


def with_bodies(job: Job, dressing: Dressing) -> Dressing:
    """Return a dressed wall whose units and ledger are of what the job says."""
    families = {unit.opening: unit.frame_family for unit in job.unit}

    def of(sheet: Sheet) -> Sheet:
        family = families.get(sheet.opening or "") if sheet.kind is Kind.UNIT else None
        if sheet.kind is Kind.MOUNT:
            family = _ledger(job)
        return replace(sheet, stock=Stock(name=sheet.words, family=family)) if family is not None else sheet

    return replace(dressing, sheets=tuple(of(sheet) for sheet in dressing.sheets))


def _ledger(job: Job) -> str:
    """Return the wood of the ledger: treated, unless the job says that it is not."""
    return PLAIN if job.deck is not None and job.deck.treated is False else TREATED


def known_products(
    job: Job, stock: OnHand
) -> tuple[Mapping[str, Product], frozenset[str], Mapping[str, Product]]:
    """Return the products that the job speaks of, which of them are its rolls, and what faces are of."""
    products = {name: each for name, each in stock.products.items() if name in stock.stated}
    for unit in job.unit:
        if unit.frame_family is not None:
            name = f"unit of {unit.opening}"
            products[name] = Product(name=name, family=unit.frame_family)
    ledger = Product(name=LEDGER, family=_ledger(job))
    products[LEDGER] = ledger
    framing = Product(name="framing", family=FRAMING)
    bases = {f"{each.name}.{part}": framing for each in job.opening for part in _WOOD}
    bases |= {f"{LEDGER}.{part}": ledger for part in ("top", "face", "under", "left", "right")}
    if job.water.sheathing is not None:
        bases[WALL] = Product(name="sheathing", family=job.water.sheathing)
    return products, stock.stated, bases
