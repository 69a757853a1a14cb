"""A process that appends and says what was acknowledged, made to be killed.

`python -m tests.store.crasher DB JOB` stays alive itself and forks a child for every line it is sent: a kill
then costs neither imports nor the first look at the tables. No connection crosses the fork.
"""

from __future__ import annotations

import os
import sys
from pathlib import Path

from tests.store.jobs import PHONE, event

from sillwright.store import Store


def append(store: Store, job: str) -> None:
    """Append until killed; write each id to standard output once it was acknowledged."""
    n = 0
    while True:
        events = [event("note.add", place="", text=f"note {n} {k}") for k in range(1 + n % 3)]
        outcome = store.append(job, events, device=PHONE)
        said = "".join(f"{each.seq} {each.id}\n" for each in outcome.taken)
        os.write(1, said.encode())
        n += 1


def main(db: Path, job: str) -> None:
    """Fork an appending child for each line on standard input; say its process id, and when it is gone."""
    store = Store(db)
    store.append(job, [event("note.add", place="", text="warm")], device=PHONE)
    store.close()  # the pool is empty now, and fills again where it is used
    for _ in sys.stdin:
        child = os.fork()
        if child == 0:
            os.write(1, f"child {os.getpid()}\n".encode())
            append(store, job)
        os.waitpid(child, 0)
        os.write(1, b"gone\n")


if __name__ == "__main__":
    main(Path(sys.argv[1]), sys.argv[2])
