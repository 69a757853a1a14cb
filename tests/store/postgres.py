"""A PostgreSQL server of Debian's package, started by the tests and stopped after them."""

from __future__ import annotations

import os
import shutil
import socket
import subprocess
import tempfile
from collections.abc import Iterator
from dataclasses import dataclass, field
from itertools import count
from pathlib import Path

import pytest

REQUIRED = "REQUIRE_POSTGRES"
"""Set to 1, a missing server is a failure and not a reason to skip."""


@dataclass(slots=True)
class Server:
    """A running server."""

    bin: Path
    folder: Path
    port: int
    names: count[int] = field(default_factory=count)

    def new_database(self) -> str:
        name = f"test_{next(self.names)}"
        connect = ["-h", "127.0.0.1", "-p", str(self.port), "-U", "postgres"]
        _run([str(self.bin / "createdb"), *connect, name], self.folder)
        return f"postgresql://postgres@127.0.0.1:{self.port}/{name}"

    def control(self, *arguments: str) -> None:
        _run([str(self.bin / "pg_ctl"), "-D", str(self.folder / "data"), "-w", *arguments], self.folder)

    def start(self) -> None:
        options = f"-p {self.port} -c listen_addresses=127.0.0.1 -c unix_socket_directories={self.folder} "
        self.control("-l", str(self.folder / "log"), "-o", f"{options} -c fsync=off", "start")

    def stop(self) -> None:
        self.control("-m", "immediate", "stop")


def find_server() -> Iterator[Server]:
    """Start a server; skip, with the reason, where there is none to start."""
    found = sorted(Path("/usr/lib/postgresql").glob("*/bin/initdb"))
    initdb = found[-1] if found else shutil.which("initdb")
    if initdb is None:
        reason = "no PostgreSQL server is installed (Debian package postgresql)"
        if os.environ.get(REQUIRED) == "1":
            pytest.fail(f"{reason}, and {REQUIRED}=1 asks for it")
        pytest.skip(reason)
    with tempfile.TemporaryDirectory(prefix="postgres-") as made:
        folder = Path(made)
        if os.geteuid() == 0:  # the server refuses to run as root
            shutil.chown(folder, "postgres")
        server = Server(bin=Path(initdb).parent, folder=folder, port=_free_port())
        data = ["-D", str(folder / "data"), "-A", "trust", "-U", "postgres", "--no-sync", "-E", "UTF8"]
        _run([str(initdb), *data], folder)
        server.start()
        yield server
        server.stop()


def _run(command: list[str], folder: Path) -> None:
    user = "postgres" if os.geteuid() == 0 else None
    subprocess.run(command, check=True, cwd=folder, stdout=subprocess.DEVNULL, user=user)  # noqa: S603


def _free_port() -> int:
    with socket.socket() as asked:
        asked.bind(("127.0.0.1", 0))
        port: int = asked.getsockname()[1]
        return port
