"""How an attempt is marked: the cause, the number, and whether few, cheap and telling questions were asked."""

from __future__ import annotations

from math import log2

from diagnose.consult import Consultant
from diagnose.consult.ask import best_first
from diagnose.model.case import Case
from diagnose.model.diagnosis import Diagnosis
from diagnose.model.exercise import Asked, Exercise, Marking, NumberMark, Points
from diagnose.teach.bench import Bench, facts_of, learned, only, price

POINTS_CAUSE, POINTS_NUMBER, POINTS_THRIFT = 60, 20, 20
POINTS_REASONING = 15
ENOUGH = 0.6  # a chance at which the hidden cause counts as borne out
TELLING = 0.5  # [bit] a fact that raised the hidden cause by this much, beside all others, was decisive
SILENT = 0.05  # [bit] one that moved it less than this added nothing
MOST_QUESTIONS = 40
MISSED_SHOWN = 3
LEAST = 1e-9


def mark(bench: Bench) -> Marking:
    """Return the marking of an attempt that named a cause."""
    of, exercise = bench.of, bench.exercise
    chance = of.stand(bench.known).ranking.probabilities
    asked = tuple(_worth(bench, found.name, found.answer, found.minutes) for found in bench.asked)
    right = bench.named == exercise.cause
    numbers, possible = _numbers(bench)
    found = Marking(
        exercise=exercise.title, defect=exercise.case.defect, level=exercise.level, hidden=exercise.cause,
        hidden_name=of.base.cause_name(exercise.cause), named=bench.named, right=right,
        followed_the_evidence=bench.named == next(iter(chance)), probability=chance.get(exercise.cause, 0.0),
        asked=asked, decisive=tuple(a.name for a in asked if a.bits >= TELLING),
        redundant=tuple(a.name for a in asked if abs(a.bits) < SILENT), missed=_missed(bench),
        ending=exercise.ending, how=_how(of, exercise), mend=_mend(of, exercise), cautions=_cautions(of, exercise),
        minutes=bench.minutes, minutes_enough=minutes_enough(of, exercise), numbers=numbers,
    )  # fmt: skip
    points = _points(found, possible)
    return found.model_copy(update={"score": round(sum(p.got for p in points)), "points": points})


def minutes_enough(of: Consultant, exercise: Exercise) -> float:
    """Return what the program's own questions cost until it is settled on the same part. [min]"""
    case = only(exercise.case, frozenset(exercise.told))
    spent, skipped = 0.0, set[str]()
    for _ in range(MOST_QUESTIONS):
        standing = of.stand(case)
        questions = [q for q in best_first(of.questions(standing, case)) if q.name not in skipped]
        if of.settled(standing, questions) or not questions:
            break
        name = questions[0].name
        spent += price(of, name).minutes
        skipped.add(name)
        case = learned(of, case, exercise, name)
    return spent


def _how(of: Consultant, exercise: Exercise) -> str:
    """Return how the hidden cause works, or what to see where it is an earlier fault."""
    cause = of.base.causes.get(exercise.cause)
    return cause.how if cause else f"It began earlier: `diagnose teach sheet {exercise.cause}` goes on from there."


def _mend(of: Consultant, exercise: Exercise) -> str:
    cause = of.base.causes.get(exercise.cause)
    first = cause.corrections[0] if cause and cause.corrections else None
    return f"{first.do} It worked if: {first.how_to_tell}" if first else ""


def _cautions(of: Consultant, exercise: Exercise) -> tuple[str, ...]:
    """Return what to take care of before the first correction is tried."""
    cause = of.base.causes.get(exercise.cause)
    named = cause.corrections[0].cautions if cause and cause.corrections else ()
    return tuple(of.base.hazards[name].says for name in named if name in of.base.hazards)


def _worth(bench: Bench, name: str, answer: str, minutes: float) -> Asked:
    without = only(bench.known, frozenset(facts_of(bench.known)) - {name})
    bits = log2(_chance(bench, bench.known) / _chance(bench, without))
    return Asked(name=name, answer=answer, minutes=minutes, bits=bits)


def _missed(bench: Bench) -> tuple[Asked, ...]:
    """Return what would have raised the hidden cause most for its price, had it been asked."""
    now = _chance(bench, bench.known)
    everything, found = facts_of(bench.exercise.case), []
    for open_fact in bench.open_facts():
        if open_fact.name in everything:
            then = _chance(bench, learned(bench.of, bench.known, bench.exercise, open_fact.name))
            bits = log2(then / now)
            if bits >= TELLING:
                answer = everything[open_fact.name]
                found.append(Asked(name=open_fact.name, answer=answer, minutes=open_fact.minutes, bits=bits))
    return tuple(sorted(found, key=lambda a: -a.bits / max(a.minutes, 0.25))[:MISSED_SHOWN])


def _chance(bench: Bench, case: Case) -> float:
    return max(bench.of.stand(case).ranking.probabilities.get(bench.exercise.cause, 0.0), LEAST)


def _numbers(bench: Bench) -> tuple[tuple[NumberMark, ...], bool]:
    """Return the student's settings beside the computed ones, and whether there was a number to find."""
    diagnosis: Diagnosis | None = bench.of.diagnose(bench.exercise.case)
    computed: dict[str, float] = {}
    while diagnosis is not None:
        for correction in diagnosis.corrections:
            for move in correction.moves if correction.cause == bench.exercise.cause or diagnosis.upstream else ():
                if move.to_si is not None:
                    computed.setdefault(move.setting, move.to_si)
        for revised in diagnosis.revised_settings:
            if revised.setting in computed and revised.to_si is not None:
                computed[revised.setting] = revised.to_si  # checked by the rules, where a correction only names a step
        diagnosis = diagnosis.upstream
    settings, show = bench.of.base.words.settings, bench.of.show.value
    marks = []
    for name, value in bench.proposed.items():
        step = settings[name].usual_step or abs(value) * 0.05 or 1.0
        target = computed.get(name)
        off = abs(value - target) / step if target is not None else float("inf")
        shown = show(name, target) if target is not None else "not to be changed"
        marks.append(NumberMark(setting=name, proposed=show(name, value), computed=shown, steps_off=min(off, 1e6)))
    for name in computed:
        if name not in bench.proposed:
            marks.append(NumberMark(setting=name, proposed="", computed=show(name, computed[name]), steps_off=1e6))
    return tuple(marks), bool(computed)


def _points(m: Marking, possible: bool) -> tuple[Points, ...]:
    """Return what is earned, out of 100: by the cause, by evidence that bears it out, by the number, by thrift.

    A lucky guess is worth half of the cause; thrift counts as far as the evidence bears the answer out. Who named a
    wrong cause that was the likeliest on what was asked gets a little for sound reasoning.
    """
    if not m.right:
        got = POINTS_REASONING if m.followed_the_evidence else 0
        return (Points(what="reasoning", got=got, most=POINTS_REASONING),)
    borne_out = min(1.0, m.probability / ENOUGH)
    spared = borne_out * min(1.0, max(m.minutes_enough, 1.0) / max(m.minutes, 1.0))
    cause = Points(what="cause", got=POINTS_CAUSE * (0.5 + 0.5 * borne_out), most=POINTS_CAUSE)
    if not possible:
        most = POINTS_NUMBER + POINTS_THRIFT
        return (cause, Points(what="thrift", got=most * spared, most=most))
    nearest = min((n.steps_off for n in m.numbers if n.proposed), default=float("inf"))
    number = 1.0 if nearest <= 1.0 else 0.5 if nearest <= 2.0 else 0.0
    return (
        cause,
        Points(what="number", got=POINTS_NUMBER * number, most=POINTS_NUMBER),
        Points(what="thrift", got=POINTS_THRIFT * spared, most=POINTS_THRIFT),
    )
