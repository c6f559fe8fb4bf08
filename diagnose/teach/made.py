"""Exercises made from the rules: a cause is hidden, and everything about the part is drawn to fit it."""

from __future__ import annotations

from collections.abc import Container, Mapping
from functools import partial

from diagnose.consult import Consultant
from diagnose.consult.play import Answering, Dice, Player
from diagnose.consult.rank import UNLISTED
from diagnose.consult.world import Draw, Shop, pick
from diagnose.errors import BadInput
from diagnose.model.case import Case, Recorded, Value
from diagnose.model.exercise import Exercise, Level
from diagnose.model.vocabulary import NOT_KNOWN
from diagnose.rulebase.cases import fact_value, recorded, told
from diagnose.teach.bench import askable, only

TRIES = 40
CLEAR = 0.85  # with everything known, the hidden cause must have at least this
LESS_COMMON: Level = 3  # from this level on, the hidden cause is not one that is met most
TOLD_SIGNS = 2


def make(of: Consultant, defect: str, level: Level, dice: Dice, written: Mapping[str, list[Value]]) -> Exercise:
    """Return an exercise on a defect; raise BadInput when its rules cannot make a clear one.

    The same dice give the same exercise. At level 3 the hidden cause is not the one that is met most.
    """
    player = Player(of, defect, dice, written)
    prior = {c: p for c, p in player.desk.prior.items() if c != UNLISTED}
    if level == LESS_COMMON and len(prior) > 2:
        most = max(prior.values())
        prior = {c: p for c, p in prior.items() if p < most} or prior
    shops = _usual(of, defect, player.shops)
    for number in range(TRIES):
        draw = dice(f"exercise/{defect}/{level}/{number}")
        cause = pick(draw, tuple(prior), tuple(prior.values()))
        shop = pick(draw, shops, [s.weights[cause] for s in shops])
        own_dice = partial(_named, dice, f"{defect}/{number}")
        case = _everything(of, defect, Answering(player.desk, shop, shops, cause, 0.0, own_dice))
        if _chance(of, case, cause) >= CLEAR:
            title = f"{of.base.defect(defect).name} (made, level {level})"
            return Exercise(
                title=title,
                level=level,
                case=case,
                told=opening(of, case, cause, level, written),
                cause=cause,
                origin="A part made from the rules; nobody has seen it.",
            )
    raise BadInput(f"no clear exercise on {defect} came up.", next_step="Try another seed, level or defect.")


def _chance(of: Consultant, case: Case, cause: str) -> float:
    return of.stand(case).ranking.probabilities[cause]


def _usual(of: Consultant, defect: str, every: list[Shop]) -> list[Shop]:
    """Return the shops that work in materials of the defect's worked examples, where these name any."""
    slots = of.base.words.slots
    met: dict[str, set[str]] = {}
    for example in of.base.defect(defect).examples:
        for name, typed in example.facts.items():
            if name in slots:
                met.setdefault(name, set()).add(str(fact_value(of.base, name, typed)))
    usual = [s for s in every if all(s.told.get(slot, next(iter(names))) in names for slot, names in met.items())]
    return usual or every


def _named(dice: Dice, play: str, name: str) -> Draw:
    return dice(f"{play}/{name}")


def _everything(of: Consultant, defect: str, answering: Answering) -> Case:
    """Return a case in which every fact that can be asked for is known."""
    case = Case(defect=defect)
    for name in askable(of, defect):
        answer = answering.answer(name)
        if answer != NOT_KNOWN:
            case = told(case, name, _written(of, name, answer), of.base)
    return case


def _written(of: Consultant, name: str, value: Value) -> Value | Recorded:
    """Return a drawn value as a shop would write it; what is reckoned with is what is written."""
    setting = of.base.words.settings.get(name)
    if setting is None or isinstance(value, str):
        return value
    typed = of.show.value(name, value)
    try:
        return recorded(setting, typed)
    except BadInput:
        return Recorded(typed=typed, value=value)


def opening(of: Consultant, case: Case, cause: str, level: Level, usual: Container[str]) -> tuple[str, ...]:
    """Return the facts that are told at the start; settings that shops seldom write down must be asked for."""
    if level == 3:
        return tuple(case.materials)
    names: list[str] = [*case.materials, *(n for n in case.settings if n in usual)]
    if level == 1:
        names += _telling(of, only(case, frozenset(names)), case, cause)[:TOLD_SIGNS]
    return tuple(names)


def _telling(of: Consultant, known: Case, case: Case, cause: str) -> list[str]:
    """Return the looks that raise a cause most, best first; bench tests are left to be asked for."""
    gain = {}
    for name, answer in case.observations.items():
        if not of.base.words.observations[name].bench_test:
            gain[name] = of.stand(told(known, name, answer, of.base)).ranking.probabilities[cause]
    return sorted(gain, key=lambda name: -gain[name])
