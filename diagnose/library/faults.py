"""A database driver's errors as errors of ours: where, what, what next. No driver's words reach a person."""

from __future__ import annotations

import re
import sqlite3

from sqlalchemy.exc import OperationalError

from diagnose.errors import StoreError

_BUSY = ("database is locked", "database table is locked", "database schema is locked", "locking protocol")
_BUSY_STATES = ("40001", "40P01", "55P03")
_DAMAGED = (
    "malformed", "not a database", "file is encrypted", "disk i/o error", "unsupported file format", "no such table",
    "no such column",
)  # fmt: skip
_READ_ONLY = ("readonly database", "read-only")
_OF_WRITING = ("SHM", "WRITE", "TRUNCATE", "FSYNC")
"""Parts of the names of SQLite's input and output errors when it is writing that fails: nothing kept is damaged."""
_TAKES_NOTHING = "the disk takes nothing more"
EARLIER_IS_SAFE = "Nothing of this change was kept; what was kept before is safe."

_SAID = (
    ((_TAKES_NOTHING,), "the disk takes nothing more: it is full, or failing.",
     f"{EARLIER_IS_SAFE} Free some space, or name another place with --library DIR."),
    (("database or disk is full", "no space left"), "the disk is full.",
     f"{EARLIER_IS_SAFE} Free some space, or name another place with --library DIR."),
    (_DAMAGED, "the file is damaged or is no library.",
     "`diagnose library recover --to NEWFILE` saves what can be read; the damaged file is left as it is."),
    (_READ_ONLY, "the library cannot be written (read-only).",
     "Reading still works. Make it writable, or name another place with --library DIR."),
    (('database "',), "there is no such database.", "Create it first: createdb NAME."),
    (("password", 'role "', "authentication"), "the database refused the name or the password.",
     "Check the user, and the password in ~/.pgpass."),
    (("unable to open database",), "the library cannot be opened or written.",
     "Check the folder and its permissions, or name another place with --library DIR."),
)  # fmt: skip

_STATES = {
    "28": ("the database refused the name or the password.", "Check the user, and the password in ~/.pgpass."),
    "3D": ("there is no such database.", "Create it first: createdb NAME."),
    "53": ("the database has run out of room.", f"{EARLIER_IS_SAFE} Free some space on its machine."),
    "42": ("the database user may not do that.", "The owner of the database must grant it."),
    "25": ("the library cannot be written (read-only).", "Reading still works."),
    "XX": ("the database reports damaged data.", "Restore a backup: `diagnose library restore FILE`."),
}


def _cause(error: BaseException) -> BaseException:
    return getattr(error, "orig", None) or error


def _text(error: BaseException) -> str:
    found = _cause(error)
    name = str(getattr(found, "sqlite_errorname", ""))
    if name.startswith("SQLITE_IOERR_") and any(part in name for part in _OF_WRITING):
        return _TAKES_NOTHING
    return str(found).lower()


def _state(error: BaseException) -> str:
    return str(getattr(_cause(error), "sqlstate", "") or "")


def is_busy(error: BaseException) -> bool:
    """Say whether somebody else was writing, so that trying again helps."""
    text = _text(error)
    return _state(error) in _BUSY_STATES or any(b in text for b in _BUSY)


def is_damage(error: BaseException) -> bool:
    """Say whether the file itself cannot be read any more."""
    return any(d in _text(error) for d in _DAMAGED)


def said(error: BaseException, where: str) -> StoreError:
    """Return the error a person meets for one that the driver raised."""
    text, state = _text(error), _state(error)
    if is_busy(error):
        return StoreError(
            "another program has been writing to it all the time.", where=where,
            next_step=f"{EARLIER_IS_SAFE} Try again in a minute.",
        )  # fmt: skip
    for signs, what, next_step in _SAID:
        if not state and any(sign in text for sign in signs):
            return StoreError(what, where=where, next_step=next_step)
    if state[:2] in _STATES:
        what, next_step = _STATES[state[:2]]
        return StoreError(what, where=where, next_step=next_step)
    of_a_file = isinstance(_cause(error), sqlite3.Error)
    if (isinstance(error, OperationalError) and not state and not of_a_file) or state.startswith(("08", "57")):
        return StoreError(
            "the database cannot be reached.", where=where,
            next_step="Is it running, and is the address right? Look with `diagnose library list` what was kept.",
        )  # fmt: skip
    if isinstance(error, OSError):
        return StoreError(
            f"cannot be written ({(error.strerror or text).lower()}).", where=where,
            next_step="Free some space, or name another place with --library DIR.",
        )  # fmt: skip
    return StoreError(f"the database refused ({_short(text)}).", where=where, next_step=EARLIER_IS_SAFE)


def said_of_copying(error: BaseException, source: str, to: str) -> StoreError:
    """Return the error a person meets when a copy could not be made, for the one that the driver raised."""
    of_a_file = isinstance(_cause(error), (sqlite3.Error, OSError))
    if is_busy(error) or is_damage(error) or not of_a_file:
        return said(error, source)
    full = any(sign in _text(error) for sign in ("is full", "no space left", _TAKES_NOTHING))
    return StoreError(
        f"cannot be written ({'the disk is full' if full else 'nothing may be written there'}).", where=to,
        next_step="Free some space, or name a file in another folder. The library is as it was.",
    )  # fmt: skip


def _short(text: str) -> str:
    return re.sub(r"\s+", " ", text)[:120]
