"""`sillwright serve` as a person starts it: a process that tells on its output how to reach it."""

from __future__ import annotations

import re
import signal
import subprocess
import sys
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from pathlib import Path

PROGRAM = "import sys; from sillwright.cli import main; sys.exit(main())"
LINES = {
    "address": re.compile(r"^Open on the phone: (https?://\S+)$"),
    "code": re.compile(r"^Pairing code: (\S+)$"),
    "trust": re.compile(r"^To let a phone trust this laptop, once: open (http://\S+) on it"),
    "sha256": re.compile(r"^Its certificate's SHA-256 print is ([0-9a-f]{64})$"),
}
LAST = "Stop with Ctrl+C."


@dataclass(slots=True)
class Served:
    """A running server and what it told."""

    process: subprocess.Popen[str]
    told: list[str] = field(default_factory=list)

    def __getattr__(self, name: str) -> str:
        found = [match[1] for line in self.told if (match := LINES[name].match(line))]
        assert len(found) == 1, self.told
        return found[0]

    @property
    def port(self) -> int:
        return int(self.address.rpartition(":")[2])

    def stop(self, how: signal.Signals = signal.SIGINT) -> tuple[int, str, str]:
        """Stop it as Ctrl+C does; return its code and what it said after that."""
        self.process.send_signal(how)
        out, err = self.process.communicate(timeout=20)
        return self.process.returncode, out, err


def command(*arguments: str) -> list[str]:
    return [sys.executable, "-c", PROGRAM, *arguments]


@contextmanager
def served(folder: Path, *arguments: str) -> Iterator[Served]:
    """Run `sillwright serve` in a folder until the block ends."""
    pipe = subprocess.PIPE
    line = command("serve", "--port", "0", *arguments)
    with subprocess.Popen(line, stdout=pipe, stderr=pipe, text=True, cwd=folder) as process:  # noqa: S603
        server = Served(process)
        try:
            assert process.stdout is not None
            patience = threading.Timer(60, process.kill)
            patience.start()
            while not server.told or server.told[-1] != LAST:
                said = process.stdout.readline()
                assert said, f"it ended: {process.communicate()[1]}"
                server.told.append(said.rstrip("\n"))
            patience.cancel()
            yield server
        finally:
            process.kill()


def refused(folder: Path, *arguments: str) -> tuple[int, str]:
    """Run a `sillwright serve` that must not start; return its code and what it said of it."""
    line = command("serve", *arguments)
    ran = subprocess.run(line, capture_output=True, text=True, cwd=folder, timeout=60, check=False)  # noqa: S603
    assert "Traceback" not in ran.stderr
    assert "its own fault" not in ran.stderr
    assert ran.returncode
    assert not ran.stdout
    return ran.returncode, ran.stderr
