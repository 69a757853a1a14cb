"""The command on water: schemes, or one wall's pieces in their order, verdicts, weakest ways and laps."""

from __future__ import annotations

import math
from pathlib import Path
from typing import get_args

from sillwright.cli.amendments import book_of
from sillwright.cli.folder import check_place, write_folder
from sillwright.cli.job_files import naming, read
from sillwright.cli.say import Words, say
from sillwright.cli.water_words import piece_words, scheme_words, water_words
from sillwright.errors import BadInput, Fault
from sillwright.flashing import schemes
from sillwright.job import Job
from sillwright.job.problems import nearest
from sillwright.job.water import SchemeName
from sillwright.lengths import parse
from sillwright.plan import Plan, plan
from sillwright.plan_json import plan_to_json

HEADS = ("pressure_psf", "pressure_Pa", "wind_mph", "wind_km_h", "performance_class", "design_pressure_psf")


def list_schemes() -> None:
    """Say every scheme by name: what is done, when it suits, what goes wrong."""
    say(scheme_words(schemes()))


def water_command(
    path: Path | None,
    *,
    scheme: str | None,
    head: str | None,
    psf: float | None,
    sheet: str | None,
    out: Path | None,
) -> None:
    """Say how a wall is dressed and where water can get; write its drawings where a folder is named.

    Raises:  BadInput: no such scheme or piece, a head that is none, or the job has no water plan
    """
    if path is None:
        raise BadInput(Fault("JOB", "it is missing.", "Name a job file, or list the schemes: --schemes."))
    document = read(path)
    job = asked(document.job, scheme=scheme, head=head, psf=psf)
    if out is not None:
        check_place(out)
    with naming(path, document):
        planned = plan(job, book_of(path, document))
    if planned.water is None:
        raise BadInput(_nothing(planned))
    if sheet is not None:
        names = [each.name for each in planned.water.pieces]
        if sheet not in names:
            fault = Fault("--sheet", f"there is no piece '{sheet}'.", nearest(sheet, names))
            raise BadInput(fault)
        say(piece_words(planned.water, sheet, planned.units))
    else:
        say(water_words(planned))
    if out is not None:
        from sillwright.cli.planning import drawn  # noqa: PLC0415  drawings take long to load
        from sillwright.drawing.water_plan import water_drawings  # noqa: PLC0415

        write_folder(
            out, {"plan.json": plan_to_json(planned).encode(), **drawn(water_drawings(job, planned))}
        )
        say([Words(""), Words(f"Drawings: {out / 'drawings'}")])


def asked(job: Job, *, scheme: str | None, head: str | None, psf: float | None) -> Job:
    """Return the job with what was typed in place of what it says.

    Raises:  BadInput: no such scheme, a head or a pressure that is none, or both
    """
    if head is not None and psf is not None:
        raise BadInput(Fault("--head", "both --head and --psf are given.", "Keep one of the two."))
    changes: dict[str, object] = {}
    if scheme is not None:
        known = get_args(SchemeName)
        if scheme not in known:
            raise BadInput(Fault("--scheme", f"there is no scheme '{scheme}'.", nearest(scheme, known)))
        changes["scheme"] = scheme
    if head is not None or psf is not None:
        changes |= dict.fromkeys(("head", *HEADS))
        changes["pressure_psf"] = psf
        changes["head"] = None if head is None else _head(head, job)
        for option, key in (("--head", "head"), ("--psf", "pressure_psf")):
            value = changes[key]
            if isinstance(value, float) and not 0.0 <= value < math.inf:
                raise BadInput(Fault(option, f"{value:g} is no head of water.", "Give 0 or more."))
    return job.model_copy(update={"water": job.water.model_copy(update=changes)}) if changes else job


def _head(text: str, job: Job) -> float:
    try:
        return parse(text, unit=job.units).value
    except BadInput as error:
        raise BadInput(Fault("--head", error.faults[0].what, error.faults[0].advice)) from None


def _nothing(planned: Plan) -> Fault:
    found = [each for each in planned.findings if each.id.startswith("finding.water.none")]
    said = " ".join(f"{each.message} {each.advice}" for each in found)
    return Fault("water", "this job has no water plan.", said or "Its scheme is none, or it has no [[unit]].")
