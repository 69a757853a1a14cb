"""Photos in the store: kept whole in the database, so that one file holds a job."""

from __future__ import annotations

from dataclasses import dataclass

from sqlalchemy import insert, select

from sillwright.errors import BadInput
from sillwright.store import schema
from sillwright.store.engine import Database
from sillwright.store.naming import now
from sillwright.wording import fault


@dataclass(frozen=True, slots=True, kw_only=True)
class Photo:
    """A photo as it is kept."""

    id: str
    job: str
    sha256: str
    sent_sha256: str
    """Of the file as it was sent, to know it when it is sent again."""
    width: int
    height: int
    data: bytes
    small: bytes


class Photos:
    """The photos of all jobs."""

    def __init__(self, database: Database) -> None:
        self._database = database

    def put(self, photo: Photo) -> bool:
        """Keep a photo; False if it was there already.

        Raises:  KeyError: no such job; BadInput: another photo of that name is there
        """
        with self._database.writing() as connection:
            jobs = select(schema.job.c.id).where(schema.job.c.id == photo.job)
            if connection.execute(jobs).first() is None:
                raise KeyError(photo.job)
            query = select(schema.photo.c.job, schema.photo.c.sent_sha256)
            there = connection.execute(query.where(schema.photo.c.id == photo.id)).first()
            if there is not None:
                if (there.job, there.sent_sha256) != (photo.job, photo.sent_sha256):
                    raise BadInput(fault("photo.other_of_that_id", photo.id))
                return False
            values = {name: getattr(photo, name) for name in Photo.__slots__}
            connection.execute(insert(schema.photo).values(**values, stored_at=now()))
            return True

    def get(self, job: str, ident: str) -> Photo:
        """Return a photo of a job.

        Raises:  KeyError: there is none of that name
        """
        columns = [schema.photo.c[name] for name in Photo.__slots__]
        query = select(*columns).where(schema.photo.c.id == ident, schema.photo.c.job == job)
        with self._database.reading() as connection:
            row = connection.execute(query).mappings().first()
        if row is None:
            raise KeyError(ident)
        return Photo(**dict(row))
