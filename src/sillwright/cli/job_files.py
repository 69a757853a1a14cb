"""Commands on the job file itself: start one, check it, add readings; and the blank form."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import replace
from pathlib import Path
from typing import Literal

from sillwright.cli.folder import replace_file, write_new_file
from sillwright.cli.say import Words, say
from sillwright.errors import BadInput, Fault
from sillwright.job import Document, Job, load_text, merge_csv, read_document, readings_from_csv, starter
from sillwright.lengths import Unit

Paper = Literal["letter", "a4"]


class FileFaults(BadInput):
    """Faults of one file, under its name."""

    def __init__(self, path: Path, error: BadInput) -> None:
        super().__init__(*error.faults)
        count = len(error.faults)
        head = f"{path}: one fault." if count == 1 else f"{path}: {count} faults."
        self._text = "\n".join([head, *(f"  {fault}" for fault in error.faults)])

    def __str__(self) -> str:
        """Name the file once, then each fault in a line of its own."""
        return self._text


@contextmanager
def naming(path: Path, document: Document | None = None) -> Iterator[None]:
    """Put the name of the file over faults found in it, and the line of each that has none."""
    try:
        yield
    except FileFaults:
        raise
    except BadInput as error:
        lined = error if document is None else BadInput(*(_lined(fault, document) for fault in error.faults))
        raise FileFaults(path, lined) from None


def _lined(fault: Fault, document: Document) -> Fault:
    """Return a fault with the line of its key in the file, if its place is one."""
    if fault.line is not None:
        return fault
    try:
        return replace(fault, line=document.line_of(fault.where))
    except ValueError:
        return fault


def read(path: Path) -> Document:
    """Return the job in a file.

    Raises:  BadInput: with every fault found, under the file's name
    """
    text = load_text(path)
    with naming(path):
        return read_document(text)


def start(path: Path, *, units: Unit) -> None:
    """Write a commented first job file."""
    write_new_file(path, starter(units).encode())
    say([Words(f"{path} is there. Write your wall over it, then: sillwright check {path}")])


def check_job(path: Path) -> None:
    """Say that a job file and the local amendments it names are sound, and what is in it."""
    from sillwright.cli.amendments import book_of  # noqa: PLC0415  checks take long to load
    from sillwright.plan import check_plannable  # noqa: PLC0415

    document = read(path)
    with naming(path, document):
        book = book_of(path, document)
        if document.job.opening:
            check_plannable(document.job, book)
    local = "".join(f" Sound as well, the {each}." for each in book.amendments)
    say([Words(f"{path}: nothing wrong. {_contents(document.job)}{local}")])


def _contents(job: Job) -> str:
    counts = {
        "opening": len(job.opening),
        "unit": len(job.unit),
        "set-up": len(job.setup),
        "shot": sum(len(setup.series) for setup in job.setup),
        "set-up shot again": len(job.reshoot),
    }
    said = [f"{count} {name}{'' if count == 1 else 's'}" for name, count in counts.items() if count]
    return (
        ", ".join(said).replace("set-up shot agains", "set-ups shot again") + "." if said else "It is empty."
    )


def add_readings(path: Path, csv_path: Path, *, out: Path | None) -> None:
    """Add the readings of a CSV file to a job file, in place or as a new file."""
    text = load_text(path)
    csv_text = load_text(csv_path)
    with naming(path):
        document = read_document(text)
    with naming(csv_path):
        count = len(readings_from_csv(csv_text, unit=document.job.units))
        merged = merge_csv(text, csv_text).encode()
    if out is None:
        replace_file(path, merged)
    else:
        write_new_file(out, merged)
    what = "1 reading" if count == 1 else f"{count} readings"
    say([Words(f"{what} added to {out or path}. Check it: sillwright check {out or path}")])


def reading_form(path: Path | None, *, out: Path, units: Unit | None, paper: Paper | None) -> None:
    """Write a blank reading form as PDF, for a job's openings if there is a job."""
    job = None if path is None else read(path).job
    from sillwright.packet import reading_form_pdf  # noqa: PLC0415  pages take long to load

    write_new_file(out, reading_form_pdf(job, units=units, paper=paper))
    say([Words(f"{out} is there. Print it at its full size, not scaled to fit.")])
