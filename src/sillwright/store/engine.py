"""The way into a database: one file of SQLite, or a PostgreSQL server by its address."""

from __future__ import annotations

import sqlite3
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

from sqlalchemy import Connection, Engine, create_engine, event, inspect, text
from sqlalchemy.exc import ArgumentError, DBAPIError, NoSuchModuleError
from sqlalchemy.pool import ConnectionPoolEntry

from sillwright.errors import BadInput, StoreError
from sillwright.store.schema import VERSION
from sillwright.wording import fault, say

Address = Path | str
"""A file, or `postgresql://user@host/name`."""


def is_url(address: Address) -> bool:
    """Is this the address of a server, and not a file?"""
    return "://" in str(address)


def shown(address: Address) -> str:
    """Return an address for people: no password in it."""
    if not is_url(address):
        return str(address)
    scheme, _, rest = str(address).partition("://")
    return f"{scheme}://{rest.rpartition('@')[2]}"


class Database:
    """One database. Reading may go on in many threads at once; writes take turns."""

    def __init__(self, address: Address) -> None:
        self.address = address
        self.engine = open_engine(address)
        self._writer = self.engine.execution_options(writes=True)
        self._turn = threading.RLock()

    def close(self) -> None:
        """Let go of it."""
        self.engine.dispose()

    @contextmanager
    def reading(self) -> Iterator[Connection]:
        """Give a connection to read with, all from one moment.

        Raises:  StoreError: the database complains
        """
        with told(self.address), self.engine.begin() as connection:
            yield connection

    @contextmanager
    def writing(self) -> Iterator[Connection]:
        """Give a connection to write with; all of it is kept, or nothing.

        Raises:  StoreError: the database complains
        """
        with self._turn, told(self.address), self._writer.begin() as connection:
            yield connection


def open_engine(address: Address) -> Engine:
    """Return a database ready for use, its tables made or brought up to date.

    Raises:
        BadInput:   no such kind of database; its driver is not installed
        StoreError: it cannot be reached, is damaged, or was written by a newer version
    """
    engine = _engine(address)
    try:
        with told(address):
            _up_to_date(engine, address)
    except BaseException:
        engine.dispose()
        raise
    return engine


def _engine(address: Address) -> Engine:
    if not is_url(address):
        try:
            Path(address).parent.mkdir(parents=True, exist_ok=True)
        except (OSError, ValueError):  # no room, no rights, a file in its place, a sign no system takes
            raise StoreError(say("store.cannot_open", db=shown(address))) from None
        engine = create_engine(f"sqlite:///{Path(address)}")
        event.listen(engine, "connect", _settle)
        event.listen(engine, "begin", _begin)
        return engine
    url = str(address)
    if url.split("://", maxsplit=1)[0] not in ("postgresql", "postgres"):
        raise BadInput(fault("store.unknown_kind", shown(address)))
    try:
        return create_engine("postgresql+psycopg://" + url.split("://", maxsplit=1)[1], pool_pre_ping=True)
    except ModuleNotFoundError:
        raise BadInput(fault("store.no_driver", shown(address))) from None
    except (ArgumentError, NoSuchModuleError, ValueError):
        raise BadInput(fault("store.bad_address", shown(address))) from None


def _settle(connection: sqlite3.Connection, _: ConnectionPoolEntry) -> None:
    """Set what every connection to the file needs; FULL: what was acknowledged survives a power cut."""
    connection.isolation_level = None  # transactions are begun by us, see below
    for pragma in ("busy_timeout=10000", "journal_mode=WAL", "synchronous=FULL", "foreign_keys=ON"):
        connection.execute(f"PRAGMA {pragma}").close()


def _begin(connection: Connection) -> None:
    """Take the right to write at once where it will be needed: two writers then queue and never deadlock."""
    writes = connection.get_execution_options().get("writes", False)
    connection.exec_driver_sql("BEGIN IMMEDIATE" if writes else "BEGIN")


def _up_to_date(engine: Engine, address: Address) -> None:
    with engine.execution_options(writes=True).begin() as connection:
        if engine.dialect.name == "sqlite":
            found = connection.exec_driver_sql("PRAGMA quick_check(1)").scalar()
            if found != "ok":
                raise StoreError(say("store.damaged", db=shown(address), reason=_line(found)))
        else:  # two servers that start at once take turns
            connection.execute(text("SELECT pg_advisory_xact_lock(7283642)"))
        version = _version(connection)
        if version == VERSION:
            return
        if version is not None and version > VERSION:
            raise StoreError(say("store.newer", db=shown(address), version=version))
        if version is None and inspect(connection).get_table_names():
            raise StoreError(say("store.foreign", db=shown(address)))
        _migrate(connection)


def _version(connection: Connection) -> str | None:
    if not inspect(connection).has_table("alembic_version"):
        return None
    found: str | None = connection.execute(text("SELECT version_num FROM alembic_version")).scalar()
    return found


def _migrate(connection: Connection) -> None:
    from alembic import command  # noqa: PLC0415  takes long to load, and is needed once in a database's life
    from alembic.config import Config  # noqa: PLC0415

    config = Config()
    config.set_main_option("script_location", str(Path(__file__).parent / "migrations"))
    config.attributes["connection"] = connection
    command.upgrade(config, "head")


@contextmanager
def told(address: Address) -> Iterator[None]:
    """Turn what a database complains of into words for people.

    Raises:  StoreError: with what to do
    """
    try:
        yield
    except DBAPIError as error:
        raise StoreError(_reason(address, error.orig)) from error
    except sqlite3.DatabaseError as error:
        raise StoreError(_reason(address, error)) from error


def _reason(address: Address, error: Any) -> str:
    said = _line(str(error).strip().split("\n", maxsplit=1)[0])
    names = {
        "malformed": "store.damaged",
        "not a database": "store.no_database",
        "disk I/O": "store.damaged",
        "is locked": "store.locked",
        "full": "store.full",
        "readonly": "store.read_only",
        "read-only": "store.read_only",
        "unable to open": "store.cannot_open",
        "never changed": "store.append_only",
    }
    name = next((name for words, name in names.items() if words in said), None)
    if name is None:
        name = "store.server" if is_url(address) else "store.other"
    return say(name, db=shown(address), reason=said)


def _line(text: object) -> str:
    return " ".join(str(text).split())
