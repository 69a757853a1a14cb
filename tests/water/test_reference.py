"""The searches against a general graph library on the same graphs: networkx."""

from __future__ import annotations

import math

import networkx as nx
import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from tests.water.scenes import LEDGER, dressed, opening, wall

from sillwright.flashing.practice import UnitSet, WrapWhen
from sillwright.water.bonds import Graph, Labels, bond_graph, cut, least_bond
from sillwright.water.flow import Flow, flow
from sillwright.water.heads import least_heads
from sillwright.water.places import places
from sillwright.water.states import ROOM, WEATHER

Levels = dict[int, float]


@settings(max_examples=60, deadline=None)
@given(st.integers(0, 10_000))
def test_least_heads_are_the_least_of_all_ways(seed: int) -> None:
    """Every entry on its own: the lowest of the highest portals on any way, above the entry."""
    rng = np.random.default_rng(seed)
    count, ways, doors = 12, 20, 4
    one, other = rng.integers(0, count, (2, ways))
    low = rng.integers(0, 40, ways) / 4
    entry, height = rng.integers(0, count, doors), rng.integers(0, 40, doors) / 4
    heads, _ = least_heads(count, (one, other, low), (entry, height))
    for node in range(count):
        least = min(
            (_climb(one, other, low, int(e), node, float(z)) for e, z in zip(entry, height, strict=True)),
            default=math.inf,
        )
        assert heads[node] == least


def _climb(one: np.ndarray, other: np.ndarray, low: np.ndarray, entry: int, node: int, z: float) -> float:
    """Return how far above z the water must stand to get from an entry to a node, by trying every level."""
    if entry == node:
        return 0.0
    for level in sorted({*low.tolist()}):
        graph: nx.Graph[int] = nx.Graph()
        graph.add_nodes_from((entry, node))
        graph.add_edges_from(
            (a, b) for a, b, w in zip(one.tolist(), other.tolist(), low.tolist(), strict=True) if w <= level
        )
        if nx.has_path(graph, entry, node):
            return float(max(level - z, 0.0))
    return math.inf


def _graph(ledger: bool, wrap: WrapWhen, unit: UnitSet, head: float) -> Graph:
    face = wall(opening(lean=0.3, fall=0.2), ledger=LEDGER if ledger else None)
    water = flow(dressed(face, wrap=wrap, unit=unit))
    return bond_graph(water, places(water.states.lattice), cut(water.states, 3.0), head)


@pytest.mark.parametrize(
    ("ledger", "wrap", "unit", "head"),
    [
        (False, WrapWhen.BEFORE, UnitSet.STRIPS_OVER, 0.55),
        (True, WrapWhen.AFTER, UnitSet.STRIPS_UNDER, 1.5),
        (False, WrapWhen.FACE, UnitSet.LINED, 0.2),
        (True, WrapWhen.COURSES, UnitSet.STRIPS_OVER, 0.0),
    ],
)
def test_least_bonds_are_the_shortest_ways_of_a_graph_library(
    ledger: bool, wrap: WrapWhen, unit: UnitSet, head: float
) -> None:
    """For every cap on its own, a shortest-way search from all entries that may stand so high."""
    graph = _graph(ledger, wrap, unit, head)
    found = _inches(least_bond(graph))
    least = np.full(graph.size, math.inf)
    for cap in np.unique(graph.entry_cap):
        for node, inches in _shortest(graph, int(cap)).items():
            least[node] = min(least[node], inches)
    np.testing.assert_allclose(found, least, atol=1e-7)
    wanted = np.flatnonzero(np.isfinite(least) & (np.arange(graph.size) >= graph.first_place))
    np.testing.assert_allclose(_inches(least_bond(graph, wanted))[wanted], least[wanted], atol=1e-7)


def _inches(labels: Labels) -> np.ndarray:
    return np.where(labels.best >= 0, labels.inches[np.maximum(labels.best, 0)], math.inf)


def _shortest(graph: Graph, cap: int) -> Levels:
    library: nx.DiGraph[int] = nx.DiGraph()
    tails = np.repeat(np.arange(graph.size), np.diff(graph.starts))
    open_ = graph.rung <= cap
    for tail, end, inches in zip(
        tails[open_].tolist(), graph.ends[open_].tolist(), graph.inches[open_].tolist(), strict=True
    ):
        known = library.get_edge_data(tail, end)
        if known is None or inches < known["weight"]:
            library.add_edge(tail, end, weight=inches)
    rain = graph.size
    for node, inches, own in zip(
        graph.entry.tolist(), graph.entry_inches.tolist(), graph.entry_cap.tolist(), strict=True
    ):
        known = library.get_edge_data(rain, node)
        if own >= cap and (known is None or inches < known["weight"]):
            library.add_edge(rain, node, weight=inches)
    lengths: Levels = nx.single_source_dijkstra_path_length(library, rain)
    lengths.pop(rain)
    return lengths


@pytest.mark.parametrize("free", [True, False])
def test_what_runs_by_its_weight_is_what_a_graph_library_reaches(free: bool) -> None:
    water = flow(dressed(wall(opening(lean=0.3, fall=0.2), ledger=LEDGER)))
    graph = _downhill(water, free=free)
    wet = nx.descendants(graph, WEATHER) | {WEATHER}
    goals, bonded = water.goals, water.states.bonded
    reached = [
        source in wet and bool(falls) and not (free and source >= 0 and bonded[source])
        for source, falls in zip(goals.source.tolist(), goals.falls.tolist(), strict=True)
    ]
    assert reached == water.falls(free=free).tolist()


def _downhill(water: Flow, *, free: bool) -> nx.DiGraph[int]:
    graph: nx.DiGraph[int] = nx.DiGraph()
    graph.add_node(WEATHER)
    states = water.states
    graph.add_edges_from((WEATHER, int(spot)) for spot in states.spots)
    columns = zip(
        states.portals.one.tolist(),
        states.portals.other.tolist(),
        states.portals.there.tolist(),
        states.portals.back.tolist(),
        states.portals.sealed.tolist(),
        strict=True,
    )
    for one, other, there, back, sealed in columns:
        bond = any(side >= 0 and states.bonded[side] for side in (one, other))
        if sealed or ROOM in (one, other) or (free and bond):
            continue
        if there:
            graph.add_edge(one, other)
        if back:
            graph.add_edge(other, one)
    return graph
