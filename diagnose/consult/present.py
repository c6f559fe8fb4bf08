"""A standing written out as a Diagnosis: every number with its unit, every statement with its source."""

from __future__ import annotations

from math import exp
from typing import TYPE_CHECKING, NamedTuple

from diagnose.consult import second_look
from diagnose.consult.ask import OpenQuestion
from diagnose.consult.here import cause_here, learned_words, rule_here
from diagnose.consult.missed import Missed
from diagnose.consult.outcome import said_answers
from diagnose.consult.rank import SEVERAL, UNLISTED
from diagnose.consult.revise import Plan, PlannedMove
from diagnose.consult.show import Shower, digits_known, effort
from diagnose.consult.standing import Standing, window_of
from diagnose.derive.resolve import Computed
from diagnose.model.case import Value
from diagnose.model.condition import leaves
from diagnose.model.diagnosis import (
    Contributing,
    CorrectionShown,
    DerivedShown,
    Diagnosis,
    Evidence,
    FactShown,
    MoveShown,
    Question,
    RankedCause,
)
from diagnose.model.knowledge import Rule
from diagnose.model.source import parse_source
from diagnose.model.verdict import Verdict

if TYPE_CHECKING:
    from diagnose.consult.consultant import Consultant
    from diagnose.consult.present_revision import RevisedShown

OUTWEIGHED = 0.10


def present(
    of: Consultant, standing: Standing, questions: list[OpenQuestion], found: Finding, plans: list[Plan],
    revised: RevisedShown,
) -> Diagnosis:  # fmt: skip
    """Return the diagnosis of a standing."""
    defect = standing.desk.defect
    verdict, words, leading = found
    evidence = _evidence(of, standing)
    causes = tuple(_cause(of, standing, c, p, evidence.get(c, ())) for c, p in standing.ranking.probabilities.items())
    return Diagnosis(
        defect=defect.id, defect_name=defect.name, stage=defect.stage, verdict=verdict, verdict_words=words,
        leading=leading, causes=causes, contributing=_contributing(of.show, standing),
        derived=derived_shown(of, standing),
        corrections=tuple(_correction(of, standing, p) for p in plans),
        revised_settings=revised.settings, recheck=revised.recheck, search=revised.search,
        ask_next=tuple(_question(of, standing, q) for q in questions[:5]),
        look_alikes=_look_alikes(standing), contradictions=_contradictions(of, standing),
        cautions=cautions(standing, plans), sources=_sources(of, standing, plans), learned=learned_words(standing),
    )  # fmt: skip


class Finding(NamedTuple):
    """What the ranking comes to, in a word and as a sentence, and the causes that lead, best first."""

    verdict: Verdict
    words: str
    leading: tuple[str, ...]


def finding(of: Consultant, standing: Standing, questions: list[OpenQuestion], missed: Missed | None = None) -> Finding:
    """Return what the ranking of a standing comes to, and the look that it still wants."""
    found = _pointed_to(of, standing) if standing.ranking.points_to_one() else _undecided(of, standing, questions)
    if missed is None:
        return found
    wanted = f" But {missed.look.name} was not known, and could still show another cause: "
    wanted += f"{of.base.cause_name(missed.rival)}. Find it out before you change anything."
    return found._replace(words=found.words + wanted)


def _undecided(of: Consultant, standing: Standing, questions: list[OpenQuestion]) -> Finding:
    first = standing.ranking.first()
    strong = [c for c, p in standing.ranking.probabilities.items() if p >= SEVERAL and c != UNLISTED]
    test = _next_step(questions[0]) if questions else ""
    if len(strong) >= 2 and all(_accused(standing, c) for c in strong[:2]):
        names = " and ".join(of.base.cause_name(c) for c in strong[:2])
        words = f"Two causes are each accused by evidence of their own: {names}."
        return Finding("several causes", words + test, tuple(strong[:2]))
    leading = () if first == UNLISTED else (first,)
    return Finding("not enough evidence", "The evidence does not point to one cause." + test, leading)


def _pointed_to(of: Consultant, standing: Standing) -> Finding:
    chances, first = standing.ranking.probabilities, standing.ranking.first()
    second = [c for c in chances if c not in (first, UNLISTED) and _accused(standing, c, "strong")]
    one = of.base.cause_name(first)
    if not second:
        return Finding("one cause", f"The evidence points to: {one}.", (first,))
    other = of.base.cause_name(second[0])
    words = f"More than one cause is at work or still possible: {one} and {other}."
    if chances[second[0]] < OUTWEIGHED:
        words = f"The evidence points to: {one}. Less likely, but accused by evidence of its own: {other}."
    return Finding("several causes", words, (first, second[0]))


def _next_step(best: OpenQuestion) -> str:
    again = "look once more at " if best.kind == second_look.KIND else ""
    return f" The best next step: {again}{best.name}."


def _accused(standing: Standing, cause: str, least: str = "positive") -> bool:
    """Say whether counted evidence of at least this weight speaks for a cause and nothing as heavy against it."""
    order = ("slight", "positive", "strong", "very strong")
    counted = [r for r in standing.applied if r.cause == cause and r.id in standing.ranking.counted]
    speak_for = [order.index(standing.desk.word(r)) for r in counted if r.speaks == "for"]
    against = [order.index(standing.desk.word(r)) for r in counted if r.speaks == "against"]
    heaviest = max(speak_for, default=-1)
    return heaviest >= order.index(least) and heaviest > max(against, default=-1)


def _evidence(of: Consultant, standing: Standing) -> dict[str, tuple[Evidence, ...]]:
    found: dict[str, list[Evidence]] = {}
    for match in standing.matches:
        rule = standing.desk.rules[match.rule]
        facts = tuple(fact_shown(of.show, standing, leaf.fact) for leaf in dict.fromkeys(b[0] for b in match.because))
        found.setdefault(rule.cause, []).append(
            Evidence(
                rule=rule.id, speaks=rule.speaks, weight=rule.weight, counted=rule.id in standing.ranking.counted,
                about=rule.about, facts=tuple(dict.fromkeys(facts)), because=rule.because,
                source=source_words(of, rule.source), factor=exp(abs(standing.desk.weigh(rule))),
                here=rule_here(standing.desk, rule),
            )
        )  # fmt: skip
    order = ("very strong", "strong", "positive", "slight")
    return {
        cause: tuple(sorted(items, key=lambda e: (not e.counted, e.speaks == "against", order.index(e.weight))))
        for cause, items in found.items()
    }


def fact_shown(show: Shower, standing: Standing, fact: str) -> FactShown:
    """Return a fact with its value in words and where it came from."""
    value: Value = standing.resolved.facts.get(fact, "not known")
    origin, digits = "told", 3
    if fact in standing.resolved.computed:
        origin, digits = "computed", digits_of(standing.resolved.computed[fact], fact)
    elif fact in standing.resolved.materials:
        origin = "material"
    return FactShown(name=fact, value=show.value(fact, value, digits), origin=origin)


def source_words(of: Consultant, source: str) -> str:
    """Return a source reference with the work written out."""
    ref = parse_source(source)
    if ref is None or not ref.key or ref.key not in of.base.sources:
        return source
    work = of.base.sources[ref.key].citation()
    place = f", {ref.place}" if ref.place else ""
    return f"from memory of {work}{place}" if ref.kind == "memory" else f"{work}{place}"


def _cause(of: Consultant, standing: Standing, cause: str, p: float, evidence: tuple[Evidence, ...]) -> RankedCause:
    here = cause_here(standing.desk, cause)
    if cause == UNLISTED:
        name = "something this rules base does not list"
        return RankedCause(id=cause, name=name, stage="", probability=p, here=here)
    known = of.base.causes.get(cause)
    candidate = next(c for c in standing.desk.defect.candidates if c.cause == cause)
    how = known.how if known else candidate.because
    stage = cause.split(".")[0]
    return RankedCause(
        id=cause, name=of.base.cause_name(cause), stage=stage, probability=p, hand_over=candidate.hand_over, how=how,
        evidence=evidence, here=here,
    )  # fmt: skip


def _contributing(show: Shower, standing: Standing) -> tuple[Contributing, ...]:
    found = []
    for name, side in standing.windows.items():
        setting = standing.desk.base.words.settings[name]
        window = window_of(setting, standing.resolved.facts)
        if side == "inside" or window is None:
            continue
        accusing = [r for r in standing.applied if r.speaks == "for" and _looks_at(standing, r, name)]
        if accusing:
            ends = (window.low, window.high)
            text = " to ".join(show.value(name, e) for e in ends if e is not None)
            if window.low is None:
                text = f"at most {text}"
            elif window.high is None:
                text = f"at least {text}"
            causes = tuple(dict.fromkeys(r.cause for r in accusing))
            value = show.value(name, standing.resolved.facts[name])
            found.append(
                Contributing(setting=name, value=value, window=text, side=side, causes=causes, source=window.source)
            )
    return tuple(found)


def _looks_at(standing: Standing, rule: Rule, setting: str) -> bool:
    for leaf in leaves(rule.when):
        done = standing.resolved.computed.get(leaf.fact)
        if leaf.fact == setting or (done is not None and setting in done.inputs):
            return True
    return False


def derived_shown(of: Consultant, standing: Standing) -> tuple[DerivedShown, ...]:
    """Return the derived numbers that the defect's rules look at, with their range and assumptions."""
    wanted = [f for f in standing.desk.rule_facts if f in standing.resolved.computed]
    return tuple(computed_shown(of.show, name, standing.resolved.computed[name]) for name in wanted)


def digits_of(done: Computed, name: str) -> int:
    """Return how many digits of a computed fact mean something, by the bounds of what had to be assumed."""
    return digits_known(*done.spread[name]) if done.assumed and name in done.spread else 3


def computed_shown(show: Shower, name: str, done: Computed) -> DerivedShown:
    """Return one computed fact with the range that the bounds of assumed inputs imply."""
    spread = done.spread.get(name) if done.assumed else None
    text, digits = "", digits_of(done, name)
    if spread and spread[0] < spread[1]:
        text = f"{show.value(name, spread[0], digits)} to {show.value(name, spread[1], digits)}"
    # The loosest assumption first: it is the one worth finding out.
    loosest = sorted(done.assumed.items(), key=lambda item: -(item[1].high - item[1].low) / (abs(item[1].value) or 1.0))
    assumed = tuple(f"{n} {show.value(n, a.value)} ({a.source})" for n, a in loosest)
    value = show.value(name, done.results[name], digits)
    return DerivedShown(name=name, value=value, range=text, calculator=done.calculator.name, assumed=assumed)


def _correction(of: Consultant, standing: Standing, plan: Plan) -> CorrectionShown:
    c = plan.correction
    material = "" if c.material == "none" else f", material: {c.material}"
    worsens = tuple(of.base.cause_name(w) for w in c.worsens) + ((c.worsens_also,) if c.worsens_also else ())
    score = standing.ranking.probabilities[plan.cause] / max(plan.minutes, 1.0)
    return CorrectionShown(
        cause=plan.cause, do=c.do, cost=effort(c.minutes * 60.0) + material, worsens=worsens, how_to_tell=c.how_to_tell,
        moves=tuple(_move(of.show, m) for m in plan.moves), cautions=tuple(_says(standing, n) for n in c.cautions),
        source=source_words(of, c.source), score=score,
    )  # fmt: skip


def _says(standing: Standing, hazard: str) -> str:
    found = standing.desk.hazard(hazard)
    return found.says if found else hazard


def _before(show: Shower, m: PlannedMove) -> str:
    return show.value(m.setting, m.before) if m.before is not None else "not recorded"


def _move(show: Shower, m: PlannedMove) -> MoveShown:
    why = m.why + (f", held by {m.held_by}" if m.held_by else "")
    return MoveShown(
        setting=m.setting, from_=_before(show, m), to=show.value(m.setting, m.after), unit=show.unit(m.setting)[1],
        why=why, steps=m.steps, from_si=m.before, to_si=m.after,
    )  # fmt: skip


def _question(of: Consultant, standing: Standing, q: OpenQuestion) -> Question:
    words = of.base.words
    if q.kind == second_look.KIND:
        ask, why = words.observations[q.name].ask, ""
        ask = f"{ask} Look once more: much rests on '{standing.resolved.facts[q.name]}'."
    elif q.name in words.observations:
        seen = words.observations[q.name]
        ask, why = seen.ask, seen.why
        if seen.bench_test and seen.bench_test.caution:
            ask += f" Careful: {seen.bench_test.caution}"
    elif q.name in words.settings:
        ask, why = words.settings[q.name].ask, words.settings[q.name].says
    else:
        ask, why = words.slots[q.name].ask, ""
    firsts: dict[str, list[str]] = {}
    for answer, first in said_answers(standing, q, of.show):
        firsts.setdefault(first, []).append(answer)
    told = "; ".join(f"{' or '.join(a)}: {of.base.cause_name(c)}" for c, a in firsts.items() if c != UNLISTED)
    settle = told if q.name in words.observations and len(firsts) > 1 else ""
    return Question(
        name=q.name, kind=q.kind, question=ask, bits=round(q.bits, 4), effort=effort(q.effort), why=why,
        would_settle=settle,
    )  # fmt: skip


def _look_alikes(standing: Standing) -> tuple[str, ...]:
    found = []
    for i, alike in enumerate(standing.desk.defect.mistaken_for):
        if f"alike {i}" in standing.extras:
            name = alike.defect
            if name in standing.desk.base.defect_files:
                name = standing.desk.base.defect(name).name
            found.append(f"This may be another defect: {name}. {alike.tell}")
    return tuple(found)


def _contradictions(of: Consultant, standing: Standing) -> tuple[str, ...]:
    heavy = [r for r in standing.applied if r.weight in ("strong", "very strong")]
    found = []
    for a in heavy:
        for b in heavy:
            if a.speaks == "for" and b.speaks == "against" and a.cause == b.cause and a.about == b.about:
                facts = sorted({leaf.fact for r in (a, b) for leaf in leaves(r.when)})
                told = ", ".join(
                    f"{f} {of.show.value(f, standing.resolved.facts[f])}" for f in facts if f in standing.resolved.facts
                )
                found.append(f"These say opposite things about {a.about}: {told}. Look again.")
    return tuple(dict.fromkeys(found))


def cautions(standing: Standing, plans: list[Plan]) -> tuple[str, ...]:
    """Return the cautions: of the defect's stage, of the corrections shown, and those whose condition holds."""
    touched = {standing.desk.defect.stage} | {p.cause.split(".")[0] for p in plans}
    named = {n for p in plans for n in p.correction.cautions}
    found: list[str] = []
    for hazard in standing.desk.hazards:
        if f"hazard {hazard.name}" in standing.extras:
            found.insert(0, hazard.says)
        elif (hazard.always and hazard.stage in touched) or hazard.name in named:
            found.append(hazard.says)
    found.append("Local rules, the maker's instructions and trained people come before anything said here.")
    return tuple(dict.fromkeys(found))


def _sources(of: Consultant, standing: Standing, plans: list[Plan]) -> tuple[str, ...]:
    used = [r.source for r in standing.applied] + [p.correction.source for p in plans]
    for fact in standing.desk.rule_facts:
        if fact in standing.resolved.computed:
            done = standing.resolved.computed[fact]
            used += [*done.calculator.sources, *(a.source for a in done.assumed.values())]
    return tuple(dict.fromkeys(source_words(of, s) for s in used))
