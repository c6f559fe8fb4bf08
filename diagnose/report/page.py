"""Pages: one file with everything in it, no script, nothing asked for from outside; text is shown, never obeyed."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING, Any

from diagnose.errors import BadInput, StoreError
from diagnose.library.files import write_whole
from diagnose.model.clean import clean

if TYPE_CHECKING:
    from jinja2 import Environment

MARK = "second-pour diagnose"
"""Stands in every page, so that a file of someone else's is never written over."""
PAGES = Path(__file__).parent / "pages"


def page(template: str, filters: Mapping[str, Callable[..., object]] | None = None, **data: object) -> str:
    """Return a page made from a template of this room; every text is cleaned and escaped on its way in."""
    from markupsafe import Markup

    environment = _environment().overlay()
    environment.filters = {**environment.filters, **(filters or {})}
    style = Markup((PAGES / "style.css").read_text(encoding="utf-8"))
    return environment.get_template(template).render(mark=MARK, style=style, **data)


def drawing(svg: str) -> Any:
    """Return one of our own drawings as an element of a page; its words were escaped where it was made."""
    from markupsafe import Markup

    return Markup(svg)


@cache
def _environment() -> Environment:
    from jinja2 import Environment, FileSystemLoader, StrictUndefined

    return Environment(
        loader=FileSystemLoader(PAGES), autoescape=True, undefined=StrictUndefined, trim_blocks=True,
        lstrip_blocks=True, finalize=shown,
    )  # fmt: skip


def shown(value: object) -> object:
    """Return a value as it may stand in a page: text without control and direction marks, its line ends kept."""
    if isinstance(value, str) and not hasattr(value, "__html__"):
        return clean(value, keep_lines=True)
    return "" if value is None else value


def check_place(path: Path) -> None:
    """Raise BadInput when a page cannot be written there, or would write over a file that is no page of ours."""
    if path.is_dir():
        raise BadInput("this is a folder.", where=str(path), next_step="Name a file in it.")
    if not path.parent.is_dir():
        raise BadInput(f"there is no folder '{path.parent}'.", where=str(path), next_step="Make it, or name another.")
    try:
        ours = not path.exists() or MARK.encode() in path.read_bytes()[:2000]
    except OSError as error:
        raise BadInput(f"cannot be read ({error.strerror}).", where=str(path), next_step="Name another.") from None
    if not ours:
        raise BadInput(
            "there is a file of that name that was not written here.", where=str(path),
            next_step="Name another, or remove it first.",
        )  # fmt: skip


def write_page(text: str, path: Path) -> None:
    """Write a page, all of it or nothing, where `check_place` allows it."""
    check_place(path)
    try:
        write_whole(path, text)
        path.chmod(0o666 & ~_mask())
    except (StoreError, OSError) as error:
        what = error.what if isinstance(error, StoreError) else f"cannot be written ({error.strerror})."
        raise BadInput(what, where=str(path), next_step="Name another place, or free some space there.") from None


def _mask() -> int:
    import os

    mask = os.umask(0)
    os.umask(mask)
    return mask
