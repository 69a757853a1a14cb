"""Tables of the store. Only `event` is the record; `job` and `snapshot` could be made from it again.

Times are text in ISO 8601, UTC: they are part of what is hashed, so they stay as they were written. For the
same reason payloads are canonical JSON text and not a column type that a database writes in its own way.
"""

from __future__ import annotations

from sqlalchemy import (
    Boolean,
    Column,
    ForeignKey,
    Integer,
    LargeBinary,
    MetaData,
    String,
    Table,
    Text,
    UniqueConstraint,
)

VERSION = "0001"
"""Newest migration; a test holds it against the folder of migrations."""

metadata = MetaData()

job = Table(
    "job",
    metadata,
    Column("id", String(32), primary_key=True),
    Column("title", Text, nullable=False),
    Column("units", String(2), nullable=False),
    Column("invented", Boolean, nullable=False),
    Column("changed_at", Text, nullable=False),
    Column("seq", Integer, nullable=False),
    Column("head", String(64), nullable=False),
)

event = Table(
    "event",
    metadata,
    Column("id", String(32), primary_key=True),
    Column("job", String(32), ForeignKey("job.id"), nullable=False),
    Column("seq", Integer, nullable=False),
    Column("kind", String(40), nullable=False),
    Column("made_at", Text, nullable=False),
    Column("received_at", Text, nullable=False),
    Column("device", String(32), nullable=False),
    Column("payload", Text, nullable=False),
    Column("noted", Text, nullable=False),
    Column("prev_hash", String(64), nullable=False),
    Column("hash", String(64), nullable=False),
    UniqueConstraint("job", "seq", name="event_job_seq"),
)

photo = Table(
    "photo",
    metadata,
    Column("id", String(32), primary_key=True),
    Column("job", String(32), ForeignKey("job.id"), nullable=False),
    Column("sha256", String(64), nullable=False),
    Column("sent_sha256", String(64), nullable=False),
    Column("width", Integer, nullable=False),
    Column("height", Integer, nullable=False),
    Column("stored_at", Text, nullable=False),
    Column("data", LargeBinary, nullable=False),
    Column("small", LargeBinary, nullable=False),
)

device = Table(
    "device",
    metadata,
    Column("id", String(32), primary_key=True),
    Column("name", Text, nullable=False),
    Column("token_sha256", String(64), nullable=False, unique=True),
    Column("paired_at", Text, nullable=False),
    Column("seen_at", Text, nullable=False),
    Column("revoked_at", Text),
)

snapshot = Table(
    "snapshot",
    metadata,
    Column("job", String(32), ForeignKey("job.id"), primary_key=True),
    Column("seq", Integer, nullable=False),
    Column("state", Text, nullable=False),
)

IN_ORDER = (job, event, photo, device)
"""What a backup copies, in an order that keeps every reference whole; snapshots are made anew."""
