"""A PostgreSQL server of our own for the tests: in a folder of its own, on a free loopback port, with fsync on."""

from __future__ import annotations

import contextlib
import os
import pwd
import shutil
import socket
import subprocess
import tempfile
from collections.abc import Iterator
from pathlib import Path
from typing import NamedTuple
from uuid import uuid4

USER = "shop"


class Server(NamedTuple):
    """A running server."""

    port: int

    def url(self, database: str = "postgres") -> str:
        return f"postgresql://{USER}@127.0.0.1:{self.port}/{database}"

    def new_place(self) -> str:
        """Return the URL of a fresh empty part of the database: a schema of its own is made faster than a database."""
        import psycopg

        name = f"t{uuid4().hex[:12]}"
        with psycopg.connect(self.url(), autocommit=True) as conn:
            conn.execute(f"CREATE SCHEMA {name}")
        return f"{self.url()}?options=-csearch_path%3D{name}"


def programs() -> Path | None:
    """Return the folder with the server's programs, if PostgreSQL is installed."""
    found = sorted(Path("/usr/lib/postgresql").glob("*/bin/pg_ctl"), key=lambda p: int(p.parts[-3]))
    if found:
        return found[-1].parent
    on_path = shutil.which("pg_ctl")
    return Path(on_path).resolve().parent if on_path else None


def _nobody() -> str | None:
    """Return the user to run as: the server refuses to run as root."""
    if os.geteuid() != 0:
        return None
    for name in ("postgres", "nobody"):
        with contextlib.suppress(KeyError):
            return pwd.getpwnam(name).pw_name
    raise RuntimeError("there is no user 'postgres' or 'nobody' to run the server as")


def _free_port() -> int:
    with socket.socket() as s:
        s.bind(("127.0.0.1", 0))
        return int(s.getsockname()[1])


@contextlib.contextmanager
def running(segment: int = 1) -> Iterator[Server]:
    """Start a server, and stop it and remove it after.

    Its journal comes in files of so many megabytes: small ones are made quickly, large ones are a server's usual 16.
    """
    where = programs()
    if where is None:
        raise RuntimeError("PostgreSQL is not installed: apt-get install postgresql")
    user = _nobody()
    folder = Path(tempfile.mkdtemp(prefix="second-pour-pg-"))
    try:
        folder.chmod(0o755)
        if user:
            shutil.chown(folder, user)

        def call(*command: str) -> None:
            done = subprocess.run(
                command, user=user, group=None, extra_groups=[] if user else None, cwd=folder, capture_output=True,
                text=True, timeout=120, check=False, env={"PATH": os.environ["PATH"], "LC_ALL": "C.UTF-8"},
            )  # fmt: skip
            if done.returncode:
                raise RuntimeError(f"{Path(command[0]).name}: {done.stderr or done.stdout}")

        data = str(folder / "data")
        call(
            str(where / "initdb"),
            "-D",
            data,
            "-U",
            USER,
            "--auth=trust",
            "--encoding=UTF8",
            "--locale=C.UTF-8",
            "--no-sync",
            f"--wal-segsize={segment}",
        )  # making the empty folder quicker; the server itself syncs
        port = _started(call, where, data, folder)
        try:
            yield Server(port)
        finally:
            call(str(where / "pg_ctl"), "-D", data, "-m", "immediate", "-w", "stop")
    finally:
        shutil.rmtree(folder, ignore_errors=True)


def _started(call: object, where: Path, data: str, folder: Path) -> int:
    for attempt in range(5):
        port = _free_port()
        options = (
            f"-p {port} -c listen_addresses=127.0.0.1 -c unix_socket_directories={folder} -c fsync=on "
            "-c max_connections=40 -c shared_buffers=64MB"
        )
        try:
            call(str(where / "pg_ctl"), "-D", data, "-o", options, "-l", str(folder / "log"), "-w", "start")  # type: ignore[operator]
            return port
        except RuntimeError:  # another program may have taken the port meanwhile
            if attempt == 4:
                raise
    raise AssertionError
