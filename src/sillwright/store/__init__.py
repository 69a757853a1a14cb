"""The store: jobs as append-only events, in one file of SQLite or on a PostgreSQL server.

A job is a list of events with ids made by whoever made them; each event holds the hash of the one before, so
the record is whole or shows where it is not. Everything shown is folded from the events: the text of the job
file with its comments, readings with their versions, ticks, holds, notes, photos, signs. From events to a
`State`, and back to a job file without loss. Knows nothing of plans, pages or the network.
"""

from sillwright.store.backup import backup, broken_words, restore
from sillwright.store.devices import LAPTOP, Device
from sillwright.store.engine import Address, Database, is_url, shown
from sillwright.store.kinds import NewEvent
from sillwright.store.naming import new_id, now
from sillwright.store.photos import Photo
from sillwright.store.record import GENESIS, Broken, Event
from sillwright.store.state import Entry, ReadingState, State, Version
from sillwright.store.store import JobRow, Store
from sillwright.store.turns import Outcome
from sillwright.store.verify import JobReport, Report, verify

__all__ = [
    "GENESIS",
    "LAPTOP",
    "Address",
    "Broken",
    "Database",
    "Device",
    "Entry",
    "Event",
    "JobReport",
    "JobRow",
    "NewEvent",
    "Outcome",
    "Photo",
    "ReadingState",
    "Report",
    "State",
    "Store",
    "Version",
    "backup",
    "broken_words",
    "is_url",
    "new_id",
    "now",
    "restore",
    "shown",
    "verify",
]
