"""Devices that were let in, known by the hash of a token that only they hold."""

from __future__ import annotations

import secrets
from dataclasses import dataclass

from sqlalchemy import insert, select, update

from sillwright.store import schema
from sillwright.store.canonical import digest
from sillwright.store.engine import Database
from sillwright.store.naming import new_id, now

LAPTOP = "0" * 32
"""Who does what the program does by itself, such as a job file taken in at the start."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Device:
    """A phone or browser."""

    id: str
    name: str
    paired_at: str
    seen_at: str
    revoked_at: str | None


_COLUMNS = tuple(schema.device.c[name] for name in Device.__slots__)


class Devices:
    """All devices that were ever let in."""

    def __init__(self, database: Database) -> None:
        self._database = database

    def pair(self, name: str) -> tuple[Device, str]:
        """Let a device in; returns it with its token, which is kept nowhere else."""
        token, at = secrets.token_urlsafe(32), now()
        device = Device(id=new_id(), name=name, paired_at=at, seen_at=at, revoked_at=None)
        values = {key: getattr(device, key) for key in Device.__slots__}
        with self._database.writing() as connection:
            connection.execute(insert(schema.device).values(**values, token_sha256=digest(token)))
        return device, token

    def all(self) -> tuple[Device, ...]:
        """Return every device, the first one first."""
        with self._database.reading() as connection:
            rows = connection.execute(select(*_COLUMNS).order_by(schema.device.c.paired_at)).mappings()
            return tuple(Device(**dict(row)) for row in rows)

    def of(self, token: str) -> Device | None:
        """Return the device that a token belongs to, None if it was never given or was revoked."""
        query = select(*_COLUMNS).where(schema.device.c.token_sha256 == digest(token))
        with self._database.reading() as connection:
            row = connection.execute(query).mappings().first()
        return None if row is None or row["revoked_at"] is not None else Device(**dict(row))

    def seen(self, device: str) -> None:
        """Write down that a device was heard of."""
        query = update(schema.device).where(schema.device.c.id == device)
        with self._database.writing() as connection:
            connection.execute(query.values(seen_at=now()))

    def revoke(self, device: str) -> bool:
        """Shut a device out at once; False if there is none of that name."""
        query = update(schema.device).where(
            schema.device.c.id == device, schema.device.c.revoked_at.is_(None)
        )
        with self._database.writing() as connection:
            there = connection.execute(select(schema.device.c.id).where(schema.device.c.id == device)).first()
            connection.execute(query.values(revoked_at=now()))
        return there is not None
