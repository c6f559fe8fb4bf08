"""A lesson sheet: sections to read, tasks to do, answers on a page of their own."""

from __future__ import annotations

from diagnose.model.record import Record


class Section(Record):
    """A heading with paragraphs and lists; `steps` are numbered, `points` are not."""

    title: str
    paragraphs: tuple[str, ...] = ()
    points: tuple[str, ...] = ()
    steps: tuple[str, ...] = ()


class Task(Record):
    """A question for the class, and its answer."""

    question: str
    answer: str


class Sheet(Record):
    """A lesson sheet on a defect, a cause or a stage."""

    id: str
    title: str
    sections: tuple[Section, ...]
    tasks: tuple[Task, ...] = ()
    sources: tuple[str, ...] = ()
