"""What each outcome of an open question would make of the ranking."""

from __future__ import annotations

from itertools import pairwise
from typing import NamedTuple

from diagnose.consult.ask import OpenQuestion, values_between
from diagnose.consult.rank import Ranking, rank
from diagnose.consult.show import Shower
from diagnose.consult.standing import Standing, scalars, side_of, window_of

SAME = 5e-4  # probabilities nearer than this are shown as the same


class After(NamedTuple):
    """One outcome as the answers that lead to it, how likely it is, and the ranking then."""

    answers: tuple[str, ...]
    chance: float
    ranking: Ranking


def after_each(standing: Standing, question: OpenQuestion, show: Shower) -> list[After]:
    """Return what each outcome would lead to; outcomes that lead to the same are put together."""
    fact = question.fact or question.name
    found: list[After] = []
    for (answer, value), (_, chance, _) in zip(answers_of(standing, fact, show), question.outcomes, strict=True):
        now = After((answer,), chance, ranking_with(standing, {fact: value}))
        same = next((n for n, old in enumerate(found) if _alike(old.ranking, now.ranking)), None)
        if same is None:
            found.append(now)
        else:
            old = found[same]
            found[same] = After(old.answers + now.answers, old.chance + chance, old.ranking)
    return found


def answers_of(standing: Standing, fact: str, show: Shower) -> list[tuple[str, float | str]]:
    """Return what a fact can turn out to be: each answer, or a value inside each span that the rules tell apart."""
    desk, facts = standing.desk, standing.resolved.facts
    answers = desk.base.words.answers(fact)
    if answers:
        return [(a, a) for a in answers]
    values = values_between(fact, desk, facts)
    if not values:
        return []
    ends = set(desk.thresholds.get(fact, ()))
    setting = desk.base.words.settings.get(fact)
    window = window_of(setting, facts) if setting else None
    if window is not None:
        ends |= {e for e in (window.low, window.high) if e is not None}
    texts = [show.value(fact, end) for end in sorted(ends)]
    spans = [f"below {texts[0]}", *(f"{a} to {b}" for a, b in pairwise(texts)), f"above {texts[-1]}"]
    return list(zip(spans, values, strict=True))


def said_answers(standing: Standing, question: OpenQuestion, show: Shower) -> list[tuple[str, str]]:
    """Return each outcome of a question in words, with the cause that would lead then.

    An answer from which a number is computed is said as what the number comes to, with its name and unit.
    """
    if not question.outcomes:
        return []
    fact = question.fact or question.name
    said = [
        f"{fact} {words}" if isinstance(value, float) and fact != question.name else words
        for words, value in answers_of(standing, fact, show)
    ]
    return [(one, first) for one, (_, _, first) in zip(said, question.outcomes, strict=True)]


def ranking_with(standing: Standing, otherwise: dict[str, float | str]) -> Ranking:
    """Return the ranking if some facts that nothing is computed from were otherwise."""
    desk = standing.desk
    windows = dict(standing.windows)
    for fact, value in otherwise.items():
        setting = desk.base.words.settings.get(fact)
        window = window_of(setting, standing.resolved.facts) if setting else None
        if window is not None and isinstance(value, float):
            windows[fact] = side_of(window, value)
    matches = desk.matcher.evaluate({**scalars(standing.resolved.facts), **otherwise}, windows)
    return rank(desk.prior, (desk.rules[m.rule] for m in matches), desk.weigh)


def _alike(one: Ranking, other: Ranking) -> bool:
    return all(abs(p - other.probabilities[c]) < SAME for c, p in one.probabilities.items())
