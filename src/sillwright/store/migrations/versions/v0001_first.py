"""First tables: jobs as events, photos, devices; events can be added and read, never changed."""

from __future__ import annotations

import sqlalchemy as sa
from alembic import op

revision = "0001"
down_revision = None

_SQLITE = """
CREATE TRIGGER event_{word} BEFORE {what} ON event
BEGIN SELECT RAISE(ABORT, 'events are never changed'); END
"""
_POSTGRES_FUNCTION = """
CREATE FUNCTION event_stays() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN RAISE EXCEPTION 'events are never changed'; END $$
"""
_POSTGRES = "CREATE TRIGGER event_{word} BEFORE {what} ON event FOR EACH ROW EXECUTE FUNCTION event_stays()"


def upgrade() -> None:
    """Make the tables."""
    op.create_table(
        "job",
        sa.Column("id", sa.String(32), primary_key=True),
        sa.Column("title", sa.Text, nullable=False),
        sa.Column("units", sa.String(2), nullable=False),
        sa.Column("invented", sa.Boolean, nullable=False),
        sa.Column("changed_at", sa.Text, nullable=False),
        sa.Column("seq", sa.Integer, nullable=False),
        sa.Column("head", sa.String(64), nullable=False),
    )
    op.create_table(
        "event",
        sa.Column("id", sa.String(32), primary_key=True),
        sa.Column("job", sa.String(32), sa.ForeignKey("job.id"), nullable=False),
        sa.Column("seq", sa.Integer, nullable=False),
        sa.Column("kind", sa.String(40), nullable=False),
        sa.Column("made_at", sa.Text, nullable=False),
        sa.Column("received_at", sa.Text, nullable=False),
        sa.Column("device", sa.String(32), nullable=False),
        sa.Column("payload", sa.Text, nullable=False),
        sa.Column("noted", sa.Text, nullable=False),
        sa.Column("prev_hash", sa.String(64), nullable=False),
        sa.Column("hash", sa.String(64), nullable=False),
        sa.UniqueConstraint("job", "seq", name="event_job_seq"),
    )
    op.create_table(
        "photo",
        sa.Column("id", sa.String(32), primary_key=True),
        sa.Column("job", sa.String(32), sa.ForeignKey("job.id"), nullable=False),
        sa.Column("sha256", sa.String(64), nullable=False),
        sa.Column("sent_sha256", sa.String(64), nullable=False),
        sa.Column("width", sa.Integer, nullable=False),
        sa.Column("height", sa.Integer, nullable=False),
        sa.Column("stored_at", sa.Text, nullable=False),
        sa.Column("data", sa.LargeBinary, nullable=False),
        sa.Column("small", sa.LargeBinary, nullable=False),
    )
    op.create_table(
        "device",
        sa.Column("id", sa.String(32), primary_key=True),
        sa.Column("name", sa.Text, nullable=False),
        sa.Column("token_sha256", sa.String(64), nullable=False, unique=True),
        sa.Column("paired_at", sa.Text, nullable=False),
        sa.Column("seen_at", sa.Text, nullable=False),
        sa.Column("revoked_at", sa.Text),
    )
    op.create_table(
        "snapshot",
        sa.Column("job", sa.String(32), sa.ForeignKey("job.id"), primary_key=True),
        sa.Column("seq", sa.Integer, nullable=False),
        sa.Column("state", sa.Text, nullable=False),
    )
    sqlite = op.get_bind().dialect.name == "sqlite"
    if not sqlite:
        op.execute(_POSTGRES_FUNCTION)
    trigger = _SQLITE if sqlite else _POSTGRES
    for word, what in (("kept", "DELETE"), ("fixed", "UPDATE")):
        op.execute(trigger.format(word=word, what=what))
