"""What a job or a command is judged by: the model code of its edition, with the local amendments named."""

from __future__ import annotations

from pathlib import Path

from sillwright.deck import CHECKS as LEDGER_CHECKS
from sillwright.errors import BadInput, Fault
from sillwright.job import Document
from sillwright.materials import CHECKS as WATER_CHECKS
from sillwright.opening import CHECKS as OPENING_CHECKS
from sillwright.rules import PLACE, RuleBook, read_amendment, rule_book

_KEY = "code.amendments"
CHECKS = (*OPENING_CHECKS, *LEDGER_CHECKS, *WATER_CHECKS)


def book_by(edition: str, amendments: Path | None, *, place: str = PLACE) -> RuleBook:
    """Return the rule book of an edition, with the local amendments of a file laid over it.

    Raises:  BadInput: every fault of the amendments
    """
    book = rule_book(edition, place)
    if amendments is None:
        return book
    return read_amendment(amendments, book, check_ids=[check.id for check in CHECKS])


def book_of(path: Path, document: Document) -> RuleBook:
    """Return the rule book of a job; its local amendments stand beside the job file.

    Args:    path: of the job file
    Raises:  BadInput: the amendments cannot be read or used, with every fault by its place in their file
    """
    code = document.job.code
    if not code.amendments:
        return rule_book(code.edition, code.place)
    file = path.parent / code.amendments
    if not file.is_file():
        advice = "Put the file beside the job file under that name, correct the name, or leave the key out."
        what = f"there is no file of local amendments {file}."
        raise BadInput(Fault(_KEY, what, advice, document.line_of(_KEY)))
    return book_by(code.edition, file, place=code.place)
