"""A lesson sheet as lines; the answers come after everything else, on a page of their own."""

from __future__ import annotations

from diagnose.model.lesson import Sheet
from diagnose.report.screen_lines import Line, Page

NEW_PAGE = "\f"


def sheet_lines(sheet: Sheet, width: int, answers: bool) -> list[Line]:
    """Return a lesson sheet; with `answers`, these follow behind a page break."""
    page = Page(width)
    page.head(f"Lesson sheet: {sheet.title}")
    for section in sheet.sections:
        page.head(section.title)
        for text in section.paragraphs:
            page.say(text)
        for number, text in enumerate(section.steps, 1):
            page.say(f"{number}. {text}", 0, 3)
        for text in section.points:
            page.item(text)
    if sheet.tasks:
        page.head("Tasks")
        for number, task in enumerate(sheet.tasks, 1):
            page.say(f"{number}. {task.question}", 0, 3)
    page.head("Sources")
    for source in sheet.sources:
        page.item(source)
    if answers and sheet.tasks:
        page.lines.append(Line(NEW_PAGE))
        page.head(f"Answers: {sheet.title}")
        for number, task in enumerate(sheet.tasks, 1):
            page.say(f"{number}. {task.answer}", 0, 3)
    return page.lines
