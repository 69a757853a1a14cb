"""The order of work: rules that cannot be swapped, flaps, somebody else's order."""

from __future__ import annotations

import random
from dataclasses import replace
from itertools import pairwise

import networkx as nx
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from tests.water.wall_sets import CROOKED, crooked_walls, dressed, opening, wall

from sillwright.errors import BadInput
from sillwright.flashing.practice import UnitSet, WrapWhen
from sillwright.water import Dressing, Join, Kind, Panel, Seam, Sheet, WallFace
from sillwright.water.acts import Act, Do, Force, Must, acts, musts
from sillwright.water.flaps import cut_flap
from sillwright.water.flow import flow
from sillwright.water.order import (
    _add,
    _before,
    _cycle,
    _leads,
    _sorted,
    derive_order,
    judge_order,
    relaid,
)

SCHEMES = [(wrap, unit) for wrap in WrapWhen for unit in UnitSet]


def named(order: tuple[Act, ...]) -> list[str]:
    return [act.name for act in order]


def shuffled(dressing: Dressing, seed: int) -> Dressing:
    """Return the wall with its pieces laid in any order, parts held up last."""
    order = list(range(1, len(dressing.sheets) + 1))
    random.Random(seed).shuffle(order)  # noqa: S311  no secret
    last = len(order) + 1
    return replace(
        dressing,
        sheets=tuple(
            replace(
                sheet,
                laid=at,
                panels=tuple(
                    panel if panel.laid is None else replace(panel, laid=last) for panel in sheet.panels
                ),
            )
            for sheet, at in zip(dressing.sheets, order, strict=True)
        ),
    )


def runs_in(dressing: Dressing) -> bool:
    """Tell whether water reaches wood or the room by its weight alone, across no bond."""
    return bool(flow(dressing).falls(free=True).any())


# --- the derived order


@pytest.mark.parametrize(("wrap", "unit"), SCHEMES)
@pytest.mark.parametrize("ledger", [False, True])
def test_the_derived_order_sheds_whatever_order_one_starts_from(
    wrap: WrapWhen, unit: UnitSet, ledger: bool
) -> None:
    sound = dressed(wall(opening(off=CROOKED), ledger=ledger), wrap=wrap, unit=unit)
    for seed in range(3):
        start = shuffled(sound, seed)
        assert not runs_in(relaid(start, derive_order(start)))


@pytest.mark.parametrize(("wrap", "unit"), SCHEMES)
def test_the_derived_order_keeps_every_rule_but_those_it_tells(wrap: WrapWhen, unit: UnitSet) -> None:
    sound = dressed(wrap=wrap, unit=unit)
    order = derive_order(sound)
    place = {name: number for number, name in enumerate(named(order.acts))}
    broken = [rule for rule in musts(sound) if place[rule.first] > place[rule.then]]
    assert all(rule.force is not Force.WORK for rule in broken)
    unsheltered = {
        (rule.first, rule.then)
        for rule in broken
        if not any(place[name] > max(place[rule.first], place[rule.then]) for name in rule.shelters)
    }
    assert unsheltered == {(rule.first, rule.then) for rule in order.rests_on_bond}


@given(crooked_walls)
@settings(max_examples=8, deadline=None)
def test_an_order_is_found_for_crooked_walls(own: WallFace) -> None:
    order = derive_order(dressed(own))
    assert not order.flaps
    before = named(order.acts).index
    for early, late in (
        ("A.patch.sill.left", "A.unit"),
        ("A.pan", "dry fit A.unit"),
        ("dry fit A.unit", "bed in sealant A.unit"),
        ("bed in sealant A.unit", "A.unit"),
        ("A.unit", "A.strip.head"),
        ("roll A.pan", "A.unit"),
    ):
        assert before(early) < before(late), (early, late)


def test_a_ledger_comes_after_what_lies_behind_it_and_before_what_is_folded_over_it() -> None:
    before = named(derive_order(shuffled(dressed(), 3)).acts).index
    assert before("ledger.backing") < before("ledger") < before("ledger.patch.left") < before("ledger.sheet")
    assert before("ledger") < before("A.pan")
    assert before("ledger.sheet") < before("A.pan")


def test_every_membrane_is_rolled_at_once() -> None:
    order = named(derive_order(dressed()).acts)
    rolled = [name for name in order if name.startswith("roll ")]
    assert len(rolled) >= 8
    for name in rolled:
        assert order.index(name) == order.index(name.removeprefix("roll ")) + 1


# --- against a graph library


def random_rules(seed: int) -> tuple[list[Act], list[Must]]:
    draw = random.Random(seed)  # noqa: S311  no secret
    size = draw.randint(2, 14)
    steps = [Act(do=Do.LAY, sheet=f"s{number}", words="") for number in range(size)]
    pairs = {tuple(draw.sample(range(size), 2)) for _ in range(draw.randint(1, 2 * size))}
    rules = [Must(first=f"s{a}", then=f"s{b}", force=Force.SHED, why="") for a, b in sorted(pairs)]
    return steps, rules


@pytest.mark.parametrize("seed", range(60))
def test_cycles_and_orders_are_those_of_a_graph_library(seed: int) -> None:
    """Reference library: networkx, is_directed_acyclic_graph, has_path, all_topological_sorts."""
    steps, rules = random_rules(seed)
    graph: nx.DiGraph[str] = nx.DiGraph()
    graph.add_nodes_from(act.name for act in steps)
    graph.add_edges_from((rule.first, rule.then) for rule in rules)
    before = _before(steps, rules)
    for one in steps:
        for other in steps:
            assert _leads(before, one.name, other.name) == nx.has_path(graph, one.name, other.name)
    cycle = _cycle(before)
    if nx.is_directed_acyclic_graph(graph):
        assert cycle is None
        found = named(_sorted(steps, before))
        assert sorted(found) == sorted(graph.nodes)
        place = {name: number for number, name in enumerate(found)}
        assert all(place[a] < place[b] for a, b in graph.edges)
        free = list(nx.lexicographical_topological_sort(graph, key=lambda name: int(name[1:])))
        assert found == free
    else:
        assert cycle is not None
        assert all(graph.has_edge(a, b) for a, b in pairwise(cycle))


def test_what_is_rolled_is_rolled_before_anything_comes_after_it() -> None:
    before = {"a": set[str](), "roll a": set[str](), "b": set[str]()}
    _add(before, Must(first="a", then="b", force=Force.WORK, why=""))
    _add(before, Must(first="a", then="roll a", force=Force.WORK, why=""))
    assert before == {"a": set(), "roll a": {"a"}, "b": {"roll a"}}


# --- flaps


def without_flap(*, bedded: bool) -> Dressing:
    """Return a wall whose wrap goes on first, whole above the head, under a unit bedded or not."""
    sound = dressed(wall(opening(), ledger=False))
    sheets = []
    for sheet in sound.sheets:
        if sheet.kind is Kind.TAPE or sheet.name == "A.strip.head":
            continue
        if sheet.kind is Kind.WRAP:
            sheets.append(_whole(sheet))
        elif sheet.kind is Kind.UNIT and not bedded:
            sheets.append(
                replace(sheet, panels=tuple(replace(panel, bonded=False) for panel in sheet.panels))
            )
        else:
            sheets.append(sheet)
    return replace(sound, sheets=tuple(sheets))


def _whole(sheet: Sheet) -> Sheet:
    """Join the flaps of a sheet to what is beside them, and lay them with it."""
    panels = tuple(replace(panel, laid=None) for panel in sheet.panels)
    flaps = [panel for panel in sheet.panels if panel.laid is not None]
    seams = [Seam(flap.name, other.name) for flap in flaps for other in panels if other.facet == flap.facet]
    return replace(sheet, panels=panels, seams=(*sheet.seams, *seams))


def test_a_bedded_fin_over_whole_wrap_rests_on_its_bond() -> None:
    order = derive_order(without_flap(bedded=True))
    assert not order.flaps
    assert ("A.unit", "wrap") in [(rule.first, rule.then) for rule in order.rests_on_bond]


def test_a_fin_that_is_not_bedded_asks_for_a_head_flap() -> None:
    bare = without_flap(bedded=False)
    order = derive_order(bare)
    (flap,) = order.flaps
    assert (flap.sheet, flap.after, flap.facet) == ("wrap", "A.unit", "wall")
    assert flap.u == pytest.approx((40.0, 76.0))
    assert flap.v == pytest.approx((80.0, 83.25))
    said = flap.said()
    assert said.startswith("Cut a flap in the wall wrap on the wall: 40 to 76 along it, 80 to 83 1/4 up")
    assert "after the unit of A" in said
    assert "the upper edge of the unit of A faces up on the wall wrap" in said
    assert order.place("wrap") < order.place("A.unit") < order.place("wrap new flap 1")


def test_the_flap_that_is_asked_for_makes_the_wall_shed() -> None:
    bare = without_flap(bedded=False)
    assert runs_in(bare)
    (flap,) = derive_order(bare).flaps
    after = max(sheet.laid for sheet in bare.sheets) + 1
    cut = replace(
        bare,
        sheets=tuple(
            cut_flap(sheet, flap, after) if sheet.name == flap.sheet else sheet for sheet in bare.sheets
        ),
    )
    order = derive_order(cut)
    assert not order.flaps
    assert not runs_in(relaid(cut, order))


def test_two_metals_that_must_each_go_over_the_other_are_refused_with_both_reasons() -> None:
    sound = dressed(wall(opening(), ledger=False))
    stock = next(sheet.stock for sheet in sound.sheets)

    def metal(name: str, laid: int, low: float, high: float) -> Sheet:
        panels = (
            Panel(name="a", facet="wall", u=(2.0, 6.0), v=(low, low + 8.0), bonded=False),
            Panel(name="b", facet="wall", u=(6.0, 10.0), v=(high, high + 8.0), bonded=False),
        )
        seams = (Seam("a", "b", Join.FOLD),)
        return Sheet(
            name=name,
            words=f"metal {name}",
            kind=Kind.METAL,
            stock=stock,
            panels=panels,
            seams=seams,
            laid=laid,
        )

    one, other = metal("one", 1, 10.0, 14.0), metal("other", 2, 14.0, 10.0)
    crossed = replace(sound, sheets=(one, other))
    with pytest.raises(BadInput, match=r"None of them can be cut.*") as refused:
        derive_order(crossed)
    assert "metal one" in str(refused.value)
    assert "metal other" in str(refused.value)


# --- somebody else's order


def names_of(dressing: Dressing) -> list[str]:
    return [sheet.name for sheet in sorted(dressing.sheets, key=lambda sheet: sheet.laid)]


def test_nothing_is_wrong_with_the_derived_order() -> None:
    sound = dressed()
    names = [act.name for act in derive_order(sound).acts if act.do in (Do.LAY, Do.FOLD_DOWN)]
    assert not [wrong for step in judge_order(sound, names) for wrong in step.wrong]


def test_a_pan_before_the_ledger_sheet_is_found_with_the_edge_that_faces_up() -> None:
    sound = dressed(wrap=WrapWhen.FACE)
    names = names_of(sound)
    names.remove("A.pan")
    names.insert(names.index("ledger.sheet"), "A.pan")
    steps = {step.name: step for step in judge_order(sound, names)}
    (wrong,) = [each for each in steps["ledger.sheet"].wrong if each.early == "A.pan"]
    assert wrong.sentence == (
        "If the pan of A goes on before the ledger sheet: the upper edge of the ledger sheet faces up on the "
        "pan of A, on the wall: only its bond keeps water from running behind the pan of A there."
    )
    assert wrong.rule.edge is not None
    assert [point[2] for point in wrong.rule.edge] == pytest.approx([28.25, 28.25], abs=0.2)


def test_a_pan_before_the_ledger_and_after_the_unit_is_wrong_work() -> None:
    sound = dressed()
    names = names_of(sound)
    names.remove("A.pan")
    early = judge_order(sound, ["A.pan", *names])
    assert any(
        wrong.force is Force.WORK and wrong.early == "A.pan"
        for step in early
        if step.name == "ledger"
        for wrong in step.wrong
    )
    late = judge_order(sound, [*names, "A.pan"])
    assert [wrong.sentence for wrong in late[-1].wrong if wrong.force is Force.WORK] == [
        "If the unit of A goes on before the pan of A: the pan of A lies between the wood and the unit of A: "
        "it cannot go in later."
    ]


def test_names_that_are_unknown_twice_or_left_out_are_all_told() -> None:
    sound = dressed()
    names = names_of(sound)
    with pytest.raises(BadInput) as refused:
        judge_order(sound, [*names[1:], "A.pam", names[2]])
    said = str(refused.value)
    assert "there is no piece 'A.pam'. Did you mean A.pan" in said
    assert f"'{names[2]}' is laid twice" in said
    assert f"'{names[0]}' is left out" in said


@given(st.integers(0, 10**6))
@settings(max_examples=10, deadline=None)
def test_an_order_in_which_water_runs_in_is_never_called_sound(seed: int) -> None:
    mixed = shuffled(SOUND, seed)
    wrong = [each for step in judge_order(mixed, names_of(mixed)) for each in step.wrong]
    try:
        wet = runs_in(mixed)
    except BadInput:
        wet = True
    assert wrong or not wet


SOUND = dressed(wall(opening(), ledger=False))


def test_every_act_is_named_once() -> None:
    names = named(acts(dressed()))
    assert len(names) == len(set(names))
