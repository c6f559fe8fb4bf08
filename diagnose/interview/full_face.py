"""The interview on a real terminal: a menu while typing, a bottom line that follows the answers.

The first question is shown before anything heavy is loaded; `load` runs in a thread started from the prompt.
A new session is made for each question, because settings of a session leak into its next question.
"""

from __future__ import annotations

import os
import sys
import threading
from collections.abc import Callable, Iterable
from typing import TYPE_CHECKING

from prompt_toolkit import PromptSession
from prompt_toolkit.application import get_app
from prompt_toolkit.completion import CompleteEvent, Completer, Completion
from prompt_toolkit.document import Document
from prompt_toolkit.filters import completion_is_selected, has_completions
from prompt_toolkit.key_binding import KeyBindings, KeyPressEvent
from prompt_toolkit.output import create_output

if TYPE_CHECKING:
    from diagnose.interview.inquiry import Inquiry

ROWS = 8
WIDE = 60
COMMANDS = ("back", "why", "skip", "show", "follow", "save", "done", "help")


class Loading:
    """The inquiry, loaded in the background; `get` waits for it and passes on what went wrong."""

    def __init__(self, load: Callable[[], Inquiry]) -> None:
        self._load = load
        self._inquiry: Inquiry | None = None
        self._error: BaseException | None = None
        self._thread = threading.Thread(target=self._run, daemon=True)
        self._started = False

    def start(self) -> None:
        """Begin loading, once."""
        if not self._started:
            self._started = True
            self._thread.start()

    def _run(self) -> None:
        try:
            self._inquiry = self._load()
        except BaseException as error:
            self._error = error

    @property
    def now(self) -> Inquiry | None:
        """Return the inquiry if it is already there."""
        return self._inquiry

    def get(self) -> Inquiry:
        """Wait for the inquiry."""
        self.start()
        self._thread.join()
        if self._error is not None:
            raise self._error
        assert self._inquiry is not None
        return self._inquiry


class Answers(Completer):
    """Offers the answers to the question, commands, and fact names; every typed word must occur somewhere."""

    def __init__(self, options: Callable[[], Iterable[tuple[str, str]]], names: Callable[[], Iterable[str]]) -> None:
        self.options, self.names = options, names

    def get_completions(self, document: Document, complete_event: CompleteEvent) -> Iterable[Completion]:
        """Yield what fits the line so far."""
        text = document.text_before_cursor.lstrip()
        typed = text.casefold().split()
        wide = get_app().output.get_size().columns >= WIDE
        for answer, says in self.options():
            if all(w in f"{answer} {says}".casefold() for w in typed):
                meta = says if wide and says != answer else ""
                yield Completion(answer, -len(text), display_meta=meta)
        if typed and "=" not in text:
            for name in (*COMMANDS, *self.names()):
                if name.startswith(text.casefold()) and len(text) > 1:
                    yield Completion(name if name in COMMANDS else f"{name} = ", -len(text), display=name)


def _keys() -> KeyBindings:
    keys = KeyBindings()

    @keys.add("tab")
    def _(event: KeyPressEvent) -> None:
        buffer = event.current_buffer
        if buffer.complete_state:
            buffer.complete_next()
        else:
            buffer.start_completion(select_first=False)

    @keys.add("enter", filter=has_completions & completion_is_selected)
    def _(event: KeyPressEvent) -> None:
        event.current_buffer.complete_state = None

    @keys.add("escape", eager=True, filter=has_completions)
    def _(event: KeyPressEvent) -> None:
        event.current_buffer.cancel_completion()

    return keys


class Face:
    """Asks one question at a time and hands what was typed to the inquiry."""

    def __init__(self, loading: Loading) -> None:
        self.loading = loading
        # With a redirected standard output the questions go to the other screen end.
        self.output = create_output(stdout=sys.stdout if sys.stdout.isatty() else sys.stderr)

    def _bottom(self) -> str:
        width = self.output.get_size().columns - 1
        inquiry = self.loading.now
        return inquiry.bottom_line(width) if inquiry else " ? help | Tab lists | Ctrl-C keeps your answers"[:width]

    def _options(self) -> Iterable[tuple[str, str]]:
        inquiry = self.loading.now
        prompt = inquiry.prompt() if inquiry else None
        return prompt.options if prompt else ()

    def _names(self) -> Iterable[str]:
        inquiry = self.loading.now
        return inquiry.of.base.words.names() if inquiry else ()

    def ask(self, default: str = "") -> str:
        """Return one typed line; line ends in a paste become spaces."""
        os.environ.setdefault("PROMPT_TOOLKIT_NO_CPR", "1")
        session: PromptSession[str] = PromptSession(
            completer=Answers(self._options, self._names), complete_while_typing=True, reserve_space_for_menu=ROWS,
            bottom_toolbar=self._bottom, key_bindings=_keys(), output=self.output,
        )  # fmt: skip
        return session.prompt("> ", default=default, pre_run=self.loading.start).replace("\n", " ")[:2000]
