"""The help pages, one text file each; numbers that the program uses are put in, not repeated by hand."""

from __future__ import annotations

from importlib.resources import files

from diagnose.consult.ask import SETTLED
from diagnose.consult.rank import BANDS, PRIOR
from diagnose.consult.signs import SLIP
from diagnose.errors import BadInput
from diagnose.report.screen_lines import Line, Page

NUMBERS: dict[str, float | str] = {
    **PRIOR,
    **{word: f"{low:g} to {high:g}" for word, (low, high) in BANDS.items()},
    "slip": 100 * SLIP, "most": 1.0 / SLIP, "settled": SETTLED,
}  # fmt: skip
FOLDER = files("diagnose.report") / "topics"


def topics() -> list[str]:
    """Return the names of the help pages."""
    return sorted(file.name.removesuffix(".txt") for file in FOLDER.iterdir() if file.name.endswith(".txt"))


def topic_lines(name: str, width: int) -> list[Line]:
    """Return a help page: its title, paragraphs wrapped to the width, examples as they stand."""
    if name not in topics():
        raise BadInput(f"there is no help page '{name}'.", next_step=f"There are: {', '.join(topics())}.")
    title, *parts = (FOLDER / f"{name}.txt").read_text(encoding="utf-8").strip().split("\n\n")
    page = Page(width)
    page.head(title)
    for part in parts:
        text = part.format(**NUMBERS) if name == "ranking" else part
        page.lines.append(Line(""))
        if text.startswith("  "):
            for line in text.split("\n"):
                indent = len(line) - len(line.lstrip())
                page.say(line.strip(), indent, indent + 2)
        else:
            page.say(" ".join(text.split()))
    return page.lines


def contents_lines(width: int) -> list[Line]:
    """Return the list of help pages with their titles."""
    page = Page(width)
    page.head("Help pages")
    for name in topics():
        title = (FOLDER / f"{name}.txt").read_text(encoding="utf-8").split("\n", 1)[0]
        page.say(f"{name:12}{title}", 2, 14)
    page.say("`diagnose help PAGE` shows one; `diagnose help WORD` says what a word of the trade means.")
    return page.lines
