"""Dangerous ideas in what a person writes: met by the caution that answers them, whatever was asked."""

from __future__ import annotations

import re
from collections.abc import Iterable

from diagnose.consult.find import stem
from diagnose.model.knowledge import Hazard

BETWEEN = 2  # words that may stand between two words of a phrase: "open the smoking, hissing kiln"
ARTICLES = frozenset(("a", "an", "the", "my", "it", "this", "that"))


class Dangers:
    """Knows the phrases by which each caution is called for."""

    def __init__(self, hazards: Iterable[Hazard]) -> None:
        self._called = [(_words(phrase), hazard) for hazard in hazards for phrase in hazard.words]

    def touched(self, text: str) -> list[Hazard]:
        """Return the cautions that a text calls for, each once."""
        words = _words(text)
        return list({h.name: h for phrase, h in self._called if _stands_in(phrase, words)}.values())


def _words(text: str) -> tuple[str, ...]:
    return tuple(stem(w) for w in re.findall(r"[a-z0-9']+", text.casefold()) if w not in ARTICLES)


def _stands_in(phrase: tuple[str, ...], words: tuple[str, ...]) -> bool:
    """Say whether the words of a phrase stand in a text in their order, close together."""
    if not phrase:
        return False
    for start in (i for i, word in enumerate(words) if word == phrase[0]):
        at = start
        for wanted in phrase[1:]:
            found = next((i for i in range(at + 1, min(at + BETWEEN + 2, len(words))) if words[i] == wanted), None)
            if found is None:
                break
            at = found
        else:
            return True
    return False
