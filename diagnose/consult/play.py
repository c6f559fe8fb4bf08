"""Play causes through the interview's own asking, against a shop that shows its hidden cause only by its answers.

The shop answers truthfully: each answer is drawn with the chance that the rules imply for the hidden cause, and the
settings are those of a shop drawn for it. With noise, a share of the answers is flipped to another one.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from functools import cached_property
from math import exp
from typing import NamedTuple

from diagnose.consult.ask import best_first, in_file_order
from diagnose.consult.consultant import Consultant
from diagnose.consult.rank import counted, log_weight
from diagnose.consult.second_look import MOST as MOST_LOOKS
from diagnose.consult.signs import shares_of
from diagnose.consult.standing import Desk
from diagnose.consult.world import Draw, Shop, as_told, one_of, pick, shops, written_settings
from diagnose.model.case import Case, Value
from diagnose.model.simulation import Play
from diagnose.model.vocabulary import NOT_KNOWN
from diagnose.rulebase.cases import told

MOST_QUESTIONS = 60
Dice = Callable[[str], Draw]
"""Gives each name its own stream of uniform numbers, so that a play is the same whoever plays it, and when."""


class _Step(NamedTuple):
    """Where an interview stands: the chances, what to ask by worth and by file order, what to ask again."""

    chances: Mapping[str, float]
    best: tuple[str, ...]
    in_order: tuple[str, ...]
    doubtful: tuple[str, ...]
    settled: bool


@dataclass
class Answering:
    """One shop with its hidden cause; an answer once given stays."""

    desk: Desk
    shop: Shop
    all_shops: Sequence[Shop]
    cause: str
    noise: float
    dice: Dice
    given: dict[str, Value] = field(default_factory=dict)
    truths: dict[str, Value] = field(default_factory=dict)
    flipped: int = 0

    def answer(self, name: str) -> Value:
        """Return the answer to a question; `not known` where the shop has no way of knowing."""
        if name not in self.given:
            draw = self.dice(name)
            told = self.shop.told
            self.truths[name] = told[name] if name in told else self._seen(name, self._options(name), draw)
            self.given[name] = self._heard(name, draw)
        return self.given[name]

    def answer_again(self, name: str) -> Value:
        """Return what a second look at something already answered gives: it can be flipped as any answer can."""
        self.given[name] = self._heard(name, self.dice(f"{name}/again"))
        return self.given[name]

    def _heard(self, name: str, draw: Draw) -> Value:
        truth = self.truths[name]
        others = [o for o in self._options(name) if o != truth]
        if draw() < self.noise and others:
            self.flipped += 1
            return one_of(draw, others)
        return truth

    def _options(self, name: str) -> tuple[Value, ...]:
        words = self.desk.base.words
        if name in words.observations or name in words.slots:
            return tuple(words.answers(name))
        return tuple(dict.fromkeys(s.told[name] for s in self.all_shops if name in s.told))

    def _seen(self, name: str, options: Sequence[Value], draw: Draw) -> Value:
        observation = self.desk.base.words.observations.get(name)
        if observation is None:
            return NOT_KNOWN
        facts = {**self.shop.facts, **{n: v for n, v in self.given.items() if isinstance(v, (str, float))}}
        matcher, usual = self.desk.looking_at(name), shares_of(observation)
        chances = []
        for answer in map(str, options):
            gains = {self.cause: 0.0}
            applied = [self.desk.rules[m.rule] for m in matcher.evaluate({**facts, name: answer}, self.shop.windows)]
            for rule in counted(applied):
                gains[rule.cause] = gains.get(rule.cause, 0.0) + log_weight(rule)
            chances.append(usual[answer] * exp(gains[self.cause] - max(0.0, *gains.values())))
        return pick(draw, options, chances)


class Player:
    """Plays the causes of one defect; what an interview asks after the same answers is worked out once."""

    def __init__(
        self, of: Consultant, defect: str, dice: Dice, written: Mapping[str, list[Value]] | None = None
    ) -> None:
        self.of, self.desk, self.dice = of, of.desk(defect), dice
        self.written = written_settings(of.base) if written is None else written
        self._steps: dict[frozenset[tuple[str, Value]], _Step] = {}

    @cached_property
    def shops(self) -> list[Shop]:
        """Return the shops that could have this defect."""
        draw = self.dice(f"{self.desk.defect.id}/shops")
        return shops(self.of.base, self.desk, self.of.resolver, self.written, draw)

    def plays(self, count: int, noise: float, compare: bool) -> Iterator[Play]:
        """Yield some plays of each cause of the defect; `compare` adds the questions that file order takes."""
        for cause in (c.cause for c in self.desk.defect.candidates):
            for number in range(count):
                yield self._play(cause, number, noise, compare)

    def _play(self, cause: str, number: int, noise: float, compare: bool) -> Play:
        name = f"{self.desk.defect.id}/{cause}/{number}"
        draw = self.dice(name)
        shop = pick(draw, self.shops, [s.weights[cause] for s in self.shops])

        def answering() -> Answering:
            return Answering(self.desk, shop, self.shops, cause, noise, lambda n: self.dice(f"{name}/{n}"))

        who = answering()
        step, asked, again = self._interview(who, lambda s: s.best)
        order = list(step.chances)
        return Play(
            defect=self.desk.defect.id, cause=cause, share=self.desk.prior[cause], first=order[0],
            stated=step.chances[order[0]], given=step.chances[cause], place=order.index(cause) + 1, questions=asked,
            looks_again=again, flipped=who.flipped, settled=step.settled,
            in_file_order=self._interview(answering(), lambda s: s.in_order)[1] if compare else None,
        )  # fmt: skip

    def _interview(self, who: Answering, order: Callable[[_Step], tuple[str, ...]]) -> tuple[_Step, int, int]:
        """Return where an interview ends, after how many questions, and how many of them were second looks."""
        case, again = Case(defect=self.desk.defect.id), set[str]()
        for asked in range(MOST_QUESTIONS):
            step = self._step(case)
            if not step.settled and order(step):
                name = order(step)[0]
                answer = who.answer(name)
            else:
                doubtful = [name for name in step.doubtful if name not in again]
                if not doubtful or len(again) >= MOST_LOOKS:
                    return step, asked, len(again)
                name = doubtful[0]
                again.add(name)
                answer = who.answer_again(name)
            if answer == NOT_KNOWN:
                case = case.model_copy(update={"observations": {**case.observations, name: NOT_KNOWN}})
            else:
                case = told(case, name, as_told(name, answer, self.of.base), self.of.base)
        return self._step(case), MOST_QUESTIONS, len(again)

    def _step(self, case: Case) -> _Step:
        key = frozenset((*case.known().items(), *case.observations.items()))
        if key not in self._steps:
            standing = self.of.stand(case)
            asked = frozenset((*case.observations, *case.settings, *case.materials))
            every = in_file_order(standing, self.of.resolver, asked)
            best = best_first(every)
            self._steps[key] = _Step(
                standing.ranking.probabilities, tuple(q.name for q in best), tuple(q.name for q in every),
                tuple(q.name for q in self.of.second_looks(standing, best, case)), self.of.settled(standing, best),
            )  # fmt: skip
        return self._steps[key]
