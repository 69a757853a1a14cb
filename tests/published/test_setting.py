"""What the setting plan takes where a job states nothing, against guides; bounds that clash."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

import numpy as np
import pytest
from tests.published.checks import Check, load
from tests.setting.walls import Hole, job_of

from sillwright.job import Tolerances
from sillwright.plan import plan
from sillwright.setting.conflict import least_change, smallest_clash
from sillwright.setting.demands import Asked


@pytest.mark.parametrize("check", load("setting"), ids=lambda check: check.id)
def test_setting_agrees_with_its_source(check: Check) -> None:
    check.compare(_found(check.given))


def _found(given: Mapping[str, Any]) -> Mapping[str, Any]:
    if "tolerance" in given:
        return {"inches": getattr(Tolerances(), given["tolerance"])}
    if "bounds" in given:
        asked = [
            Asked(name=f"{k}: bound", text="", give="", plus=plus, minus=minus, low=low, high=high)
            for k, (plus, minus, low, high) in enumerate(given["bounds"])
        ]
        gives = least_change(asked, [asked[0]])
        return {"clash": len(smallest_clash(asked)), "least_change": (gives or [0.0])[0]}
    unit = {"kind": given["kind"], "frame_width": given["width"]}
    hole = Hole(name="A", left=10.0, width=given["width"] + 0.5, inner=(-0.25,) * 3, unit=unit)
    gaps = np.diff([pad.x for pad in plan(job_of(hole)).setting.pads])
    # pads are placed on half inches, so a gap may be that much wider or narrower
    return {"spacing_at_most_8": gaps.max() <= 8.5, "spacing_at_least_6": gaps.min() >= 5.5}
