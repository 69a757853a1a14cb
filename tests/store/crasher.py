"""A process that appends and says what was acknowledged, made to be killed.

`python -m tests.store.crasher DB JOB`

It stays alive itself and forks a child for every line it is sent, so that a kill costs no imports.
"""

from __future__ import annotations

import os
import sys
from pathlib import Path

from tests.store.jobs import PHONE, event

from sillwright.store import Store


def append(db: Path, job: str) -> None:
    """Append until killed; write each id to standard output once it was acknowledged."""
    store = Store(db)
    n = 0
    while True:
        events = [event("note.add", place="", text=f"note {n} {k}") for k in range(1 + n % 3)]
        outcome = store.append(job, events, device=PHONE)
        said = "".join(f"{each.seq} {each.id}\n" for each in outcome.taken)
        os.write(1, said.encode())
        n += 1


def main(db: Path, job: str) -> None:
    """Fork an appending child for each line on standard input; say its process id."""
    for _ in sys.stdin:
        child = os.fork()
        if child == 0:
            os.write(1, f"child {os.getpid()}\n".encode())
            append(db, job)
        os.waitpid(child, 0)
        os.write(1, b"gone\n")


if __name__ == "__main__":
    main(Path(sys.argv[1]), sys.argv[2])
