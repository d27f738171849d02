"""A PostgreSQL server that belongs to one run of the tests: made in a temporary folder, gone with it."""

from __future__ import annotations

import glob
import os
import shutil
import socket
import subprocess
import sys
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import psycopg
import pytest

__all__ = ["Server", "started"]

_SETTINGS = {
    "listen_addresses": "127.0.0.1",
    "max_connections": "60",
    "shared_buffers": "128MB",
    "unix_socket_directories": "",
    "logging_collector": "off",
}
_USER = "studio"


class Server:
    """A server that runs.

    Attributes:
        port: Where it listens, on this machine alone.
        data: Its folder.
    """

    def __init__(self, programs: Path, data: Path, port: int) -> None:
        self.programs, self.data, self.port = programs, data, port
        self._made = 0

    def address(self, database: str, user: str = _USER) -> str:
        return f"postgresql://{user}@127.0.0.1:{self.port}/{database}"

    def new_database(self) -> str:
        self._made += 1
        name = f"archive_{os.getpid()}_{self._made}"
        self.run(f"CREATE DATABASE {name} TEMPLATE template0 ENCODING 'UTF8'")
        return name

    def drop(self, name: str) -> None:
        self.run(f"DROP DATABASE IF EXISTS {name} WITH (FORCE)")

    def run(self, statement: str, database: str = "postgres") -> None:
        with psycopg.connect(self.address(database), autocommit=True) as connection:
            connection.execute(statement)  # type: ignore[call-overload]

    def start(self) -> None:
        self._control("start", "-w", "-l", str(self.data / "log"))

    def stop(self, mode: str = "fast") -> None:
        """Stop it: `fast` lets nobody finish, `immediate` is as if the power were cut."""
        self._control("stop", "-w", "-m", mode)

    def _control(self, *words: str) -> None:
        command = [*_as_whom(), str(self.programs / "pg_ctl"), "-D", str(self.data), *words]
        done = subprocess.run(command, capture_output=True, text=True, cwd="/", timeout=120)
        assert done.returncode == 0, (done.stdout, done.stderr)


@contextmanager
def started() -> Iterator[Server]:
    """Start a server. Where the machine has no PostgreSQL the test skips and says so; in CI that is a failure."""
    programs = _programs()
    if programs is None or sys.platform == "win32":
        if os.environ.get("CI"):
            pytest.fail("PostgreSQL is not installed, and CI needs it")
        pytest.skip("PostgreSQL's server is not on this machine (Debian: apt-get install postgresql)")
    home = Path(tempfile.mkdtemp(prefix="enfilade-postgres-"))
    try:
        if _as_whom():
            os.chmod(home, 0o755)
            shutil.chown(home, "postgres", "postgres")
        data = home / "data"
        making = [*_as_whom(), str(programs / "initdb"), "-D", str(data), "-U", _USER, "-A", "trust", "-E", "UTF8",
                  "--locale=C.UTF-8", "--no-sync"]  # fmt: skip
        done = subprocess.run(making, capture_output=True, text=True, cwd="/", timeout=120)
        assert done.returncode == 0, (done.stdout, done.stderr)
        server = Server(programs, data, _free_port())
        lines = "".join(f"{name} = '{value}'\n" for name, value in {**_SETTINGS, "port": str(server.port)}.items())
        with open(data / "postgresql.conf", "a", encoding="utf-8") as settings:
            settings.write(lines)
        server.start()
        try:
            yield server
        finally:
            server.stop("immediate")
    finally:
        shutil.rmtree(home, ignore_errors=True)


def _programs() -> Path | None:
    """Return the folder of PostgreSQL's programs: Debian keeps them off the path."""
    found = [Path(path).parent for path in sorted(glob.glob("/usr/lib/postgresql/*/bin/initdb"), reverse=True)]
    on_path = shutil.which("initdb")
    return found[0] if found else Path(on_path).resolve().parent if on_path else None


def _as_whom() -> list[str]:
    """Return what a command begins with: the server refuses to run as root."""
    return ["setpriv", "--reuid=postgres", "--regid=postgres", "--clear-groups"] if os.geteuid() == 0 else []


def _free_port() -> int:
    with socket.socket() as sock:
        sock.bind(("127.0.0.1", 0))
        return int(sock.getsockname()[1])
