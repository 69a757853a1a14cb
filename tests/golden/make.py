"""Write the golden summaries anew: `python -m tests.golden.make`. Read the difference before committing."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

from sillwright.job import load_job
from sillwright.plan import plan
from sillwright.plan_json import plan_to_json

HERE = Path(__file__).parent
EXAMPLES = sorted((HERE.parent.parent / "examples").glob("*.toml"))


def summary(example: Path) -> dict[str, Any]:
    """Return what a plan comes down to: our own output, pinned against change, looked at, not published."""
    planned = json.loads(plan_to_json(plan(load_job(example).job)))
    found = [{key: finding[key] for key in ("id", "severity", "message")} for finding in planned["findings"]]
    return {"findings": found, **planned["summary"]}


if __name__ == "__main__":
    for example in EXAMPLES:
        text = json.dumps(summary(example), indent=1, ensure_ascii=False)
        (HERE / f"{example.stem}.json").write_text(text + "\n", encoding="utf-8")
