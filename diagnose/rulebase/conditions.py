"""The `when:` grammar of the rules files, read into condition records with SI numbers."""

from __future__ import annotations

from typing import Any

from diagnose.model.condition import Against, All, AtLeast, Condition, Is, Nothing, Window, Within
from diagnose.model.condition import Any as AnyOf
from diagnose.rulebase import formats
from diagnose.rulebase.cursor import Cursor, suggest
from diagnose.rulebase.files import Located, LocatedList
from diagnose.rulebase.vocabulary import Vocabulary

SIDES: dict[str, tuple[Any, ...]] = {
    "below": ("below",), "above": ("above",), "outside": ("below", "above"), "inside": ("inside",)
}  # fmt: skip


class ConditionReader:
    """Reads conditions against a vocabulary; faults go to the cursor they were found at."""

    def __init__(self, words: Vocabulary) -> None:
        self.words = words
        self._single: dict[tuple[str, str], Is] = {}  # a fact with one answer stands in many rules of a file

    def read(self, tree: Any, at: Cursor) -> Condition | None:
        """Return the condition a tree stands for, or None after noting what is wrong."""
        if not isinstance(tree, Located) or not tree:
            at.fault("a condition must be `fact: answer` entries or a group.", "See DEVELOPERS.md, Writing a rule.")
            return None
        here = Cursor(tree, at.file, at.id, at.issues, tree.line)
        if set(tree) & {"all", "any", "none", "at least"}:
            return self._group(tree, here)
        parts = [self._leaf(fact, test, here) for fact, test in tree.items()]
        if any(p is None for p in parts):
            return None
        return parts[0] if len(parts) == 1 else All(parts=tuple(p for p in parts if p))

    def _group(self, tree: Located, here: Cursor) -> Condition | None:
        here.only(*formats.GROUPS)
        word = next(k for k in tree if k in ("all", "any", "none", "at least"))
        branches = tree.get("of") if word == "at least" else tree[word]
        if not isinstance(branches, LocatedList) or not branches:
            here.fault(f"'{word}' needs a list of conditions.", key=word)
            return None
        found = [self.read(b, here) for b in branches]
        parts = tuple(p for p in found if p is not None)
        if len(parts) != len(found):
            return None
        if word == "at least":
            count = here.attempt(lambda: int(tree["at least"]), "at least")
            if not count or count > len(parts):
                here.fault("'at least' needs a whole number no larger than its list.", key="at least")
                return None
            return AtLeast(count=count, parts=parts)
        if word == "all":
            return All(parts=parts)
        return AnyOf(parts=parts) if word == "any" else Nothing(parts=parts)

    def _leaf(self, fact: str, test: Any, here: Cursor) -> Condition | None:
        if isinstance(test, str) and (known := self._single.get((fact, test))):
            return known
        dimension = self.words.dimension(fact)
        if dimension is None:
            here.fault(f"unknown fact '{fact}'.", suggest(fact, self.words.names()), fact)
            return None
        if dimension == "answer":
            return self._answers(fact, test, here)
        if not isinstance(test, Located):
            here.fault(f"'{fact}' is a number; compare it with below, above, between or window.", key=fact)
            return None
        return self._number(fact, dimension, Cursor(test, here.file, here.id, here.issues, test.line))

    def _answers(self, fact: str, test: Any, here: Cursor) -> Condition | None:
        wanted = (test,) if isinstance(test, str) else tuple(test) if isinstance(test, LocatedList) else ()
        known = self.words.answers(fact)
        for answer in wanted:
            if answer not in known:
                here.fault(f"'{answer}' is no answer to '{fact}'.", suggest(str(answer), known), fact)
                return None
        if not wanted:
            here.fault(f"'{fact}' is answered in words: {', '.join(known)}.", key=fact)
            return None
        found = Is(fact=fact, answers=wanted)
        if isinstance(test, str):
            self._single[fact, test] = found
        return found

    def _number(self, fact: str, dimension: str, t: Cursor) -> Condition | None:
        t.only(*formats.TESTS.keys)
        if t.has("window"):
            setting = self.words.settings.get(fact)
            if setting is None or not setting.windows:
                t.fault(f"'{fact}' has no window.", "Give it `windows:` in its stage's _settings.yaml.", "window")
                return None
            return Window(fact=fact, sides=SIDES[t.choice("window", tuple(SIDES))])
        for word, side in (("less than", "below"), ("more than", "above")):
            if t.has(word):
                return self._against(fact, dimension, word, side, t)
        low = high = None
        if t.has("between"):
            ends = t.texts("between")
            if len(ends) != 2:
                t.fault("'between' needs two quantities.", key="between")
                return None
            low, high = (t.quantity("between", dimension, e) for e in ends)
        if t.has("above"):
            low = t.quantity("above", dimension)
        if t.has("below"):
            high = t.quantity("below", dimension)
        if low is None and high is None:
            t.fault(f"'{fact}' needs below, above, between or window.")
            return None
        return Within(fact=fact, low=low, high=high)

    def _against(self, fact: str, dimension: str, word: str, side: Any, t: Cursor) -> Condition | None:
        other = t.text(word)
        if self.words.dimension(other) != dimension:
            t.fault(f"'{other}' is not a {dimension} to compare '{fact}' with.", key=word)
            return None
        by = t.text("by", "0 %")
        if by.endswith("%"):
            share = t.quantity("by", "percent", by)
            return Against(fact=fact, other=other, side=side, share=share)
        change = "temperature change" if dimension == "temperature" else dimension
        return Against(fact=fact, other=other, side=side, amount=t.quantity("by", change, by))
