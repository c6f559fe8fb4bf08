"""Which facts follow from which, and which accusations elsewhere in the stage a moved setting could bring on."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from copy import copy

from diagnose.consult.rank import BAYES_FACTOR
from diagnose.consult.revise_levels import says_it_is_right
from diagnose.consult.standing import scalars
from diagnose.derive.calculator import Calculator
from diagnose.derive.resolve import Resolver
from diagnose.engine import Matcher
from diagnose.errors import RulesError
from diagnose.model.condition import Condition, Side, facts_of
from diagnose.model.knowledge import Defect, Rule
from diagnose.model.vocabulary import STAGES
from diagnose.rulebase.load import RuleBase

CASTING_STAGES = frozenset(STAGES[STAGES.index("tree") :])  # their settings are judged on the casting


Accused = dict[tuple[str, tuple[str, ...]], Rule]
"""What is accused: the heaviest rule for each cause and the facts it looks at."""


class Flow:
    """Which facts the calculators make from which, whatever is known in a case."""

    def __init__(self, calculators: Iterable[Calculator]) -> None:
        self.calculators = tuple(calculators)
        self._makers: dict[str, list[Calculator]] = {}
        for calculator in self.calculators:
            for fact in calculator.gives:
                self._makers.setdefault(fact, []).append(calculator)

    def before(self, facts: Iterable[str]) -> set[str]:
        """Return the facts and all that they can depend on."""
        found: set[str] = set()
        waiting = list(facts)
        while waiting:
            fact = waiting.pop()
            if fact not in found:
                found.add(fact)
                waiting += [n for c in self._makers.get(fact, ()) for n in (*c.needs, *c.takes)]
        return found

    def after(self, facts: Iterable[str]) -> set[str]:
        """Return the facts and all that can depend on them."""
        found = set(facts)
        size = 0
        while len(found) > size:
            size = len(found)
            for c in self.calculators:
                if not found.isdisjoint((*c.needs, *c.takes)):
                    found.update(c.gives)
        return found

    def only_for(self, resolver: Resolver, facts: Iterable[str]) -> Resolver:
        """Return a resolver that computes these facts and what they need; it remembers together with the whole one."""
        wanted = self.before(facts)
        some = copy(resolver)
        some.calculators = tuple(c for c in resolver.calculators if not wanted.isdisjoint(c.gives))
        return some


class Watch:
    """The accusations, at `positive` or stronger, that numbers alone can raise in the defects of a stage.

    A rule that also looks at what was seen is left out: the next part will look different. So is a rule that accuses
    because a number is right.
    """

    def __init__(self, defects: Iterable[Defect], seen: Iterable[str]) -> None:
        looks = frozenset(seen)
        rules: dict[tuple[str, Condition], Rule] = {}
        for defect in defects:
            own = defect.rules()
            for rule in own:
                if worth_watching(rule) and looks.isdisjoint(facts_of(rule.when)) and not says_it_is_right(rule, own):
                    rules.setdefault((rule.cause, rule.when), rule)
        self.rules: tuple[Rule, ...] = tuple(rules.values())
        self._matcher = Matcher([(str(i), rule.when) for i, rule in enumerate(self.rules)])

    def accused(self, facts: Mapping[str, object], windows: Mapping[str, Side]) -> Accused:
        """Return the heaviest accusation of each cause by each set of numbers that holds on these facts."""
        found: Accused = {}
        for match in self._matcher.evaluate(scalars(facts), windows):
            rule = self.rules[int(match.rule)]
            key = (rule.cause, facts_of(rule.when))
            if key not in found or BAYES_FACTOR[rule.weight] > BAYES_FACTOR[found[key].weight]:
                found[key] = rule
        return found


def new_accusations(before: Accused, after: Accused) -> tuple[Rule, ...]:
    """Return the accusations that are made only afterwards, or more heavily than before."""
    return tuple(
        rule for key, rule in after.items()
        if key not in before or BAYES_FACTOR[rule.weight] > BAYES_FACTOR[before[key].weight]
    )  # fmt: skip


def watch_for(base: RuleBase, defect: Defect) -> Watch:
    """Return what to watch while settings behind a defect are moved: the rules of all defects of its stage."""
    stages = CASTING_STAGES if defect.stage in CASTING_STAGES else {defect.stage}
    defects = {defect.id: defect}
    for ident in base.defect_files:
        if ident.split(".")[0] in stages:
            try:
                defects[ident] = base.defect(ident)
            except RulesError:  # a broken file is for `diagnose rules check` to tell
                continue
    return Watch(defects.values(), base.words.observations)


def worth_watching(rule: Rule) -> bool:
    """Say whether a rule accuses at `positive` or stronger."""
    return rule.speaks == "for" and BAYES_FACTOR[rule.weight] >= BAYES_FACTOR["positive"]
