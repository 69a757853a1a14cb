"""Commands of the site app: serve it, prove its record, copy it, put it back."""

from __future__ import annotations

import os
import sys
from pathlib import Path

from sillwright.cli.job_files import naming
from sillwright.cli.say import Words, printable, say
from sillwright.errors import StoreError
from sillwright.job import load_text, read_job
from sillwright.store import Database, Report, backup, broken_words, is_url, restore, shown, verify
from sillwright.store.backup import must_be
from sillwright.wording import say as word


def serve_site(db: str, *, host: str, port: int, trust: bool, job: Path | None) -> None:
    """Serve until stopped."""
    from sillwright.web.serving import Options, serve  # noqa: PLC0415  takes long to load

    text = None if job is None else load_text(job)
    if job is not None and text is not None:
        with naming(job):
            read_job(text)
    serve(Options(db=_address(db), host=host, port=port, trust=trust, job=text), _show)
    say([Words(word("serve.stopped"))])


def _address(db: str) -> str | Path:
    if is_url(db):
        return db
    if not db or "\0" in db or os.path.isdir(db):  # a path of its own fails on names no system takes
        raise StoreError(word("store.folder", db=db))
    return Path(db)


def _show(lines: list[str]) -> None:
    """Show lines as they stand: a QR code must not be wrapped."""
    coloured = sys.stdout.isatty()
    for line in lines:
        shown_line = line if coloured else printable(line)
        sys.stdout.write(f"{shown_line}\n")
    sys.stdout.flush()


def verify_record(db: str) -> None:
    """Prove a record whole, or name the first broken link of each job.

    Raises:  StoreError: it is broken
    """
    must_be(_address(db))
    database = Database(_address(db))
    try:
        report = verify(database)
    finally:
        database.close()
    broken = [link for job in report.jobs for link in job.broken]
    if broken:
        raise StoreError("\n".join(broken_words(link, db) for link in broken))
    say([*_whole(report), Words(word("verify.all_whole" if report.jobs else "verify.nothing", db=shown(db)))])


def _whole(report: Report) -> list[Words]:
    return [
        Words(word("verify.whole", title=job.title, seq=job.seq, photos=job.photos, head=job.head))
        for job in report.jobs
    ]


def back_up(db: str, file: Path) -> None:
    """Copy a record to a new file."""
    report = backup(_address(db), file)
    say([*_whole(report), Words(word("backup_done.written", file=file, count=len(report.jobs)))])


def put_back(file: Path, db: str) -> None:
    """Put a copy back as a new record."""
    report = restore(file, _address(db))
    say([*_whole(report), Words(word("backup_done.restored", db=shown(db), count=len(report.jobs)))])
