"""Which materials lie on each other in a dressed wall, by what is published on the two families."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from itertools import combinations

from sillwright.findings import Finding
from sillwright.flashing.lay import field
from sillwright.materials import Product, Touch, check_touching
from sillwright.water import Dressing, Panel, Sheet


def touching(
    dressing: Dressing, products: Mapping[str, Product], rolls: frozenset[str], bases: Mapping[str, Product]
) -> tuple[Finding, ...]:
    """Return what is wrong with materials in contact, where one of the two is a roll of the job.

    Args:    products: known ones, by the name of the stock; rolls: names of the job's own; bases: what the
             faces themselves are of, by the face's name, where that is known
    """
    found = [*_pieces(dressing, products), *_on_bases(dressing, products, bases)]
    return check_touching(each for each in found if {each.a.name, each.b.name} & rolls)


Laid = tuple[int, Sheet, Panel]


def _by_face(dressing: Dressing) -> dict[str, list[Laid]]:
    faces: dict[str, list[Laid]] = {}
    for sheet in dressing.sheets:
        for panel in sheet.panels:
            act = sheet.laid if panel.laid is None else panel.laid
            faces.setdefault(panel.facet, []).append((act, sheet, panel))
    return {name: sorted(each, key=lambda laid: laid[0]) for name, each in faces.items()}


def _pieces(dressing: Dressing, products: Mapping[str, Product]) -> Iterator[Touch]:
    for facet, stack in _by_face(dressing).items():
        for (n, low), (m, high) in combinations(enumerate(stack), 2):
            one, other = products.get(low[1].stock.name), products.get(high[1].stock.name)
            if one is None or other is None or low[1] is high[1]:
                continue
            between = [(panel.u, panel.v) for _, _, panel in stack[n + 1 : m]]
            if _seen(_shared(low[2], high[2]), between):
                yield Touch(a=one, b=other, where=dressing.complex.by_name[facet].words)


def _on_bases(
    dressing: Dressing, products: Mapping[str, Product], bases: Mapping[str, Product]
) -> Iterator[Touch]:
    for facet, stack in _by_face(dressing).items():
        base = bases.get(facet)
        for n, (_, sheet, panel) in enumerate(stack):
            product = products.get(sheet.stock.name)
            below = [(each.u, each.v) for _, _, each in stack[:n]]
            if base is not None and product is not None and _seen((panel.u, panel.v), below):
                yield Touch(a=product, b=base, where=dressing.complex.by_name[facet].words)


Rect = tuple[tuple[float, float], tuple[float, float]]


def _shared(one: Panel, other: Panel) -> Rect | None:
    (u0, u1), (v0, v1) = ((max(a[0], b[0]), min(a[1], b[1])) for a, b in ((one.u, other.u), (one.v, other.v)))
    return ((u0, u1), (v0, v1)) if u1 > u0 and v1 > v0 else None


def _seen(rect: Rect | None, covers: list[Rect]) -> bool:
    return rect is not None and bool(field(rect, covers))
