"""What the pieces of a job are cut from: its own rolls, and what is taken where it names none."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, fields, replace

from sillwright.flashing.assumed import Assumed
from sillwright.flashing.practice import Rolls, Sizes, WrapWhen
from sillwright.flashing.schemes import usual_rolls
from sillwright.job import Roll, Water
from sillwright.lengths import Unit, show
from sillwright.materials import Product
from sillwright.water import Stock

FACE = Stock(name="sheathing face", family="OSB")
"""Stock of the wrap where the sheathing's own face sheds the water."""


@dataclass(frozen=True, slots=True, kw_only=True)
class OnHand:
    """Stock for every use, and what is known of each."""

    rolls: Rolls
    by_name: Mapping[str, Stock]
    """The job's own rolls."""
    products: Mapping[str, Product]
    """By the name of the stock; the job's own and those that were taken."""
    stated: frozenset[str]
    """Names of the job's own."""


def on_hand(water: Water, wrap: WrapWhen) -> OnHand:
    """Return what the pieces are cut from."""
    own = {roll.name: _stock(roll) for roll in water.roll}
    usual = dict(usual_rolls())
    if wrap is WrapWhen.FACE:
        usual["wrap"] = FACE
    by_use: dict[str, Stock] = {use: own[roll.name] for roll in water.roll for use in roll.use}
    products = {each.name: Product(name=each.name, family=each.family) for each in usual.values()}
    products |= {roll.name: roll.product() for roll in water.roll}
    return OnHand(
        rolls=Rolls(**{use: by_use.get(use, stock) for use, stock in usual.items()}),
        by_name=own,
        products=products,
        stated=frozenset(own),
    )


def _stock(roll: Roll) -> Stock:
    return Stock(
        name=roll.name,
        family=roll.family,
        width=roll.width,
        thickness=roll.thickness,
        stretches=roll.stretches,
        self_seals=bool(roll.self_seals),
    )


def taken(stock: OnHand, used: Iterable[str]) -> tuple[Assumed, ...]:
    """Return what is said of the stock that was taken, as far as pieces are cut from it.

    Args:    used: names of the stock of every piece
    """
    names = set(used) - stock.stated
    said = [
        f"{use} {each.family}"
        for use, each in ((each.name, getattr(stock.rolls, each.name)) for each in fields(Rolls))
        if each.name in names
    ]
    if not said:
        return ()
    text = f"rolls: {', '.join(said)}, each as wide as its pieces need, none closing round a fastener"
    return (Assumed(key="water.roll", text=text),)


def fitted(sizes: Sizes, rolls: Rolls, *, thickness: float, units: Unit) -> tuple[Sizes, tuple[Assumed, ...]]:
    """Return how far pieces reach with the rolls there are, and what that cuts short.

    Args:    thickness: of the ledger [in]
    """
    limits = {
        "head_strip": rolls.strip.width,
        "patch": rolls.patch.width and rolls.patch.width / 2,
        "tape": rolls.tape.width and rolls.tape.width / 2,
        "ledger_up": rolls.ledger.width and rolls.ledger.width - thickness - sizes.ledger_down,
    }
    short = {
        name: limit
        for name, limit in limits.items()
        if limit is not None and 0.0 < limit < getattr(sizes, name)
    }
    said = tuple(
        Assumed(
            key=f"water.sizes.{name}",
            text=f"{name.replace('_', ' ')} {show(limit, unit=units, mark=True)}: the roll is no wider",
        )
        for name, limit in short.items()
    )
    return replace(sizes, **short), said
