"""`diagnose` alone: the interview with a terminal, `name = answer` lines without one."""

from __future__ import annotations

import os
import sys
from datetime import date
from typing import TYPE_CHECKING

from diagnose.interview import words

if TYPE_CHECKING:
    from diagnose.interview.inquiry import Inquiry
    from diagnose.model.record import Record


def talk(options: dict[str, str]) -> int:
    """Hold the interview on whatever the person sits at; returns the exit code."""
    if not sys.stdin.isatty():
        return _from_pipe(options)
    simple = os.environ.get("TERM", "dumb") in ("dumb", "") or os.environ.get("ACCESSIBLE")
    if simple or not (sys.stdout.isatty() or sys.stderr.isatty()):
        return _line_by_line(options)
    return _on_terminal(options)


def _load(options: dict[str, str], keeping: bool = True) -> Inquiry:
    from diagnose.cli.taught import taught
    from diagnose.consult.find import Finder
    from diagnose.interview.inquiry import Inquiry
    from diagnose.library import Draft

    shop = taught(options)
    keep = Draft().keep if keeping else lambda told: None
    return Inquiry(shop.of, Finder(shop.of.base.all_defects()), keep, shop.similar)


def _from_pipe(options: dict[str, str]) -> int:
    from diagnose.interview.line_face import read_answers

    inquiry = _load(options, keeping=False)
    read_answers(inquiry, sys.stdin)
    _result(inquiry)
    return 0


def _line_by_line(options: dict[str, str]) -> int:
    from diagnose.interview.line_face import converse, to_stderr

    inquiry = _load(options)
    unfinished = _unfinished()
    if unfinished:
        to_stderr(_offer(unfinished) + " (yes / no)")
        if input("> ").strip().casefold() not in ("n", "no"):
            inquiry.replay(unfinished)
    wanted = converse(inquiry, to_stderr, lambda record: _result(inquiry, record), lambda: _save(inquiry, options))
    return _end(inquiry, wanted, options)


def _on_terminal(options: dict[str, str]) -> int:
    from diagnose.interview.full_face import Face, Loading

    loading = Loading(lambda: _load(options))
    face = Face(loading)
    unfinished = _unfinished()
    say(words.WELCOME)
    if unfinished:
        say(_offer(unfinished) + " (yes / no)")
        answer = _ask(face)
        if answer is None:
            return _end(None, False, options)
        if answer.strip().casefold() not in ("n", "no"):
            loading.get().replay(unfinished)
    else:
        say(words.MANNERS)
    wanted = _questions(face, loading, options)
    return _end(loading.get(), wanted, options)


def _questions(face: object, loading: object, options: dict[str, str]) -> bool:
    first = loading.now is None  # type: ignore[attr-defined]
    if first:
        say("")
        say(words.FIRST)
    while True:
        if not first:
            inquiry = loading.get()  # type: ignore[attr-defined]
            prompt = inquiry.prompt()
            if prompt is None:
                say(words.ENOUGH if inquiry.settled else words.NOTHING_LEFT)
                return True
            from diagnose.interview.line_face import ask_lines

            say("")
            for line in ask_lines(prompt):
                say(line)
        typed = _ask(face)
        inquiry, first = loading.get(), False  # type: ignore[attr-defined]
        if typed is None:
            return False
        if typed == "\x04":
            return bool(inquiry.case.defect)
        from diagnose.model.clean import clean

        reply = inquiry.hear(clean(typed))
        for line in reply.say:
            say(line)
        if reply.show or reply.shown:
            _result(inquiry, reply.shown)
        if reply.save:
            _save(inquiry, options)
        if reply.stop or reply.over:
            return bool(reply.over and inquiry.case.defect)


def _ask(face: object) -> str | None:
    """Return a typed line, Ctrl-D as its sign, or None when the person stops."""
    try:
        return face.ask()  # type: ignore[attr-defined, no-any-return]
    except EOFError:
        return "\x04"
    except (KeyboardInterrupt, OSError):
        return None


def _unfinished() -> list[tuple[str, str]]:
    from diagnose.library.draft import Draft

    return Draft().found()


def _offer(told: list[tuple[str, str]]) -> str:
    what = next((a for n, a in told if n == "defect"), "no defect named yet")
    return words.CARRY_ON.format(what=what, count=len(told))


def _end(inquiry: Inquiry | None, wanted: bool, options: dict[str, str]) -> int:
    from diagnose.library.draft import Draft

    if not wanted or inquiry is None or not inquiry.case.defect:
        say(words.STOPPED.format(count=len(inquiry.told) if inquiry else len(_unfinished())))
        return 130
    _result(inquiry)
    _save(inquiry, options)
    Draft().drop()
    return 0


def _save(inquiry: Inquiry, options: dict[str, str]) -> None:
    from diagnose.cli.shop import open_library

    library = open_library(options)
    case = inquiry.case.model_copy(update={"date": inquiry.case.date or f"{date.today():%Y-%m-%d}"})
    inquiry.saved_as = library.save(case, inquiry.saved_as, inquiry.of.diagnose(case) if case.defect else None)
    say(words.KEPT.format(name=inquiry.saved_as, folder=library.shown))


def _result(inquiry: Inquiry, record: Record | None = None) -> None:
    """Show a record that was asked for, else the diagnosis as it stands."""
    from diagnose.cli.screen import put
    from diagnose.consult.worded import worded
    from diagnose.report.text import diagnosis_lines
    from diagnose.report.why import reasons_lines

    system = inquiry.of.show.system
    if not inquiry.case.defect:
        say(words.FIRST)
    elif record is not None:
        put(lambda width: reasons_lines(worded(record, system), width, inquiry.case.part))
    else:
        put(lambda width: diagnosis_lines(worded(inquiry.diagnosis(), system), width, inquiry.case.part))


def say(text: str) -> None:
    """Write to the person: to the screen end that is a terminal, wrapped to its width."""
    import shutil
    import textwrap

    from diagnose.model.clean import clean

    out = sys.stdout if sys.stdout.isatty() else sys.stderr
    width = max(shutil.get_terminal_size().columns - 1, 30)
    indent = " " * (len(text) - len(text.lstrip()) + (5 if text.startswith("  ") else 0))
    for line in clean(text, keep_lines=True).split("\n"):
        out.write("\n".join(textwrap.wrap(line, width, subsequent_indent=indent)) + "\n")
    out.flush()
