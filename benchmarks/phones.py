"""Fifty phones that post at once: how long a phone waits, and whether anything is lost.

`python -m benchmarks.phones [SECONDS]` starts a server on loopback in a process of its own, lets 50 clients
post readings, ticks and notes for so long, and counts what the record has. It compares nothing, so it is no
row of `python -m benchmarks`; `make bench` runs it after those.
"""

from __future__ import annotations

import http.client
import json
import random
import resource
import subprocess
import sys
import tempfile
import threading
import time
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from benchmarks.measure import machine
from sillwright.store import Store, new_id, now, verify

PHONES = 50
JOBS = 5
SECONDS = 60.0
PAUSE = (0.5, 1.5)
"""Seconds between two things a phone sends: quicker than anybody reads a tape and types."""
WANTED = 100.0
"""What nineteen answers of twenty should come in [ms]."""
PROGRAM = "import sys; from sillwright.cli import main; sys.exit(main())"
EXAMPLE = Path(__file__).parents[1] / "examples" / "bungalow-slider-and-fixed-lites.toml"


@dataclass(slots=True)
class Phone:
    """One client with what it was told."""

    port: int
    code: str
    job: str
    seed: int
    waits: list[float] = field(default_factory=list)
    acknowledged: set[str] = field(default_factory=set)
    refused: int = 0
    failed: list[str] = field(default_factory=list)

    def run(self, until: float) -> None:
        chance = random.Random(self.seed)  # noqa: S311
        connection = http.client.HTTPConnection("127.0.0.1", self.port, timeout=60)
        try:
            self._work(connection, chance, until)
        except (OSError, http.client.HTTPException, AssertionError) as error:
            self.failed.append(repr(error))
        finally:
            connection.close()

    def _work(self, connection: http.client.HTTPConnection, chance: random.Random, until: float) -> None:
        paired, headers = ask(connection, "/api/pair", {"code": self.code, "name": f"phone {self.seed}"}, {})
        assert "device" in paired, paired
        cookie = {"Cookie": headers["set-cookie"].split(";")[0]}
        time.sleep(chance.uniform(0.0, PAUSE[1]))  # nobody presses at the same moment
        while time.monotonic() < until:
            event = an_event(chance)
            start = time.perf_counter()
            told, _ = ask(connection, f"/api/jobs/{self.job}/events", {"events": [event]}, cookie)
            self.waits.append(time.perf_counter() - start)
            self.acknowledged |= {*told["taken"], *told["had"]}
            self.refused += len(told["refused"])
            time.sleep(chance.uniform(*PAUSE))


def an_event(chance: random.Random) -> dict[str, Any]:
    """Return what a phone may send: a reading more often than not."""
    kind = chance.choices(["reading", "note", "tick"], [3, 1, 1])[0]
    if kind == "reading":
        values = {"opening": "A", "place": chance.choice(["bottom", "middle", "top"])}
        values["value"] = f"{95 + chance.randrange(16)}/16".replace("/16", f" {chance.randrange(1, 16)}/16")
        payload: dict[str, Any] = {"reading_id": new_id(), "table": "width", "values": values}
        return {"id": new_id(), "kind": "reading.add", "made_at": now(), "payload": payload}
    payload = {"place": "", "text": "soft here"} if kind == "note" else {"hold": "lead"}
    return {
        "id": new_id(),
        "kind": "note.add" if kind == "note" else "hold.tick",
        "made_at": now(),
        "payload": payload,
    }


def ask(
    connection: http.client.HTTPConnection, path: str, body: Any, headers: dict[str, str]
) -> tuple[Any, dict[str, str]]:
    """Post JSON; return the answer's JSON and headers."""
    whole = {"Content-Type": "application/json", "X-Sillwright": "1", **headers}
    connection.request("POST", path, json.dumps(body), whole)
    answer = connection.getresponse()
    data = answer.read()
    assert answer.status < 300, f"{answer.status}: {data[:300]!r}"
    return json.loads(data), {name.lower(): value for name, value in answer.getheaders()}


def main(seconds: float) -> int:
    print(machine())
    with tempfile.TemporaryDirectory() as folder:
        db = Path(folder) / "jobs.db"
        store = Store(db)
        jobs = [
            store.create(EXAMPLE.read_text(encoding="utf-8"), device="0" * 32).taken[0].job
            for _ in range(JOBS)
        ]
        store.close()
        serve = ["serve", "--db", str(db), "--host", "127.0.0.1", "--port", "0"]
        command = [sys.executable, "-c", PROGRAM, *serve]
        with subprocess.Popen(command, stdout=subprocess.PIPE, text=True) as server:  # noqa: S603
            try:
                phones = _post(server, jobs, seconds)
            finally:
                server.terminate()
        spent = resource.getrusage(resource.RUSAGE_CHILDREN)
        return _told(db, phones, seconds, cpu=spent.ru_utime + spent.ru_stime)


def _post(server: subprocess.Popen[str], jobs: list[str], seconds: float) -> list[Phone]:
    assert server.stdout is not None
    port, code = 0, ""
    while not code:
        line = server.stdout.readline().strip()
        assert line or server.poll() is None, "the server did not start"
        port = int(line.rpartition(":")[2]) if line.startswith("Open") else port
        code = line.rpartition(" ")[2] if line.startswith("Pairing") else code
    threading.Thread(target=server.stdout.read, daemon=True).start()
    phones = [Phone(port=port, code=code, job=jobs[n % JOBS], seed=n) for n in range(PHONES)]
    until = time.monotonic() + seconds
    threads = [threading.Thread(target=phone.run, args=(until,)) for phone in phones]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    return phones


def _told(db: Path, phones: list[Phone], seconds: float, cpu: float) -> int:
    store = Store(db)
    kept = {event.id for row in store.jobs() for event in store.events(row.id)}
    whole = verify(store.database).whole
    store.close()
    waits = sorted(wait for phone in phones for wait in phone.waits)
    said = {ident for phone in phones for ident in phone.acknowledged}
    failed = [each for phone in phones for each in phone.failed]
    lost = said - kept
    half, most, nearly = (1e3 * waits[int(share * (len(waits) - 1))] for share in (0.5, 0.95, 0.99))
    rate = len(waits) / seconds
    print(f"{PHONES} phones on {JOBS} jobs for {seconds:g} s: {len(waits)} posts, {rate:.0f} a second")
    print(f"  the server works {1e3 * cpu / len(waits):.1f} ms of processor time a post, its start included")
    wanted = f"(wanted: below {WANTED:.0f})"
    print(f"  a phone waits: median {half:.0f} ms, p95 {most:.0f} ms {wanted}, p99 {nearly:.0f} ms")
    print(f"  acknowledged {len(said)}, lost {len(lost)}, refused {sum(phone.refused for phone in phones)}")
    print(f"  record whole: {'yes' if whole else 'NO'}; failed phones: {len(failed)} {failed[:2]}")
    return 1 if lost or failed or not whole else 0


if __name__ == "__main__":
    sys.exit(main(float(sys.argv[1]) if len(sys.argv) > 1 else SECONDS))
