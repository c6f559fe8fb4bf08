"""A database driver's errors as errors of ours: where, what, what next. No driver's words reach a person."""

from __future__ import annotations

import re

from sqlalchemy.exc import OperationalError

from diagnose.errors import StoreError

_BUSY = ("database is locked", "database table is locked", "database schema is locked", "locking protocol")
_BUSY_STATES = ("40001", "40P01", "55P03")
_DAMAGED = ("malformed", "not a database", "file is encrypted", "disk i/o error", "unsupported file format")
_READ_ONLY = ("readonly database", "read-only")
EARLIER_IS_SAFE = "Nothing of this change was kept; what was kept before is safe."

_SAID = (
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


def _text(error: BaseException) -> str:
    return str(getattr(error, "orig", None) or error).lower()


def _state(error: BaseException) -> str:
    return str(getattr(getattr(error, "orig", None), "sqlstate", "") or "")


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
    if (isinstance(error, OperationalError) and not state) or state.startswith(("08", "57")):
        return StoreError(
            "the database cannot be reached.", where=where,
            next_step="Is it running, and is the address right? Look with `diagnose library list` what was kept.",
        )  # fmt: skip
    if isinstance(error, OSError):
        return StoreError(
            f"cannot be written ({(error.strerror or text).lower()}).", where=where,
            next_step="Free some space, or name another place with --library DIR.",
        )  # fmt: skip
    kind = type(getattr(error, "orig", None) or error).__name__
    return StoreError(f"the database refused ({kind}: {_short(text)}).", where=where, next_step=EARLIER_IS_SAFE)


def _short(text: str) -> str:
    return re.sub(r"\s+", " ", text)[:120]
