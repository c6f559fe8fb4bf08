"""Where an inquiry stands: the facts, what follows from them, the rules that applied, the ranking."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property

from diagnose.consult.learned import Learned
from diagnose.consult.rank import Ranking, Votes, counted, priors, rank, word_for
from diagnose.consult.signs import sign_weights
from diagnose.derive.resolve import Resolved, Resolver
from diagnose.engine import Match, Matcher
from diagnose.model.condition import Condition, Nothing, Side, facts_of, leaves
from diagnose.model.knowledge import Cause, Defect, Hazard, Rule, Weight
from diagnose.model.vocabulary import Setting, SettingWindow
from diagnose.rulebase.load import RuleBase

Facts = Mapping[str, object]


def window_of(setting: Setting, facts: Facts) -> SettingWindow | None:
    """Return the first window of a setting whose materials fit the facts."""
    for window in setting.windows:
        if all(facts.get(fact) in answers for fact, answers in window.holds_for.items()):
            return window
    return None


def side_of(window: SettingWindow, value: float) -> Side:
    """Say on which side of a window a value lies; the ends belong to the inside."""
    slack = 1e-9 * max(abs(value), 1.0)
    if window.low is not None and value < window.low - slack:
        return "below"
    if window.high is not None and value > window.high + slack:
        return "above"
    return "inside"


class Desk:
    """One defect ready to be inquired into: its rules compiled, with its look-alikes, cautions and corrections."""

    def __init__(self, base: RuleBase, defect: Defect, learned: Learned | None = None) -> None:
        self.base, self.defect = base, defect
        self.rules = {rule.id: rule for rule in defect.rules()}
        self.learned = learned or Learned()
        self.prior = dict(self.learned.prior) or priors(defect)
        self.by_words = sign_weights(defect.rules(), base.words.observations)
        self._weights = {**self.by_words, **self.learned.weights}
        self.stages = self._stages()
        self.hazards = base.hazards.of_stages(self.stages)
        self.extra: dict[str, Condition] = {}
        for i, alike in enumerate(defect.mistaken_for):
            if alike.when is not None:
                self.extra[f"alike {i}"] = alike.when
        for hazard in self.hazards:
            if hazard.when is not None:
                self.extra[f"hazard {hazard.name}"] = hazard.when
        for cause in self.causes():
            for i, correction in enumerate(cause.corrections):
                if correction.when is not None:
                    self.extra[f"correction {cause.id} {i}"] = correction.when
        compiled = [(r.id, r.when) for r in self.rules.values()]
        self.matcher = Matcher(compiled)
        self.extra_matcher = Matcher(list(self.extra.items())) if self.extra else None
        self._looking_at: dict[str, Matcher] = {}
        self.rule_facts = tuple(dict.fromkeys(f for r in self.rules.values() for f in facts_of(r.when)))

    def _stages(self) -> set[str]:
        found = {self.defect.stage}
        for candidate in self.defect.candidates:
            found.add(candidate.cause.split(".")[0])
        return found

    def weigh(self, rule: Rule) -> float:
        """Return the ln weight a rule counts with: by its word, or what the shop's cases made of it."""
        return self._weights[rule.id]

    def word(self, rule: Rule) -> Weight:
        """Return the word for the weight that a rule counts with here."""
        return word_for(self.weigh(rule)) if rule.id in self.learned.weights else rule.weight

    def causes(self) -> list[Cause]:
        """Return the catalogue entries of the candidates that are causes of their own."""
        return [self.base.causes[c.cause] for c in self.defect.candidates if c.cause in self.base.causes]

    @cached_property
    def thresholds(self) -> dict[str, tuple[float, ...]]:
        """Return, per numeric fact, the numbers that rules compare it with, in order."""
        found: dict[str, set[float]] = {}
        for rule in self.rules.values():
            for leaf in leaves(rule.when):
                if leaf.kind in ("within", "beyond"):
                    ends = {e for e in (leaf.low, leaf.high) if e is not None}
                    found.setdefault(leaf.fact, set()).update(ends)
        return {fact: tuple(sorted(values)) for fact, values in found.items()}

    @cached_property
    def opposites(self) -> Matcher:
        """Return a matcher of the opposite of each rule: all that it looks at is known, and it does not hold."""
        return Matcher([(rule.id, Nothing(parts=(rule.when,))) for rule in self.rules.values()])

    def looking_at(self, fact: str) -> Matcher:
        """Return a matcher of the rules that look at a fact: all that its becoming known can make apply."""
        if fact not in self._looking_at:
            rules = [(r.id, r.when) for r in self.rules.values() if fact in facts_of(r.when)]
            self._looking_at[fact] = Matcher(rules)
        return self._looking_at[fact]

    def hazard(self, name: str) -> Hazard | None:
        """Return a caution by name."""
        return self.base.hazards.get(name)


@dataclass(frozen=True)
class Standing:
    """The state of one inquiry after the facts told so far."""

    desk: Desk
    resolved: Resolved
    windows: dict[str, Side]
    matches: tuple[Match, ...]
    ranking: Ranking

    @cached_property
    def applied(self) -> tuple[Rule, ...]:
        """Return the rules that applied, in file order."""
        return tuple(self.desk.rules[m.rule] for m in self.matches)

    @cached_property
    def votes(self) -> Votes:
        """Return the counted ln weight by cause and state."""
        weigh = self.desk.weigh
        return {(r.cause, r.about): weigh(r) for r in counted(self.applied, weigh)}

    @cached_property
    def by_rules_alone(self) -> Ranking:
        """Return the ranking without what the shop's cases taught."""
        return rank(priors(self.desk.defect), self.applied, lambda rule: self.desk.by_words[rule.id])

    @cached_property
    def extras(self) -> frozenset[str]:
        """Return the names of the look-alike, caution and correction conditions that hold."""
        if self.desk.extra_matcher is None:
            return frozenset()
        return frozenset(m.rule for m in self.desk.extra_matcher.evaluate(scalars(self.resolved.facts), self.windows))


def scalars(facts: Facts) -> dict[str, float | str]:
    """Return the facts that rules can look at: numbers and words, no lists of readings."""
    return {name: v for name, v in facts.items() if isinstance(v, (float, str))}


def windows_for(base: RuleBase, facts: Facts) -> dict[str, Side]:
    """Return the side of its window for every known setting that has one for these materials."""
    sides: dict[str, Side] = {}
    for name, value in facts.items():
        setting = base.words.settings.get(name) if isinstance(value, float) else None
        if setting is not None and setting.windows and isinstance(value, float):
            window = window_of(setting, facts)
            if window is not None:
                sides[name] = side_of(window, value)
    return sides


def stand(desk: Desk, resolver: Resolver, told: Mapping[str, object]) -> Standing:
    """Return where the inquiry stands after the facts told."""
    resolved = resolver.resolve(told)  # type: ignore[arg-type]
    return stand_on(desk, resolved)


def stand_on(desk: Desk, resolved: Resolved) -> Standing:
    """Return where the inquiry stands on facts already resolved."""
    windows = windows_for(desk.base, resolved.facts)
    matches = desk.matcher.evaluate(scalars(resolved.facts), windows)
    ranking = rank(desk.prior, (desk.rules[m.rule] for m in matches), desk.weigh)
    return Standing(desk, resolved, windows, matches, ranking)
