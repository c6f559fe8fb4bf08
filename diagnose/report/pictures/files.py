"""A picture as a file: SVG, PNG, or a page that carries picture, words and table and asks for nothing from outside."""

from __future__ import annotations

import os
from pathlib import Path

from diagnose.errors import BadInput, StoreError
from diagnose.library.files import write_whole
from diagnose.report.pictures.picture import Picture

ENDINGS = (".svg", ".png", ".html")
PAGE = """<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src 'unsafe-inline'">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta name="color-scheme" content="light dark">
<title>{{ picture.title }}</title>
<style>
body { font: 1rem/1.5 sans-serif; max-width: 60rem; margin: 1rem auto; padding: 0 1rem; }
svg { max-width: 100%; height: auto; }
.wide { overflow-x: auto; }
table { border-collapse: collapse; margin-top: 1rem; }
th, td { border: 1px solid gray; padding: 0.2rem 0.6rem; text-align: left; }
caption { text-align: left; font-weight: bold; }
</style>
</head>
<body>
<main>
<h1>{{ picture.title }}</h1>
<figure>
{{ svg }}
<figcaption>{{ picture.alt }}</figcaption>
</figure>
<div class="wide" tabindex="0" role="region" aria-label="The same as a table">
<table>
<caption>The same as a table</caption>
<thead><tr>{% for cell in picture.header %}<th scope="col">{{ cell }}</th>{% endfor %}</tr></thead>
<tbody>
{% for row in picture.rows %}<tr>{% for cell in row %}<td>{{ cell }}</td>{% endfor %}</tr>
{% endfor %}</tbody>
</table>
</div>
</main>
</body>
</html>
"""


def as_page(picture: Picture) -> str:
    """Return a picture as a page of its own: drawing, description and table."""
    from jinja2 import Environment, StrictUndefined
    from markupsafe import Markup

    page = Environment(autoescape=True, undefined=StrictUndefined).from_string(PAGE)
    # The drawing is ours and its words are escaped where it is made.
    return page.render(picture=picture, svg=Markup(picture.svg()))


def ending_of(path: Path) -> str:
    """Return the kind of file that a path asks for; raise BadInput for one that is not known or cannot be written."""
    ending = path.suffix.casefold()
    if ending not in ENDINGS:
        what = f"the ending '{path.suffix}' is not known" if path.suffix else "the name has no ending"
        raise BadInput(
            f"{what}, so it is not clear what to write.", where=str(path),
            next_step=f"End the name in {', '.join(ENDINGS[:-1])} or {ENDINGS[-1]}.",
        )  # fmt: skip
    if not path.parent.is_dir():
        raise BadInput(
            f"there is no folder '{path.parent}'.", where=str(path), next_step="Make it, or name another."
        )  # fmt: skip
    if path.is_dir():
        raise BadInput("this is a folder.", where=str(path), next_step="Name a file in it.")
    return ending


def write_picture(picture: Picture, path: Path) -> None:
    """Write a picture to a file of the kind that its ending names, all of it or nothing."""
    ending = ending_of(path)
    if ending == ".png":
        content: str | bytes = picture.png()
    else:
        content = as_page(picture) if ending == ".html" else picture.svg() + "\n"
    try:
        write_whole(path, content)
        path.chmod(plain_mode())
    except (StoreError, OSError) as error:
        what = error.what if isinstance(error, StoreError) else f"cannot be written ({error.strerror})."
        raise BadInput(what, where=str(path), next_step="Name another place, or free some space there.") from None


def plain_mode() -> int:
    """Return the permissions of a plain new file; the way it is written leaves stricter ones."""
    mask = os.umask(0)
    os.umask(mask)
    return 0o666 & ~mask
