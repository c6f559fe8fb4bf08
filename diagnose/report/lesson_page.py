"""A lesson sheet as a page to print: sections of a kind together, room to write, answers on a page of their own."""

from __future__ import annotations

from dataclasses import dataclass, field

from diagnose.model.lesson import Section, Sheet
from diagnose.report.page import page

# Sections whose titles begin so stand together below one heading.
KINDS = {
    "Signs": "Signs", "Signs of it": "Signs of it", "Reckoned": "The numbers, worked", "Bench test": "Bench tests",
    "What to change": "What to change",
}  # fmt: skip
CARE = "Cautions"


@dataclass
class Group:
    """A heading, what stands right below it, and parts with headings of their own."""

    title: str
    own: list[Section] = field(default_factory=list)
    parts: list[tuple[str, Section]] = field(default_factory=list)

    @property
    def care(self) -> bool:
        """Say whether it must stand out as a caution."""
        return self.title == CARE


def lesson_page(sheet: Sheet, answers: bool) -> str:
    """Return the page of a lesson sheet; with `answers`, these follow on a page of their own when it is printed."""
    return page("lesson.html", sheet=sheet, groups=_groups(sheet), answers=answers)


def _groups(sheet: Sheet) -> list[Group]:
    groups: dict[str, Group] = {}
    for section in sheet.sections:
        kind, colon, rest = section.title.partition(": ")
        title = KINDS.get(kind, section.title) if colon else section.title
        group = groups.setdefault(title, Group(title))
        if title == section.title:
            group.own.append(section)
        else:
            group.parts.append((rest[:1].upper() + rest[1:], section))
    return list(groups.values())
