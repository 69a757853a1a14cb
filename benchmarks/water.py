"""Where water gets in a three-opening wall with a ledger, against a graph library on the same graph."""

from __future__ import annotations

import resource
from concurrent.futures import ProcessPoolExecutor
from dataclasses import replace
from multiprocessing import get_context

import networkx as nx
import numpy as np
from tests.water.scenes import LEDGER, act_of, dressed, laid, opening, wall, with_sheet

from benchmarks.measure import Row, seconds
from sillwright.flashing.plan_water import CELL
from sillwright.water import Design, Dressing, judge
from sillwright.water.bonds import Graph, bond_graph, cut, least_bond
from sillwright.water.flow import flow
from sillwright.water.places import places

HEAD = 0.55
RUNS = 5
RATIO_CELL, FINE = 1.0, 0.25
LIMIT_S, EDIT_LIMIT_S, MEMORY_LIMIT_MB = 1.0, 0.2, 500


def water_paths() -> Row:
    """The least bond to every node, for every cap: front by front, and by a library's shortest ways."""
    dressing = three_openings()
    graph = _graph(dressing, RATIO_CELL)
    least_bond(graph)
    ours = tuple(seconds(lambda: least_bond(graph)) for _ in range(RUNS))
    found: list[np.ndarray] = []
    theirs = (seconds(lambda: found.append(_by_library(graph))),)
    labels = least_bond(graph)
    best = np.where(labels.best >= 0, labels.inches[np.maximum(labels.best, 0)], np.inf)
    assert np.allclose(best, found[0]), "answers differ"
    return Row(
        ours=f"least bonds, {graph.size} nodes of {RATIO_CELL} in",
        ours_s=ours,
        theirs="networkx, Dijkstra once for every cap",
        theirs_s=theirs,
        target=50.0,
        notes=tuple(_notes(dressing)),
    )


def three_openings() -> Dressing:
    """Return the wall that is measured."""
    openings = (opening("A", 40.0, lean=0.2), opening("B", 100.0, fall=0.2), opening("C", 160.0, lean=-0.1))
    board = replace(LEDGER, x=(10.0, 230.0))
    return dressed(wall(*openings, ledger=board))


def _graph(dressing: Dressing, cell_in: float) -> Graph:
    water = flow(dressing)
    return bond_graph(water, places(water.states.lattice), cut(water.states, cell_in), HEAD)


def _by_library(graph: Graph) -> np.ndarray:
    """Return the least inches of every node by networkx."""
    tails = np.repeat(np.arange(graph.size), np.diff(graph.starts))
    least = np.full(graph.size, np.inf)
    rain = graph.size
    for cap in np.unique(graph.entry_cap):
        library: nx.DiGraph[int] = nx.DiGraph()
        library.add_node(rain)
        open_, doors = graph.rung <= cap, graph.entry_cap >= cap
        rows = zip(
            [*tails[open_].tolist(), *([rain] * int(doors.sum()))],
            [*graph.ends[open_].tolist(), *graph.entry[doors].tolist()],
            [*graph.inches[open_].tolist(), *graph.entry_inches[doors].tolist()],
            strict=True,
        )
        shortest: dict[tuple[int, int], float] = {}
        for tail, end, inches in rows:
            shortest[tail, end] = min(inches, shortest.get((tail, end), np.inf))
        library.add_weighted_edges_from((a, b, inches) for (a, b), inches in shortest.items())
        for node, inches in nx.single_source_dijkstra_path_length(library, rain).items():
            if node != rain:
                least[node] = min(least[node], inches)
    return least


def _notes(dressing: Dressing) -> list[str]:
    fine = min(
        seconds(lambda: judge(dressing, Design(head_in_water=HEAD, cell_in=FINE))) for _ in range(RUNS)
    )
    edited = with_sheet(dressing, "A.pan", laid(act_of(dressing, "A.pan") + 0.25))
    edit = min(seconds(lambda: judge(edited, Design(head_in_water=HEAD, cell_in=CELL))) for _ in range(RUNS))
    with ProcessPoolExecutor(1, mp_context=get_context("spawn")) as alone:
        peak = alone.submit(most_memory).result()
    return [
        f"all verdicts at {FINE} in cells: {fine * 1e3:.4g} ms at best; limit {LIMIT_S:.0f} s",
        f"all verdicts after an edit of one piece, {CELL} in cells: {edit * 1e3:.4g} ms at best; limit "
        f"{EDIT_LIMIT_S * 1e3:.0f} ms",
        f"most memory of a process that finds all verdicts at {FINE} in cells: {peak:.0f} MB; "
        f"limit {MEMORY_LIMIT_MB} MB",
    ]


def most_memory() -> float:
    """Return the most memory that this process took to find all verdicts at fine cells, MB."""
    judge(three_openings(), Design(head_in_water=HEAD, cell_in=FINE))
    return resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
