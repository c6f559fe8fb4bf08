"""Pictures of a case: by path, or copied into the library under the SHA-256 of their content."""

from __future__ import annotations

import hashlib
from pathlib import Path

from sqlalchemy import Connection, insert, select

from diagnose.errors import BadInput, StoreError
from diagnose.library import tables as t
from diagnose.library.files import write_whole
from diagnose.library.kept import Kept, Photo
from diagnose.library.store import Library

SIZE_LIMIT = 30_000_000
"""Of one picture. [byte]"""
SUFFIXES = (".jpg", ".jpeg", ".png", ".gif", ".webp", ".tif", ".tiff", ".heic", ".bmp")


def add_photo(library: Library, name: str, path: Path, copy: bool) -> Kept:
    """Add a picture to a case; with `copy` its content goes into the library in the same transaction."""
    if not path.is_file():
        raise BadInput("there is no such picture.", where=str(path), next_step="Check the name.")
    suffix = path.suffix.lower()
    if suffix not in SUFFIXES:
        raise BadInput(
            f"'{path.suffix}' is no kind of picture.", where=str(path), next_step=f"Kinds: {', '.join(SUFFIXES)}."
        )
    content = _content(path) if copy else b""
    digest = hashlib.sha256(content).hexdigest() if copy else ""

    def put(conn: Connection) -> None:
        there = conn.execute(select(t.pictures.c.digest).where(t.pictures.c.digest == digest)).first()
        if copy and not there:
            conn.execute(insert(t.pictures).values(digest=digest, suffix=suffix, content=content))

    def with_photo(before: Kept) -> Kept:
        photo = Photo(path=str(path.absolute()), digest=digest)
        # One noted by its path and copied later is one picture; copied again after it was changed, it is two.
        same = ((photo.path, photo.digest), (photo.path, ""))
        others = tuple(p for p in before.photos if (p.path, p.digest) not in same)
        return before.model_copy(update={"photos": (*others, photo)})

    return library.change(name, "photo", with_photo, also=put)


def _content(path: Path) -> bytes:
    try:
        if path.stat().st_size > SIZE_LIMIT:
            raise BadInput(
                f"the picture is larger than {SIZE_LIMIT // 1_000_000} MB.", where=str(path),
                next_step="Make it smaller, or keep only its path.",
            )  # fmt: skip
        return path.read_bytes()
    except OSError as error:
        reason = (error.strerror or str(error)).lower()
        raise BadInput(f"cannot be read ({reason}).", where=str(path), next_step="Check the name.") from None


def photos_out(library: Library, name: str, folder: Path) -> list[Path]:
    """Write the copied pictures of a case into a folder and return the files, named by their content."""
    written = []
    for digest in dict.fromkeys(p.digest for p in library.kept(name).photos if p.digest):
        with library.database.read() as conn:
            row = conn.execute(select(t.pictures).where(t.pictures.c.digest == digest)).mappings().first()
        if row is None or hashlib.sha256(row["content"]).hexdigest() != digest:
            raise StoreError("a picture is lost or damaged.", where=f"{library.shown}, {digest[:12]}")
        to = folder / f"{digest}{row['suffix']}"
        write_whole(to, bytes(row["content"]))
        written.append(to)
    return written
