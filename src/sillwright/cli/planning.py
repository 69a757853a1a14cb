"""Commands that plan: write the folder and say what was found, or explain one number."""

from __future__ import annotations

import re
from collections.abc import Mapping
from pathlib import Path
from shlex import quote
from typing import TYPE_CHECKING

from sillwright.cli.amendments import book_of
from sillwright.cli.folder import check_place, write_folder
from sillwright.cli.job_files import Paper, naming, read
from sillwright.cli.say import Words, say
from sillwright.cli.summary import explained, summary
from sillwright.errors import BadInput, Fault
from sillwright.explain import explain
from sillwright.job import Document, Job
from sillwright.plan import Plan, plan
from sillwright.plan_json import plan_to_json

if TYPE_CHECKING:
    from sillwright.drawing import Scene


def plan_job(path: Path, *, out: Path, paper: Paper | None, packet: bool) -> None:
    """Plan a job, write everything into one folder, say what was found."""
    document = read(path)
    check_place(out)
    planned = _planned(path, document)
    write_folder(out, rendered(document.job, planned, paper=paper, packet=packet))
    say(summary(planned, document))
    say(_where(path, out, packet=packet))


def explain_job(path: Path, ident: str) -> None:
    """Say why a number of a job's plan is what it is."""
    document = read(path)
    planned = _planned(path, document)
    say(explained(explain(document.job, planned, ident), document))


def _planned(path: Path, document: Document) -> Plan:
    with naming(path, document):
        if not document.job.opening:
            advice = "Add an [[opening]] with what was read in it; sillwright new shows one."
            raise BadInput(Fault("job file", "it has no opening, so there is nothing to plan.", advice))
        return plan(document.job, book_of(path, document))


def rendered(job: Job, planned: Plan, *, paper: Paper | None, packet: bool) -> dict[str, bytes]:
    """Return the files of a plan by their names in its folder."""
    from sillwright.drawing import plan_drawings  # noqa: PLC0415  not needed to explain

    files = {"plan.json": plan_to_json(planned).encode(), **drawn(plan_drawings(job, planned))}
    if packet:
        from sillwright.packet import packet_pdf  # noqa: PLC0415  takes long to load

        files["packet.pdf"] = packet_pdf(job, planned, paper=paper)
    return files


def drawn(scenes: Mapping[str, Scene]) -> dict[str, bytes]:
    """Return drawings as files, SVG and DXF, by their names in the folder."""
    from sillwright.drawing import to_dxf, to_svg  # noqa: PLC0415  not needed to explain

    files: dict[str, bytes] = {}
    for name, scene in scenes.items():
        stem = free_name(name, files)
        files[f"{stem}.svg"] = to_svg(scene).encode()
        files[f"{stem}.dxf"] = to_dxf(scene).encode()
    return files


def free_name(name: str, taken: dict[str, bytes]) -> str:
    """Return a drawing's place in the folder; an opening may be called anything, a file may not."""
    plain = re.sub(r"[^A-Za-z0-9_-]+", "-", name).strip("-")[:60] or "drawing"
    stem, n = f"drawings/{plain}", 1
    while f"{stem}.svg".casefold() in {each.casefold() for each in taken}:
        n += 1
        stem = f"drawings/{plain}-{n}"
    return stem


def _where(path: Path, out: Path, *, packet: bool) -> list[Words]:
    what = f"Packet to print: {out / 'packet.pdf'}" if packet else f"Plan: {out / 'plan.json'}"
    return [
        Words(""),
        Words(what, "title"),
        Words(f"Drawings: {out / 'drawings'}"),
        Words(f"Why any of these numbers, by the ids in brackets: sillwright explain {quote(str(path))} ID"),
    ]
