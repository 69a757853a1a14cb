"""Changing weights in place gives the network that building it anew under the same verdicts gives."""

from __future__ import annotations

from pathlib import Path

import pytest

from sillwright.job import load_job
from sillwright.survey.build import build, reweighted
from sillwright.survey.network import Knock, Verdicts

EXAMPLES = sorted((Path(__file__).parents[2] / "examples").glob("*.toml"))


@pytest.mark.parametrize("example", EXAMPLES, ids=lambda path: path.stem)
def test_reweighting_is_building_anew(example: Path) -> None:
    job = load_job(example).job
    first = build(job)
    shot = next(o for o in first.observations if o.kind == "laser")
    width = next(o for o in first.observations if o.kind == "width")
    for verdicts in (
        Verdicts(),
        Verdicts(excluded=frozenset({shot.id})),
        Verdicts(widened={width.id: 1.0, shot.id: shot.own_sd / 2}),
        Verdicts(distrusted=frozenset({0})),
    ):
        changed = reweighted(first, verdicts)
        assert changed is not None
        assert changed.observations == build(job, verdicts).observations


def test_verdicts_that_move_places_or_add_unknowns_need_a_new_network() -> None:
    first = build(load_job(EXAMPLES[0]).job)
    width = next(o for o in first.observations if o.kind == "width")
    assert reweighted(first, Verdicts(excluded=frozenset({width.id}))) is None
    assert reweighted(first, Verdicts(knocks=(Knock(0, 3),))) is None
