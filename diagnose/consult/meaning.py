"""What a word means: words of the trade, materials, settings, what is seen, causes, defects, strengths of evidence."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from rapidfuzz import fuzz, process

from diagnose.consult.rank import BAYES_FACTOR
from diagnose.rulebase.load import RuleBase

NEAR = 84.0  # below this likeness a word is suggested, not taken


class Meaning(NamedTuple):
    """A word, what kind of thing it is, what it means, and its source where one is named."""

    word: str
    kind: str
    says: str
    source: str = ""


class Meanings:
    """Every word that can be explained, found by name, by other name, or loosely spelled."""

    def __init__(self, base: RuleBase) -> None:
        self._by_name: dict[str, list[Meaning]] = {}
        for names, meaning in _everything(base):
            for name in names:
                self._by_name.setdefault(folded(name), []).append(meaning)

    def of(self, typed: str) -> list[Meaning]:
        """Return what the typed word means, the trade's own sense first; nothing when it is not known."""
        asked = folded(typed)
        for name in (asked, asked.removesuffix("s"), asked + "s"):
            if name in self._by_name:
                return self._by_name[name]
        near = process.extractOne(asked, list(self._by_name), scorer=fuzz.ratio, score_cutoff=NEAR)
        return self._by_name[near[0]] if near else []

    def like(self, typed: str, limit: int = 4) -> list[str]:
        """Return known words that come nearest to one that is not known."""
        near = process.extract(folded(typed), list(self._by_name), scorer=fuzz.WRatio, score_cutoff=70, limit=limit)
        return [self._by_name[name][0].word for name, _, _ in near]


def folded(word: str) -> str:
    """Return a word as it is looked up: small letters, no hyphens, no article, single spaces."""
    words = word.casefold().replace("-", " ").strip(" ?.!'\"").split()
    return " ".join(words[1:] if len(words) > 1 and words[0] in ("a", "an", "the") else words)


def _everything(base: RuleBase) -> Iterator[tuple[tuple[str, ...], Meaning]]:
    vocabulary = base.words
    for word in base.glossary:
        yield (word.name, *word.also), Meaning(word.name, f"word of the trade ({word.stage})", word.says, word.source)
    for slot in vocabulary.slots.values():
        for material in slot.materials.values():
            says = f"{material.says or f'A kind of {slot.name}.'} Kind: {material.kind}."
            yield (material.name, *material.words), Meaning(material.name, slot.name, says)
        for prop in slot.properties.values():
            name = f"{slot.name} {prop.name}"
            yield (name,), Meaning(name, f"property of the {slot.name}", prop.says)
    for setting in vocabulary.settings.values():
        yield (setting.name, *setting.words), Meaning(setting.name, f"setting ({setting.stage})", setting.says)
    for derived in vocabulary.derived.values():
        yield (derived.name,), Meaning(derived.name, f"computed ({derived.stage})", derived.says)
    for seen in vocabulary.observations.values():
        kind = "bench test" if seen.bench_test else "something to look at"
        says = " ".join((seen.ask, seen.why, f"Answers: {', '.join(seen.answers)}."))
        yield (seen.name, *seen.words), Meaning(seen.name, f"{kind} ({seen.stage})", says)
    for hazard in base.hazards.values():
        yield (hazard.name,), Meaning(hazard.name, f"caution ({hazard.stage})", hazard.says, hazard.source)
    for cause in base.causes.values():
        yield (cause.name, cause.id), Meaning(cause.name, f"cause ({cause.stage})", cause.how)
    for defect in base.all_defects():
        yield (defect.name, defect.id, *defect.words), Meaning(defect.name, f"defect ({defect.stage})", defect.looks)
    for weight, factor in BAYES_FACTOR.items():
        says = f"How strong a sign is: it multiplies the odds of a cause by about {factor:.3g}, or divides them."
        yield (weight,), Meaning(weight, "strength of evidence", says, "Kass & Raftery 1995")
