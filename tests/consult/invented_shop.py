"""A shop whose causes and signs are known exactly, and a rules base that is wrong about them.

Each sign has answers; one is the telling one. Each listed cause that a sign tells about has a rule for it on the
telling answer and a rule against it on the others, with the word in whose band the ratio of an expert's chances lies.
The shop's own chances are the expert's, moved on the scale of ln odds; its shares of the causes are moved likewise.
So the exact posterior of the shop is known: it is Bayes' rule on its own chances.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import accumulate

import numpy as np

from diagnose.consult.learned import Learned
from diagnose.consult.rank import PRIOR, UNLISTED, log_weight, priors, rank, word_for
from diagnose.model.condition import Is
from diagnose.model.experience import Experience, RuleCount
from diagnose.model.knowledge import Candidate, Defect, Rule

Signs = Mapping[str, str]


@dataclass(frozen=True)
class Seen:
    """One case: its true cause and what was told of it."""

    cause: str
    signs: Signs


@dataclass(frozen=True)
class InventedShop:
    """The rules base's defect, and what is true in the shop."""

    defect: Defect
    shares: dict[str, float]
    chances: Mapping[str, Mapping[str, dict[str, float]]]  # sign -> cause -> answer -> chance
    told: float

    def draw(self, dice: np.random.Generator, count: int) -> list[Seen]:
        """Return cases as they come to the shop: a cause, and each sign told or not."""
        found = []
        for _ in range(count):
            cause = _one_of(self.shares, dice)
            told = [sign for sign in self.chances if dice.random() < self.told]
            found.append(Seen(cause, {sign: _one_of(self.chances[sign][cause], dice) for sign in told}))
        return found

    def truth(self, signs: Signs) -> dict[str, float]:
        """Return the exact chance of each cause."""
        found = {
            cause: share * math.prod(self.chances[sign][cause][answer] for sign, answer in signs.items())
            for cause, share in self.shares.items()
        }
        total = sum(found.values())
        return {cause: value / total for cause, value in found.items()}


def invented_shop(
    dice: np.random.Generator, causes: int = 5, signs: int = 6, told: float = 0.6, moved: float = 1.0
) -> InventedShop:
    """Return a shop with listed causes, of which each sign tells about one to three; `moved` is in ln odds."""
    names = [f"cause {n}" for n in range(causes)]
    often = {name: str(dice.choice(list(PRIOR))) for name in names}
    rules: dict[str, list[Rule]] = {name: [] for name in names}
    chances: dict[str, dict[str, dict[str, float]]] = {}
    for n in range(signs):
        sign = f"sign {n}"
        others = [f"other {i}" for i in range(int(dice.integers(1, 3)))]
        split = dice.dirichlet([3.0] * len(others))
        usual = float(dice.choice([0.02, 0.05, 0.1, 0.2, 0.3]))
        base = _moved(usual, 0.5 * moved * dice.normal())
        chances[sign] = {name: _answers(base, others, split) for name in (*names, UNLISTED)}
        for name in dice.choice(names, size=int(dice.integers(1, 4)), replace=False):
            with_cause = max(float(dice.choice([0.4, 0.6, 0.8, 0.9, 0.97])), min(2.0 * usual, 0.97))
            chances[sign][name] = _answers(_moved(with_cause, moved * dice.normal()), others, split)
            rules[name] += _rules(str(name), sign, others, with_cause, usual)
    candidates = tuple(Candidate(cause=n, often=often[n], rules=tuple(rules[n])) for n in names)
    defect = Defect(
        id="mold.invented", stage="mold", name="invented", looks="", words=(), mistaken_for=(), candidates=candidates
    )
    prior = priors(defect)
    weights = {name: share * math.exp(moved * dice.normal()) for name, share in prior.items()}
    total = sum(weights.values())
    return InventedShop(defect, {name: w / total for name, w in weights.items()}, chances, told)


def _one_of(chances: dict[str, float], dice: np.random.Generator) -> str:
    at = dice.random()
    sums = accumulate(chances.values())
    return next((name for name, total in zip(chances, sums, strict=True) if at < total), next(reversed(chances)))


def _moved(chance: float, by: float) -> float:
    return 1.0 / (1.0 + math.exp(-(math.log(chance / (1.0 - chance)) + by)))


def _answers(telling: float, others: Sequence[str], split: np.ndarray) -> dict[str, float]:
    return {"telling": telling, **{o: (1.0 - telling) * float(s) for o, s in zip(others, split, strict=True)}}


def _rules(cause: str, sign: str, others: Sequence[str], with_cause: float, usual: float) -> Iterator[Rule]:
    heavy = {"for": with_cause / usual, "against": (1.0 - usual) / (1.0 - with_cause)}
    for speaks, answers in (("for", ("telling",)), ("against", tuple(others))):
        word = word_for(math.log(heavy[speaks]))
        yield Rule(
            id=f"invented/{cause}/{speaks} {sign}", cause=cause, speaks=speaks, weight=word,
            when=Is(fact=sign, answers=answers), about=sign, because="invented", source="common practice",
        )  # fmt: skip


def experience(defect: Defect, cases: Sequence[Seen]) -> Experience:
    """Return the counts that the cases come to."""
    confirmed: dict[str, float] = {}
    told: dict[str, dict[str, int]] = {}
    spoke: dict[str, dict[str, int]] = {}
    rules = defect.rules()
    for case in cases:
        confirmed[case.cause] = confirmed.get(case.cause, 0.0) + 1.0
        for rule in rules:
            if rule.when.fact in case.signs:
                _count(told, rule, case)
                if _speaks(rule, case.signs):
                    _count(spoke, rule, case)
    counts = {key: RuleCount(told=by_cause, spoke=spoke.get(key, {})) for key, by_cause in told.items()}
    return Experience(defect=defect.id, confirmed=confirmed, rules=counts)


def _count(counts: dict[str, dict[str, int]], rule: Rule, case: Seen) -> None:
    by_cause = counts.setdefault(rule.key, {})
    by_cause[case.cause] = by_cause.get(case.cause, 0) + 1


def _speaks(rule: Rule, signs: Signs) -> bool:
    return signs.get(rule.when.fact) in rule.when.answers


def log_loss(defect: Defect, learned: Learned | None, cases: Sequence[Seen]) -> float:
    """Return the mean of -ln of the chance that the ranking gave to the true cause."""
    prior = learned.prior if learned else priors(defect)
    weights = {rule.id: log_weight(rule) for rule in defect.rules()} | dict(learned.weights if learned else {})
    by_answer = {(r.when.fact, a): [] for r in defect.rules() for a in r.when.answers}
    for rule in defect.rules():
        for answer in rule.when.answers:
            by_answer[rule.when.fact, answer].append(rule)
    total = 0.0
    for case in cases:
        applied = [rule for told in case.signs.items() for rule in by_answer[told]]
        total -= math.log(rank(prior, applied, lambda rule: weights[rule.id]).probabilities[case.cause])
    return total / len(cases)


def true_loss(shop: InventedShop, cases: Sequence[Seen]) -> float:
    """Return the log loss of the true model."""
    return -sum(math.log(shop.truth(case.signs)[case.cause]) for case in cases) / len(cases)
