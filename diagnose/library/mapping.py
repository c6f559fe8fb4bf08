"""Which column of a spreadsheet means what: guessed from the titles, set by a person, remembered by the header."""

from __future__ import annotations

import hashlib
import re
from collections.abc import Iterable, Mapping, Sequence

from pydantic import ValidationError
from rapidfuzz import fuzz, process
from sqlalchemy import Connection, delete, insert, select

from diagnose import units
from diagnose.errors import BadInput
from diagnose.library import tables as t
from diagnose.library.store import Library
from diagnose.model.record import Record
from diagnose.rulebase.cursor import suggest
from diagnose.rulebase.load import RuleBase

SURE = 84.0
"""Of 100: how alike a title and a name must be to be taken for each other before a person has looked."""

FIELDS: Mapping[str, tuple[str, ...]] = {
    "part": ("part", "piece", "item", "job", "style", "part name"),
    "defect": ("defect", "fault", "problem", "what is wrong", "failure"),
    "stage": ("stage", "process", "department"),
    "date": ("date", "day", "when"),
    "notes": ("notes", "note", "remarks", "comment", "comments"),
    "confirmed": ("confirmed", "cause", "confirmed cause", "root cause", "reason", "why"),
    "none of these": ("none of these", "other cause"),
    "author": ("author", "by", "initials", "entered by"),
    "cost": ("cost", "scrap cost", "cost of scrap", "loss"),
    "currency": ("currency",),
    "changed": ("changed", "what was changed", "trial", "action", "correction"),
    "outcome": ("outcome", "what came out"),
    "result": ("result",),
}
"""What a column can hold besides facts, with the titles that are taken for it."""
IGNORED = "-"
_UNITS = (
    re.compile(r"(?P<title>.+?)\s*[(\[]\s*(?P<unit>[^()\[\]]{1,20}?)\s*[)\]]$"),  # platen temp (F)
    re.compile(r"(?P<title>.+?)\s*[,/]\s*(?P<unit>[^,\s]{1,12})$"),  # platen temp, F
    re.compile(r"(?P<title>.+?)\s+(?:in )?(?P<unit>\S{1,8})$"),  # platen temp in F
)


class Column(Record):
    """One column: its title, what it means (a fact, a field, or `-` for nothing), and the unit of bare numbers."""

    title: str
    to: str = IGNORED
    unit: str = ""
    sure: bool = True
    """Whether a person said so or the title left no doubt."""


class Columns(Record):
    """How a sheet is read."""

    columns: tuple[Column, ...]
    values: Mapping[str, str] = {}
    """What words of the shop mean: a cell (lower case) to an answer, a defect or a cause."""
    every: Mapping[str, str] = {}
    """What holds for every row, by field or fact."""
    dates: str = ""
    """Order of day, month and year: dmy, mdy or ymd; empty to find out."""
    comma: bool = False
    """A comma between digits is a decimal comma."""


def guess(titles: Sequence[str], base: RuleBase) -> Columns:
    """Return what the titles probably mean; two columns never mean the same."""
    names = known_names(base)
    taken: set[str] = set()
    found = []
    for title in titles:
        column = _guess(title, names, base)
        if column.to in taken:
            column = Column(title=title, sure=False)
        elif column.to != IGNORED:
            taken.add(column.to)
        found.append(column)
    return Columns(columns=tuple(found))


def known_names(base: RuleBase) -> dict[str, str]:
    """Return every title that means one thing, in lower case, with what it means; the own name goes before others."""
    words = base.words
    called: dict[str, set[str]] = {}
    for facts in (words.settings, words.observations, words.slots):
        for name, fact in facts.items():
            for word in fact.words:
                called.setdefault(word.casefold(), set()).add(name)
    found = {word: next(iter(names)) for word, names in called.items() if len(names) == 1}
    for facts in (words.settings, words.observations, words.slots):
        found.update({name.casefold(): name for name in facts})
    for field, titles in FIELDS.items():
        found.update(dict.fromkeys(titles, field))
    return found


def _guess(title: str, names: Mapping[str, str], base: RuleBase) -> Column:
    splits = [(title.strip(), ""), *((m["title"], m["unit"]) for m in (p.match(title.strip()) for p in _UNITS) if m)]
    for bare, unit in splits:
        to = names.get(bare.casefold())
        if to is not None and (found := _fitting(title, to, unit, base)):
            return found
    best: tuple[float, Column] | None = None
    for bare, unit in splits:
        hit = process.extractOne(_plain(bare), names, scorer=_alike, score_cutoff=SURE)
        if hit and (found := _fitting(title, names[hit[2]], unit, base)) and (best is None or hit[1] > best[0]):
            best = hit[1], found
    return best[1].model_copy(update={"sure": False}) if best else Column(title=title, sure=False)


def _fitting(title: str, to: str, unit: str, base: RuleBase) -> Column | None:
    try:
        return column(title, to, unit, base)
    except BadInput:
        return None


def _plain(text: str) -> str:
    return re.sub(r"[^a-z0-9]+", " ", text.casefold()).strip()


def _alike(one: str, other: str, **more: object) -> float:
    # Shortened words (temp for temperature) begin alike; then the whole is compared as words in any order.
    long = _plain(other).split()
    spelled = [next((w for w in long if len(p) >= 3 and w.startswith(p)), p) for p in one.split()]
    return fuzz.token_sort_ratio(" ".join(spelled), " ".join(long))


def column(title: str, to: str, unit: str, base: RuleBase) -> Column:
    """Return a column with its meaning; raise BadInput for a name that means nothing or a unit that does not fit."""
    words = base.words
    if to != IGNORED:
        _refuse_unknown(to, f"column '{title}'", base)
    if unit and to not in words.settings:
        raise BadInput(f"'{to}' has no unit.", where=f"column '{title}'", next_step="Leave the unit out.")
    if unit:
        units.unit_named(unit, words.settings[to].dimension)
    return Column(title=title, to=to, unit=unit)


def in_every_row(given: Iterable[tuple[str, str]], base: RuleBase) -> dict[str, str]:
    """Return what holds for every row; raise BadInput for a name that means nothing."""
    found = dict(given)
    for name in found:
        _refuse_unknown(name, f"--every '{name}=...'", base)
    return found


def _refuse_unknown(to: str, where: str, base: RuleBase) -> None:
    words = base.words
    known = [*words.settings, *words.observations, *words.slots, *FIELDS]
    if to not in known:
        listed = f"`diagnose rules list --kind settings` (or observations) shows all; besides: {', '.join(FIELDS)}."
        raise BadInput(f"'{to}' means nothing here.", where=where, next_step=suggest(to, known) or listed)


def settled(
    columns: Columns, given: Iterable[tuple[str, str]], unit_of: Iterable[tuple[str, str]], base: RuleBase
) -> Columns:
    """Return the columns with what a person said: (title, meaning) and (title, unit) pairs."""
    found = {c.title: c for c in columns.columns}
    for title, to in given:
        known = _titled(title, found)
        found[known] = column(known, to, found[known].unit, base)
    for title, unit in unit_of:
        known = _titled(title, found)
        found[known] = column(known, found[known].to, unit, base)
    meant = [c.to for c in found.values() if c.to != IGNORED]
    twice = next((to for to in meant if meant.count(to) > 1), None)
    if twice:
        titles = " and ".join(f"'{c.title}'" for c in found.values() if c.to == twice)
        raise BadInput(f"{titles} both mean '{twice}'.", next_step="Give one of them '-'.")
    return columns.model_copy(update={"columns": tuple(found.values())})


def refuse_meaningless(columns: Columns, where: str) -> None:
    """Raise BadInput when no title means anything: the file is another one than somebody thinks."""
    if all(c.to == IGNORED for c in columns.columns):
        titles = ", ".join(f"'{c.title[:40]}'" for c in columns.columns[:5])
        raise BadInput(
            f"no title in its first row means anything here ({titles}).", where=where,
            next_step="The first row must hold the titles. Say what one means: --map 'TITLE=FACT'.",
        )  # fmt: skip


def _titled(title: str, found: Mapping[str, Column]) -> str:
    same = [k for k in found if k.casefold() == title.casefold()]
    if not same:
        raise BadInput(
            f"there is no column '{title}'.", next_step=suggest(title, found) or f"There are: {', '.join(found)}."
        )
    return same[0]


def remembered(library: Library, titles: Sequence[str]) -> Columns | None:
    """Return how a sheet with these titles was read before."""
    with library.database.read() as conn:
        body = conn.execute(select(t.mappings.c.body).where(t.mappings.c.header == _header(titles))).scalar()
    try:
        return Columns.model_validate_json(body) if body else None
    except ValidationError:
        return None


def remember(library: Library, titles: Sequence[str], columns: Columns) -> None:
    """Remember how a sheet with these titles is read: a person has said that it is right."""
    header = _header(titles)
    columns = columns.model_copy(
        update={"columns": tuple(c.model_copy(update={"sure": True}) for c in columns.columns)}
    )

    def work(conn: Connection, change: int) -> None:
        conn.execute(delete(t.mappings).where(t.mappings.c.header == header))
        conn.execute(insert(t.mappings).values(header=header, body=columns.model_dump_json()))

    library.database.write(work)


def _header(titles: Sequence[str]) -> str:
    text = "\0".join(title.casefold() for title in titles)
    return hashlib.blake2b(text.encode(), digest_size=16).hexdigest()
