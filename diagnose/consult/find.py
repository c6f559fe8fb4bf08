"""From what a person types to the defect they mean: fuzzy match over names, synonyms and looks."""

from __future__ import annotations

import re
from collections.abc import Iterable
from typing import NamedTuple

from rapidfuzz import fuzz

from diagnose.model.knowledge import Defect

STAGE_WORDS = {
    "mold": ("rubber", "mold", "mould", "cavity", "silicone", "vulcanised", "press", "cured"),
    "wax": ("wax", "waxes", "pattern", "injection", "injected"),
    "tree": ("tree", "sprue", "gate", "trunk"),
    "investment": ("investment", "plaster", "slurry", "flask"),
    "burnout": ("burnout", "kiln", "flask", "oven"),
    "casting": ("casting", "cast", "metal", "silver", "gold", "bronze", "ring", "piece", "castings"),
    "model": ("model", "master", "original"),
}
FILLERS = frozenset(
    (
        *(
            "a",
            "an",
            "the",
            "my",
            "of",
            "on",
            "in",
            "it",
            "its",
            "is",
            "are",
            "was",
            "there",
            "theres",
            "there's",
            "all",
        ),
        *(
            "to",
            "i",
            "have",
            "has",
            "got",
            "with",
            "and",
            "at",
            "from",
            "when",
            "that",
            "this",
            "every",
            "some",
            "where",
        ),
        *("after", "by", "out", "not", "no", "be", "been", "does", "do"),
    )
)

APART = 0.85  # what a match is worth when the words that say where were left out of it


class Found(NamedTuple):
    """A defect and how well it fits what was typed, 0 to 100."""

    defect: Defect
    score: float


def bare(text: str) -> list[str]:
    """Return the words that carry meaning, plural endings trimmed."""
    words = re.findall(r"[a-z0-9']+", text.casefold())
    return [w[:-1] if len(w) > 3 and w.endswith("s") and not w.endswith("ss") else w for w in words if w not in FILLERS]


class Finder:
    """Looks typed words up among the defects' names and synonyms."""

    def __init__(self, defects: Iterable[Defect]) -> None:
        self.defects = list(defects)
        self._phrases = {
            d.id: [bare(p) for p in (d.name, d.id.split(".")[1].replace("-", " "), *d.words)] for d in self.defects
        }
        self._looks = {d.id: set(bare(d.looks)) for d in self.defects}

    def search(self, text: str, limit: int = 5) -> list[Found]:
        """Return the best fitting defects, best first."""
        typed = bare(text)
        if not typed:
            return []
        found = [Found(d, self._score(d, typed)) for d in self.defects]
        return sorted((f for f in found if f.score >= 40.0), key=lambda f: -f.score)[:limit]

    def _score(self, defect: Defect, typed: list[str]) -> float:
        stage = set(bare(" ".join(STAGE_WORDS.get(defect.stage, ()))))
        elsewhere = {w for s, words in STAGE_WORDS.items() if s != defect.stage for w in words} - stage
        # Where it is seen is scored apart, so that "wax" alone does not make two faults alike.
        telling = [w for w in typed if w not in stage and w not in elsewhere] or typed
        phrases = self._phrases[defect.id]
        apart = max(_alike(telling, [p for p in phrase if p not in stage] or phrase) for phrase in phrases)
        best = max(apart * APART, *(_alike(typed, phrase) for phrase in phrases))
        best += 12.0 if any(w in stage for w in typed) else 0.0
        best -= 8.0 if any(w in elsewhere for w in typed) else 0.0
        return best + 10.0 * len(set(typed) & self._looks[defect.id]) / len(set(typed))


def _alike(typed: list[str], phrase: list[str]) -> float:
    """Return how well two lists of words agree: each word against its best partner, in any order."""
    if not phrase:
        return 0.0
    there = [max(fuzz.ratio(w, p) for p in phrase) for w in typed]
    back = [max(fuzz.ratio(p, w) for w in typed) for p in phrase]
    return 0.45 * _close(there) + 0.55 * _close(back)


def _close(scores: list[float]) -> float:
    """Return the mean of the scores, those of words that are not alike counted as nothing."""
    return sum(s if s >= 78.0 else 0.0 for s in scores) / len(scores)
