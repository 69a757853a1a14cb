"""From the text of a job file to a checked job, or to all of its faults at once."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Any

from pydantic import ValidationError

from sillwright.errors import BadInput, Fault, UnknownVersion
from sillwright.job.model import VERSION, Job
from sillwright.job.problems import Problem, found, nearest, problems_of
from sillwright.job.references import reference_problems
from sillwright.job.scan import Path, Place, path_of, path_text, scan

WHOLE = "job file"
_AT = re.compile(r" \(at (?:line (\d+), column (\d+)|end of document)\)$")
_TAPE = re.compile(r"=\s*[^\"'#=\[{]*\d\s*(?:\d*/\d+|[\"'])")


@dataclass(frozen=True, slots=True, kw_only=True)
class Document:
    """A job together with the text it was read from."""

    job: Job
    text: str
    lines: Mapping[str, int]
    """Line of every key, array item and table: `opening[0].width.middle` to 57."""

    def line_of(self, path: str) -> int | None:
        """Return the line of a path, or of the nearest table around it that is written in the file."""
        steps = path_of(path)
        for length in range(len(steps), 0, -1):
            line = self.lines.get(path_text(steps[:length]))
            if line is not None:
                return line
        return None


def read_job(text: str) -> Job:
    """Return the job in a job file's text.

    Raises:  BadInput: with every fault found; UnknownVersion: the file is of another version
    """
    raw = parse_toml(text)
    _check_version(raw, text)
    units = raw.get("units", "in")
    context = {"unit": units if units in ("in", "mm") else "in"}
    try:
        job = Job.model_validate(raw, context=context)
        problems = []
    except ValidationError as error:
        problems = problems_of(error, raw)
    if any(problem.path == ("units",) for problem in problems):  # lengths cannot be judged without the unit
        problems = [problem for problem in problems if not problem.is_length]
    problems += reference_problems(raw)
    if problems:
        raise BadInput(*_told(problems, raw, scan(text)))
    return job


def read_document(text: str) -> Document:
    """Return the job with its text, and the line of every key.

    Raises:  BadInput: with every fault found; UnknownVersion: the file is of another version
    """
    job = read_job(text)
    lines = {path_text(path): place.line for path, place in scan(text).items() if path}
    return Document(job=job, text=text, lines=MappingProxyType(lines))


def parse_toml(text: str) -> dict[str, Any]:
    """Return the plain data of a TOML text.

    Raises:  BadInput: not TOML; says the line and the column
    """
    if not text.strip():
        raise BadInput(Fault(WHOLE, "the file is empty.", "Start one with: sillwright new"))
    try:
        return tomllib.loads(text)
    except RecursionError:
        raise BadInput(
            Fault(WHOLE, "lists or tables are nested too deeply.", "A job needs five levels.")
        ) from None
    except ValueError as error:
        raise BadInput(_syntax_fault(text, str(error))) from None


def _syntax_fault(text: str, message: str) -> Fault:
    at = _AT.search(message)
    lines = text.split("\n")
    line = int(at[1]) if at and at[1] else len(text.rstrip().split("\n"))
    place = f"column {at[2]}" if at and at[2] else "end of file"
    what = _AT.sub("", message)
    what = "this cannot be read: " + what[0].lower() + what[1:] + "."
    if _TAPE.search(lines[line - 1]):
        return Fault(place, what, 'Tape notation goes in quotes: "27 3/8".', line)
    if "\u201c" in lines[line - 1] or "\u201d" in lines[line - 1]:
        return Fault(place, what, 'Use straight quotes: "A".', line)
    if what.endswith(("overwrite a value.", "twice.")):
        return Fault(place, what, "The key or table is written twice; keep one.", line)
    return Fault(place, what, 'A line reads key = value; text stands in quotes: kind = "casement".', line)


def _check_version(raw: Mapping[str, Any], text: str) -> None:
    first = f"Write sillwright = {VERSION} as the first line."
    if "sillwright" not in raw:
        close = nearest("sillwright", [key for key in raw if not isinstance(raw[key], dict | list)])
        what = "the key 'sillwright' is missing, so the version of the file is not known."
        also = "" if not close.startswith("Did") else f" {close.replace('Did you mean', 'Was it meant by')}"
        raise UnknownVersion(Fault(WHOLE, what, first + also))
    version = raw["sillwright"]
    if type(version) is int and version == VERSION:
        return
    line = scan(text)[("sillwright",)].line
    if type(version) is int and version > VERSION:
        what = f"the file is of version {found(version)}; this program knows version {VERSION}."
        raise UnknownVersion(Fault("sillwright", what, "Use a newer Sillwright to read it.", line))
    what = f"{found(version)} is no version of a job file."
    raise UnknownVersion(Fault("sillwright", what, first, line))


def _told(problems: list[Problem], raw: Any, places: Mapping[Path, Place]) -> list[Fault]:
    faults = []
    for problem in dict.fromkeys(problems):
        line = places[problem.path].line if problem.path in places and problem.path else None
        faults.append(Fault(_where(problem.path, raw), problem.what, problem.advice, line))
    return sorted(faults, key=lambda fault: fault.line or 0)


def _where(path: Path, raw: Any) -> str:
    """Return a path with the names of the things it leads through: `opening[2] "C".width.middle`."""
    text = ""
    here = raw
    for n, step in enumerate(path):
        part = path_text(path[n : n + 1])
        text += part if isinstance(step, int) or not text else f".{part}"
        here = here[step]
        if isinstance(step, int) and isinstance(here, Mapping):
            name = here.get("name", here.get("opening"))
            text += f' "{name}"' if isinstance(name, str) and name.isprintable() and len(name) < 30 else ""
    return text or WHOLE
