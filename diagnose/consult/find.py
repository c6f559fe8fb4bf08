"""From what a person types to the defect they mean: words weighed by how few defects they stand for, loosely spelled.

Each word typed is looked up among the words of all defects once: the same word, or one spelled almost alike. A word
that few defects have says much, one that many have says little. A defect scores by how much of what was typed its
name, its synonyms and its looks cover, and by how well one of its names or synonyms fits as a whole.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from math import log
from typing import NamedTuple

from rapidfuzz import process
from rapidfuzz.distance import OSA

from diagnose.model.knowledge import Defect

STAGE_WORDS = {
    "mold": "rubber mold cavity silicone vulcanised vulcanized press cured sprue gate stem",
    "wax": "wax pattern injection injected injector mold gate stem",
    "tree": "tree sprue gate trunk stem",
    "investment": "investment plaster slurry powder mix flask",
    "burnout": "burnout kiln flask oven fired mold",
    "casting": "casting cast metal silver gold bronze brass sterling platinum karat ring piece flask tree sprue gate "
    "stem button polish pickle",
    "model": "model master original",
}
"""Words by which people say where in the work they are; those of several stages speak for each of them."""
FILLERS = frozenset((
    "a", "an", "the", "my", "of", "on", "in", "it", "its", "is", "are", "was", "there", "theres", "there's",
    "all", "to", "i", "have", "has", "had", "got", "with", "and", "at", "from", "when", "that", "this", "every",
    "some", "where", "after", "by", "out", "not", "no", "be", "been", "does", "do", "did", "me", "you", "we",
    "one", "ones", "just", "only", "very", "really", "up", "as", "for", "so", "if", "than", "then", "will",
    "would", "can", "cant", "wont", "dont", "doesnt", "didnt", "into", "what", "how", "much", "too",
))  # fmt: skip
SPELLINGS = {
    "mould": "mold", "color": "colour", "sulfur": "sulphur", "gray": "grey", "aluminum": "aluminium",
    "shrank": "shrink", "shrunk": "shrink", "shrunken": "shrink", "broke": "break", "broken": "break",
    "tore": "tear", "torn": "tear", "blew": "blow", "blown": "blow", "stuck": "stick", "fell": "fall",
    "ran": "run", "bent": "bend", "lost": "lose", "swelled": "swell", "swollen": "swell", "froze": "freeze",
    "frozen": "freeze", "halves": "half", "worse": "bad", "sank": "sink", "sunk": "sink", "sunken": "sink",
}  # fmt: skip
KIN = (
    "middle centre center core inside heart", "crack split fracture fissure", "dent dip dish hollow sink cave dimple",
    "hole pit pore cavity crater void", "pimple bump wart nodule lump", "speck dot spot grit dirt bit crumb debris",
    "rough gritty sandy sandpaper grainy sand", "black dark sooty", "shine gloss lustre luster sheen",
    "missing incomplete unfilled short unformed", "stick bond weld glue fuse grab", "break snap",
    "bubble blister froth foam", "soft gummy raw uncook mushy", "smell stink odour odor",
    "small undersize tiny little", "big large oversize huge", "thick fat heavy", "bend crooked twist warp lean tilt",
    "seam line ridge", "fin flash wing fringe web", "cloudy milky hazy frost dull matt matte",
    "leak escape drip ooze", "fast quick soon early", "slow long late forever", "float rise",
    "hiss spit splash sputter explode jump", "red rose pink copper", "ball bead sphere", "tear rip split",
    "pop bang burst explode", "weight weigh", "form fill full", "oval egg", "runny fluid liquid thin",
    "wrinkle ripple crease wave fold",
)  # fmt: skip
ENDINGS = ("ings", "ing", "edly", "ed", "ness", "es", "ly", "s")

SLIPS = {4: 1, 7: 2}  # wrong, missing, added or swapped letters that a word of at least so many letters may have
LEAST = 25.0  # a score below this is no find
SAID, SEEN = 1.0, 0.6  # what a word counts that stands in a name or synonym, or only in the looks
AKIN = 0.6  # what a word of like meaning counts
WHOLE = 0.4  # share of the score for how well one name or synonym fits as a whole
HERE, ELSEWHERE = 10.0, -8.0  # for a word of the defect's stage, and for words of other stages alone


class Found(NamedTuple):
    """A defect and how well it fits what was typed, about 0 to 110."""

    defect: Defect
    score: float


def bare(text: str) -> list[str]:
    """Return the words that carry meaning, without endings."""
    return [stem(w) for w in re.findall(r"[a-z0-9']+", text.casefold()) if w not in FILLERS]


def stem(word: str) -> str:
    """Return a word without its ending, spelled one way."""
    word = word.replace("'", "")
    word = SPELLINGS.get(word, word)
    for ending in ENDINGS:
        if word.endswith(ending) and len(word) - len(ending) >= 3 and not word.endswith("ss"):
            word = word[: -len(ending)]
            break
    if len(word) > 3 and word[-1] == word[-2] and word[-1] not in "lsz":
        word = word[:-1]
    word = word[:-1] if len(word) > 3 and word.endswith("e") else word
    return SPELLINGS.get(word, word)


class Finder:
    """Looks typed words up among the defects' names, synonyms and looks."""

    def __init__(self, defects: Iterable[Defect]) -> None:
        self.defects = list(defects)
        self._phrases = [_phrases(d) for d in self.defects]
        self._looks = [frozenset(bare(d.looks)) for d in self.defects]
        self._stages = {stage: frozenset(bare(words)) for stage, words in STAGE_WORDS.items()}
        own = [
            frozenset(w for p in phrases for w in p) | looks
            for phrases, looks in zip(self._phrases, self._looks, strict=True)
        ]
        met: dict[str, int] = {}
        for words in own:
            for word in words:
                met[word] = met.get(word, 0) + 1
        self._says = {word: log(1.0 + len(own) / count) for word, count in met.items()}
        self._words = tuple(met)
        self._kin: dict[str, set[str]] = {}
        for group in (frozenset(bare(words)) for words in KIN):
            for word in group:
                self._kin.setdefault(word, set()).update(kin for kin in group if kin != word and kin in met)
        self._said = frozenset(w for phrases in self._phrases for p in phrases for w in p)
        self._own = own

    def search(self, text: str, limit: int = 5) -> list[Found]:
        """Return the best fitting defects, best first."""
        typed = tuple(dict.fromkeys(bare(text)))
        meant = {word: self._meant(word) for word in typed}
        if not any(meant.values()):
            return []
        most = log(1.0 + len(self.defects))
        # A word that no defect has counts too: what it says is not covered.
        says = {w: max((self._says[m] * s for m, s in meant[w].items()), default=most / 2.0) for w in typed}
        found = [Found(d, self._score(n, typed, meant, says)) for n, d in enumerate(self.defects)]
        return sorted((f for f in found if f.score >= LEAST), key=lambda f: -f.score)[:limit]

    def _meant(self, word: str) -> dict[str, float]:
        """Return the known words that a typed one can stand for, with how surely: spelled alike, or of like meaning."""
        found = self._spelled(word)
        for kin in self._kin.get(word, ()):
            found[kin] = max(found.get(kin, 0.0), AKIN)
        return found

    def _spelled(self, word: str) -> dict[str, float]:
        """Return the known words that a typed one can be meant for by its spelling, with how nearly."""
        if word in self._said:
            return {word: 1.0}
        found = {word: 1.0} if word in self._says else {}
        slips = max((n for letters, n in SLIPS.items() if len(word) >= letters), default=0)
        near = process.extract(word, self._words, scorer=OSA.distance, score_cutoff=slips, limit=8) if slips else []
        return found | {known: 1.0 - distance / len(word) for known, distance, _ in near if known != word}

    def _score(
        self, n: int, typed: tuple[str, ...], meant: Mapping[str, Mapping[str, float]], says: Mapping[str, float]
    ) -> float:
        said = frozenset(w for phrase in self._phrases[n] for w in phrase)
        total = sum(says.values())
        covered = 0.0
        for word in typed:
            covered += says[word] * max(
                (s * _place(m, said, self._looks[n]) for m, s in meant[word].items()), default=0.0
            )
        if covered == 0.0:
            return 0.0
        whole = max(self._fit(phrase, meant, says) for phrase in self._phrases[n])
        score = 100.0 * ((1.0 - WHOLE) * covered / total + WHOLE * whole)
        stage = self._stages[self.defects[n].stage]
        elsewhere = frozenset().union(*self._stages.values()) - stage
        named = {m for word in typed for m in meant[word]} | set(typed)
        if named & stage:
            return score + HERE
        return score + (ELSEWHERE if named & elsewhere else 0.0)

    def _fit(
        self, phrase: tuple[str, ...], meant: Mapping[str, Mapping[str, float]], says: Mapping[str, float]
    ) -> float:
        """Return how much of a phrase was typed and how much of what was typed is in it, the mean of both."""
        here = {m: s for near in meant.values() for m, s in near.items() if m in phrase}
        there = sum(self._says[w] * here.get(w, 0.0) for w in phrase) / (sum(self._says[w] for w in phrase) or 1.0)
        back = sum(says[w] * max((s for m, s in near.items() if m in phrase), default=0.0) for w, near in meant.items())
        return 0.5 * there + 0.5 * back / sum(says.values())


def _phrases(defect: Defect) -> list[tuple[str, ...]]:
    texts = (defect.name, defect.id.split(".")[1].replace("-", " "), *defect.words)
    return [phrase for text in texts if (phrase := tuple(dict.fromkeys(bare(text))))]


def _place(word: str, said: frozenset[str], seen: frozenset[str]) -> float:
    return SAID if word in said else SEEN if word in seen else 0.0
