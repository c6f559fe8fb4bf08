"""Where a library lies: one SQLite file, or a PostgreSQL database by URL."""

from __future__ import annotations

import re
from dataclasses import dataclass
from pathlib import Path

from platformdirs import user_data_path
from sqlalchemy import URL
from sqlalchemy.engine import make_url
from sqlalchemy.exc import ArgumentError

from diagnose.errors import BadInput

FILE_NAME = "library.db"
NETWORK_DRIVES = frozenset(
    (
        "nfs", "nfs4", "cifs", "smb", "smb2", "smb3", "smbfs", "ncpfs", "afs", "afpfs", "9p", "ceph", "glusterfs",
        "lustre", "davfs", "drvfs", "fuse.sshfs", "fuse.davfs2", "fuse.glusterfs", "fuse.rclone", "fuse.smbnetfs",
        "fuse.gvfsd-fuse", "fuse.s3fs",
    )
)  # fmt: skip
_URL = re.compile(r"([a-z][a-z0-9+]*)://", re.IGNORECASE)


def default_folder() -> Path:
    """Return the folder in the user's data directory where the library lies unless another place is named."""
    return user_data_path("second-pour", appauthor=False)


@dataclass(frozen=True)
class Place:
    """A place: `file` for SQLite, or none and a URL; `shown` is safe to print."""

    url: URL
    shown: str
    file: Path | None = None
    earlier: Path | None = None
    """A folder that may hold YAML cases of the earlier store."""

    @property
    def folder(self) -> Path:
        """Return the folder for what lies beside the library, such as automatic backups."""
        return self.file.parent if self.file else default_folder() / "backups"


def place(named: str | Path | None = None) -> Place:
    """Return the place that a path or URL names; raise BadInput when it is neither."""
    if named is None or not str(named):
        folder = default_folder()
        return _file(folder / FILE_NAME, folder / "cases")
    text = str(named)
    scheme = _URL.match(text)
    if scheme:
        return _by_url(text, scheme[1].lower())
    path = Path(text).expanduser()
    if path.is_dir() or (not path.exists() and not path.suffix):
        return _file(path / FILE_NAME, path)
    return _file(path, None)


def _file(path: Path, earlier: Path | None) -> Place:
    path = path.absolute()
    return Place(URL.create("sqlite", database=str(path)), str(path), path, earlier.absolute() if earlier else None)


def _by_url(text: str, scheme: str) -> Place:
    if scheme.split("+")[0] not in ("postgresql", "postgres"):
        raise BadInput(
            f"'{scheme}' is no kind of library.", where="--library",
            next_step="Name a folder, a file, or postgresql://USER@HOST/DATABASE.",
        )  # fmt: skip
    try:
        url = make_url(text).set(drivername="postgresql+psycopg")
    except (ArgumentError, ValueError):
        raise BadInput(
            "the address of the library cannot be read.", where="--library",
            next_step="Write postgresql://USER@HOST:PORT/DATABASE.",
        ) from None  # fmt: skip
    # A query can hold a password too.
    shown = URL.create("postgresql", url.username, None, url.host, url.port, url.database)
    return Place(url, shown.render_as_string())


def on_network_drive(path: Path, mounts: Path = Path("/proc/mounts")) -> str:
    """Return the kind of network drive a path lies on, or nothing; only what the system tells is known."""
    try:
        lines = mounts.read_text(encoding="utf-8", errors="replace").splitlines()
    except OSError:
        return ""
    best, kind = "", ""
    real = str(path.absolute().resolve())
    for line in lines:
        fields = line.split()
        if len(fields) < 3:
            continue
        point = re.sub(r"\\([0-7]{3})", lambda m: chr(int(m[1], 8)), fields[1])
        # The longest mount point wins; of two on one point, the later one lies on top.
        if (real == point or real.startswith(point.rstrip("/") + "/")) and len(point) >= len(best):
            best, kind = point, fields[2]
    return kind if kind in NETWORK_DRIVES else ""
