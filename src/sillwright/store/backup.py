"""A copy of the whole record as one file, and the way back; each is verified before it counts."""

from __future__ import annotations

import os
from collections.abc import Iterator
from pathlib import Path
from typing import Any

from sqlalchemy import Table, func, insert, select

from sillwright.errors import BadInput, OutputError, StoreError
from sillwright.store import schema
from sillwright.store.engine import Address, Database, is_url, shown
from sillwright.store.naming import new_id
from sillwright.store.record import Broken
from sillwright.store.verify import Report, verify
from sillwright.wording import fault, say

_AT_ONCE = 50


def backup(address: Address, file: Path) -> Report:
    """Write a copy of a database, as it stands at one moment, to a new file of SQLite.

    The server may be running. Snapshots are left out: they are made anew.

    Raises:
        OutputError: there is such a file already, or it cannot be written
        StoreError:  the database cannot be read, or its record is broken
    """
    must_be(address)
    if os.path.exists(file):
        raise OutputError(say("backup.there", file=file))
    return _copied(address, file)


def restore(file: Path, address: Address) -> Report:
    """Put a backup back as a new database: a new file, or an empty one on a server.

    Raises:
        BadInput:    there is no such backup
        OutputError: there is a database in that place already
        StoreError:  the backup is damaged, or its record is broken
    """
    must_be(file)
    if not is_url(address):
        if os.path.exists(address):
            raise OutputError(say("backup.there", file=address))
        return _copied(file, Path(address))
    source, target = Database(file), Database(address)
    try:
        report = _sound(source)
        _fill(source, target)
        _same(report, verify(target), address)
    finally:
        source.close()
        target.close()
    return report


def must_be(address: Address) -> None:
    """Refuse a file that is not there: it would be made, and be empty.

    Raises:  BadInput: there is no such file
    """
    # not a path's own questions, which fail on names that no system takes
    if not is_url(address) and not os.path.isfile(address):
        raise BadInput(fault("backup.no_file", str(address)))


def _copied(address: Address, file: Path) -> Report:
    """Copy a database to a file beside its place, look at it, then put it there in one step."""
    part = file.with_name(f".{file.name}.{new_id()[:8]}.part")
    source = Database(address)
    try:
        report = _sound(source)
        target = Database(part)
        try:
            _fill(source, target)
            _same(report, verify(target), file)
            with target.engine.connect() as connection:
                connection.exec_driver_sql("PRAGMA wal_checkpoint(TRUNCATE)")
        finally:
            target.close()
        _into_place(part, file)
    finally:
        source.close()
        for each in (part, Path(f"{part}-wal"), Path(f"{part}-shm")):
            each.unlink(missing_ok=True)
    return report


def _into_place(part: Path, file: Path) -> None:
    try:
        with part.open("rb") as written:
            os.fsync(written.fileno())
        part.rename(file)
    except OSError as error:
        raise OutputError(say("backup.cannot_write", file=file, reason=error.strerror)) from None


def _sound(database: Database) -> Report:
    report = verify(database)
    if not report.whole:
        link = next(each for job in report.jobs for each in job.broken)
        raise StoreError(broken_words(link, database.address))
    return report


def broken_words(link: Broken, address: Address) -> str:
    """Return what is wrong with a link of the record, for people."""
    what = say(f"broken.{link.what}", seq=link.seq, event=link.event)
    return say("broken.at", db=shown(address), job=link.job, seq=link.seq, what=what)


def _same(wanted: Report, found: Report, place: Address) -> None:
    if [(job.job, job.seq, job.head) for job in wanted.jobs] != [
        (job.job, job.seq, job.head) for job in found.jobs
    ] or not found.whole:
        raise StoreError(say("backup.differs", db=shown(place)))


def _fill(source: Database, target: Database) -> None:
    """Copy all rows: read in one transaction, written in one."""
    with source.reading() as reader, target.writing() as writer:
        if writer.execute(select(func.count()).select_from(schema.job)).scalar():
            raise OutputError(say("backup.not_empty", db=shown(target.address)))
        for table in schema.IN_ORDER:
            for rows in _in_parts(reader.execute(select(table).order_by(*_order(table))).mappings()):
                writer.execute(insert(table), rows)


def _order(table: Table) -> tuple[Any, ...]:
    return (table.c.job, table.c.seq) if "seq" in table.c and "job" in table.c else (table.c.id,)


def _in_parts(rows: Any) -> Iterator[list[dict[str, Any]]]:
    while part := rows.fetchmany(_AT_ONCE):
        yield [dict(row) for row in part]
