"""The process that does one piece of long work: a task on standard input, steps on standard output.

Run by the server as `python -m sillwright.web.worker`.
"""

from __future__ import annotations

import json
import os
import sys
from collections.abc import Callable, Iterator, Mapping
from dataclasses import asdict
from pathlib import Path
from typing import Any

os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")

from sillwright.errors import BadInput, SillwrightError
from sillwright.packet import packet_pdf, reading_form_pdf, to_pdf
from sillwright.plan import Plan
from sillwright.store import State
from sillwright.store.state import state_of
from sillwright.web.faults import faults_of
from sillwright.web.planning import Planner
from sillwright.web.sheets import Papers, Shown, handover, record
from sillwright.wording import fault, say


def packet(papers: Papers) -> bytes:
    """Return the packet."""
    return packet_pdf(papers.job, papers.plan)


def form(papers: Papers) -> bytes:
    """Return the blank reading form of a job."""
    return reading_form_pdf(papers.job)


MAKE: dict[str, Callable[[Papers], bytes]] = {
    "packet": packet,
    "form": form,
    "handover": lambda papers: to_pdf(handover(papers)),
    "record": lambda papers: to_pdf(record(papers)),
}


def work(task: Mapping[str, Any]) -> Iterator[dict[str, Any]]:
    """Do a task: plan the job, make the pages, write the file; yield each step as it begins.

    Raises:  BadInput: there is no plan to make it from
    """
    yield {"done": 0, "of": 3, "step": say("work_step.plan")}
    state: State = state_of(task["state"])
    planned = Planner().of(state)
    if planned.plan is None and task["kind"] != "form":
        raise BadInput(*(planned.faults or (fault("work_fault.no_plan"),)))
    yield {"done": 1, "of": 3, "step": say("work_step.pages")}
    made = MAKE[task["kind"]](_papers(task, state, planned.plan))
    yield {"done": 2, "of": 3, "step": say("work_step.write")}
    Path(task["file"]).write_bytes(made)
    yield {"done": 3, "of": 3, "step": ""}


def _papers(task: Mapping[str, Any], state: State, plan: Plan | None) -> Papers:
    photos = {
        ident: Shown(file=Path(each["file"]), size=(each["width"], each["height"]))
        for ident, each in task["photos"].items()
    }
    return Papers(job=state.document, made=plan, state=state, names=task["names"], photos=photos)


def main() -> int:
    """Read the task, do it, say each step; return the exit code."""
    task = json.loads(sys.stdin.read())
    try:
        for step in work(task):
            _say(step)
    except SillwrightError as error:
        _say({"faults": [asdict(fault) for fault in faults_of(error)]})
        return 1
    return 0


def _say(data: Mapping[str, Any]) -> None:
    sys.stdout.write(json.dumps(data) + "\n")
    sys.stdout.flush()


if __name__ == "__main__":
    sys.exit(main())
