"""Whether a library can be there at all, found out without loading the database."""

from __future__ import annotations

from platformdirs import user_data_path


def something_kept(named: str | None = None) -> bool:
    """Say whether a library can be there: one that is named, or the usual one once something has been kept."""
    folder = user_data_path("second-pour", appauthor=False)
    return bool(named) or (folder / "library.db").exists() or (folder / "cases").is_dir()
