"""What a typed name can mean: the names of facts, the other names that people use, and near ones for unknown names."""

from __future__ import annotations

import re
from collections.abc import Collection, Iterable, Iterator, Mapping
from typing import TYPE_CHECKING

from rapidfuzz import fuzz

from diagnose import units
from diagnose.errors import BadInput

if TYPE_CHECKING:
    from diagnose.model.vocabulary import Slot
    from diagnose.rulebase.vocabulary import Vocabulary

SPELLED: Mapping[str, str] = {
    "temp": "temperature", "temps": "temperatures", "mould": "mold", "moulds": "molds", "dia": "diameter",
    "diam": "diameter", "wt": "weight", "vac": "vacuum", "invest": "investment", "centre": "center", "aging": "ageing",
}  # fmt: skip
"""How words are shortened, or spelled elsewhere."""
WORD_ALIKE = 80.0  # of 100: two words are one, misspelt
NAME_ALIKE = 86.0  # of 100: two names of one word are one, misspelt
JOINED_ALIKE = 92.0  # of 100: two names are one, parted into words elsewhere
MOST_NEAR = 4
_OF = re.compile(r"(.+?) of (?:the |an? )?(.+)")


def folded(typed: str) -> str:
    """Return a name as it is compared: small letters, no hyphens or articles, `A of B` as `B A`, no short words."""
    words = re.sub(r"[-_\s]+|[.,](?= |$)", " ", typed.casefold().replace("°", "")).strip(" :?").removeprefix("the ")
    if turned := _OF.fullmatch(" ".join(words.split())):
        words = f"{turned[2]} {turned[1]}"
    return " ".join(SPELLED.get(word, word) for word in words.split())


def stage_of(defect: str) -> str:
    """Return the stage that a defect's id begins with; nothing for no defect."""
    return defect.partition(".")[0]


class Names:
    """The names of facts, with the other names that people use for settings, observations and places of materials."""

    def __init__(self, words: Vocabulary) -> None:
        self._words = words
        self._plain = {name.casefold().replace("-", " "): name for name in words.names()}
        self._own: dict[str, list[str]] = {}
        for name in words.names():
            for said in {name: None, units.prose(name, "us"): None}:
                self._own.setdefault(folded(said), []).append(name)
        self._other: dict[str, list[str]] | None = None

    @property
    def other(self) -> Mapping[str, list[str]]:
        """Return what each other name can mean; every setting, observation and material is read for it."""
        if self._other is None:
            self._other = {}
            for name, said in other_names(self._words):
                for word in said:
                    if name not in (meant := self._other.setdefault(folded(word), [])):
                        meant.append(name)
        return self._other

    def meant(self, typed: str, stage: str = "", among: Collection[str] | None = None) -> tuple[str, ...]:
        """Return the facts that a name can mean: the one of that name, else all that people call so.

        Of several it is the one of a stage, where exactly one belongs to it; `among` are the only ones to look for.
        """
        plain = self._plain.get(" ".join(typed.casefold().replace("-", " ").split()))
        found = _those([plain] if plain else self._own.get(folded(typed), []), among)
        found = found or _those(self.other.get(folded(typed), []), among)
        return self.of_stage(tuple(found), stage)

    def of_stage(self, names: tuple[str, ...], stage: str) -> tuple[str, ...]:
        """Return the one of some facts that belongs to a stage, where exactly one does; all of them where not."""
        own = ("", stage)  # a place for a material is of every stage
        here = tuple(name for name in names if stage and self._stage(name) in own)
        return here if len(here) == 1 else names

    def also(self, name: str, stage: str) -> tuple[str, ...]:
        """Return what people of a stage call by the name of a fact that belongs to another stage."""
        if self._stage(name) == stage:
            return ()
        return tuple(n for n in self.other.get(folded(name), ()) if n != name and self._stage(n) == stage)

    def near(self, typed: str, among: Collection[str] | None = None) -> list[str]:
        """Return the facts whose names are so like a typed one that it may be meant, the likest first."""
        asked = folded(typed)
        likes: dict[str, float] = {}
        for said, names in (*self._own.items(), *self.other.items()):
            like = likeness(asked, said)
            for name in names if like else ():
                if (among is None or name in among) and name not in self._words.derived:
                    likes[name] = max(like, likes.get(name, 0.0))
        return sorted(likes, key=lambda name: (-likes[name], name))[:MOST_NEAR]

    def _stage(self, name: str) -> str:
        table: Mapping[str, object] = self._words.settings
        entry = table.get(name) or self._words.observations.get(name) or self._words.derived.get(name)
        return str(getattr(entry, "stage", ""))


def _those(names: Iterable[str], among: Collection[str] | None) -> list[str]:
    return [name for name in names if among is None or name in among]


def other_names(words: Vocabulary) -> Iterator[tuple[str, tuple[str, ...]]]:
    """Yield every setting, observation and place of a material with the other names that people use."""
    for table in (words.settings, words.observations, words.slots):
        for name, entry in table.items():
            yield name, entry.words


def likeness(asked: str, said: str) -> float:
    """Return how alike two folded names are, of 100; nothing where they are not fairly alike.

    They are alike when one is the other misspelt, or when every word of the one is a word of the other and not more
    than one is left over.
    """
    whole = fuzz.ratio(asked.replace(" ", ""), said.replace(" ", ""))
    one, other = sorted((asked.split(), said.split()), key=len)
    if len(other) == 1 or (len(one) != len(other) and whole >= JOINED_ALIKE):
        return whole if whole >= NAME_ALIKE else 0.0
    least, left = 100.0, list(other)
    for word in one:
        best = max(left, key=lambda w: fuzz.ratio(word, w))
        least = min(least, fuzz.ratio(word, best))
        left.remove(best)
    # A word left over is only believed beside words that are nearly sure.
    sure = least >= (NAME_ALIKE if left else WORD_ALIKE)
    return fuzz.token_sort_ratio(asked, said) if sure and len(left) <= (1 if len(one) > 1 else 0) else 0.0


def several(typed: str, names: Iterable[str]) -> BadInput:
    """Return the error for a name that can mean several facts."""
    return BadInput(f"'{typed.strip():.60}' can mean {' or '.join(names)}.", next_step="Write one of them.")


def materials_meant(slot: Slot, typed: str, begun: bool = False) -> tuple[str, ...]:
    """Return the materials that a name can mean: the one of that name, else all that are called so or of that kind.

    The words of a name may come in another order, or some of several may be left out: brass 70/30, 14k gold.
    With `begun` a name that is only begun will do where no whole one does.
    """
    asked = folded(typed)
    called = {m.name: (folded(m.name), folded(m.kind), *map(folded, m.words)) for m in slot.materials.values()}
    found = [n for n in called if called[n][0] == asked] or [n for n in called if asked in called[n]]
    found = found or _by_words(asked, called)
    if begun and len(asked) > 2:
        found = found or [n for n in called if any(said.startswith(asked) for said in called[n])]
    return tuple(found)


def _by_words(asked: str, called: Mapping[str, tuple[str, ...]]) -> list[str]:
    """Return the materials with a name of just these words, else those with one that has all of them and more."""
    typed = set(asked.split())
    if len(typed) < 2:
        return []
    same = [name for name, said in called.items() if any(set(one.split()) == typed for one in said)]
    return same or [name for name, said in called.items() if any(set(one.split()) > typed for one in said)]
