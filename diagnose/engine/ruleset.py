"""The wall around the rules engine: the C module as a pure function from one message to the alternatives met.

Every call starts from nothing and leaves nothing: a fresh state, a sentinel that proves the engine reads
numbers rightly, one message, all matches, and the state is deleted. The engine is never asked to retract,
negate, join or take a batch: those are where it goes wrong or takes the process down. It also has limits
that it does not check (rules on one condition, conditions on one node, properties of a message); the limits
below stay well inside them.
"""

from __future__ import annotations

import weakref
from collections.abc import Iterator, Sequence
from itertools import count
from threading import Lock
from typing import Any

from diagnose.errors import EngineError

MOST_ALTERNATIVES, MOST_KEYS, MOST_TESTS = 56, 200, 400
_REMEMBERED = 64
_SENTINEL = "~ok"
_RESCUE = "~up"

Test = tuple[str, str]


def engine() -> Any:
    """Return the engine's C module, loaded when first needed."""
    try:
        import durable_rules_engine
    except ImportError as problem:
        raise EngineError(
            "the rules engine (package durable-rules) is not installed or was built for another Python.",
            next_step=(
                "It is built from source, so a C compiler and the Python headers must be there; then run: "
                "CPPFLAGS=-DPyEval_CallObject=PyObject_CallObject "
                "pip install --no-cache-dir --force-reinstall durable-rules==2.0.28"
            ),
        ) from problem
    return durable_rules_engine


def fits(alternatives: int, tests: set[Test]) -> bool:
    """Tell whether one ruleset may hold so many alternatives with these tests."""
    keys = {key for key, _ in tests}
    return alternatives <= MOST_ALTERNATIVES and len(tests) <= MOST_TESTS and len(keys) <= MOST_KEYS


class Ruleset:
    """A few alternatives, compiled; answers which of them a message meets."""

    def __init__(self, items: Sequence[Sequence[Test]]) -> None:
        self.keys = tuple(dict.fromkeys(key for tests in items for key, _ in tests))
        if not all(items) or not fits(len(items), {test for tests in items for test in tests}):
            raise _refused("so many rules at once")
        self._engine = engine()
        self._lock = Lock()
        self._runs = count(1)
        self._remembered: dict[str, tuple[int, ...]] = {}
        rules = [_rule(str(name), [test for _, test in sorted(tests)]) for name, tests in enumerate(items)]
        rules.append(_rule(_SENTINEL, ['{"$gt":{"~v":0.5}}', '{"$lt":{"~v":0.8}}'], frame="ok"))
        rules.append(_rule(_RESCUE, ['{"~u":"1"}'], frame="up"))
        try:
            self._handle = self._engine.create_ruleset("rules", f"{{{','.join(rules)}}}")
        except Exception as problem:
            raise _refused("the rules") from problem
        weakref.finalize(self, self._engine.delete_ruleset, self._handle).atexit = False

    def met(self, fields: str) -> tuple[int, ...]:
        """Return the numbers of the alternatives that are met by a message with these fields."""
        with self._lock:
            known = self._remembered.get(fields)
            if known is None:
                known = self._run(fields)
                if len(self._remembered) >= _REMEMBERED:
                    self._remembered.clear()
                self._remembered[fields] = known
            return known

    def forget(self) -> None:
        """Forget earlier answers, so that the next one is worked out anew."""
        with self._lock:
            self._remembered.clear()

    def _run(self, fields: str) -> tuple[int, ...]:
        # A state of its own for every run: one left behind when Ctrl-C came between two calls disturbs no other.
        state = str(next(self._runs))
        try:
            # The sentinel comes first: it gives a real place to drain from, and a state in which no rule ever
            # fired must not be deleted, or the process goes down.
            _, place = self._engine.assert_fact(self._handle, _message(state, "ok", ',"~v":0.75'))
            proven = list(self._drain(place)) == [_SENTINEL]
            if not proven:
                self._engine.assert_fact(self._handle, _message(state, "up", ',"~u":"1"'))
                list(self._drain(place))
            try:
                if not proven:
                    raise _misread()
                self._engine.assert_fact(self._handle, _message(state, "f", fields))
                return tuple(sorted(int(name) for name in self._drain(place)))
            finally:
                self._engine.delete_state(self._handle, state)
        except EngineError:
            raise
        except Exception as problem:
            raise _refused("the facts") from problem

    def _drain(self, place: int) -> Iterator[str]:
        started = self._engine.start_action_for_state(self._handle, place)
        match = started[1] if started else None
        while match is not None:
            yield match[2 : match.index('"', 2)]  # {"name":{...
            match = self._engine.complete_and_start_action(self._handle, place)


def _rule(name: str, tests: Sequence[str], frame: str = "f") -> str:
    return f'"{name}":{{"all":[{{"m":{{"$and":[{{"~g":"{frame}"}},{",".join(tests)}]}}}}]}}'


def _message(state: str, frame: str, fields: str) -> str:
    return f'{{"~g":"{frame}","sid":"{state}","id":"{frame}"{fields}}}'


def _refused(what: str) -> EngineError:
    return EngineError(
        f"the rules engine refused {what}.", next_step="This is a fault in the program: please report it."
    )


def _misread() -> EngineError:
    return EngineError(
        "the rules engine failed its self-check: it misreads decimal numbers.",
        next_step="Some library has switched to a decimal comma: set LC_NUMERIC to C and start again.",
    )
