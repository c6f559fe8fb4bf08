"""Lesson sheets on a defect, a cause or a stage, put together from what the rules base knows."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from diagnose.consult import Consultant
from diagnose.consult.condition_words import in_words
from diagnose.errors import BadInput
from diagnose.model.condition import facts_of
from diagnose.model.knowledge import Candidate, Cause, Defect, Rule
from diagnose.model.lesson import Section, Sheet, Task
from diagnose.model.source import parse_source
from diagnose.model.vocabulary import STAGES
from diagnose.rulebase.cursor import suggest
from diagnose.teach.tasks import tasks_of_cause, tasks_of_defect, tasks_of_stage
from diagnose.teach.worked import worked_calculation

SIGNS_FOR, SIGNS_AGAINST = 3, 2
STRENGTH = ("slight", "positive", "strong", "very strong")


def sheet(of: Consultant, name: str) -> Sheet:
    """Return the lesson sheet on a defect or cause (by id) or on a stage; raise BadInput for anything else."""
    base = of.base
    if name in base.defect_files:
        return _of_defect(of, base.defect(name))
    if name in base.causes:
        return _of_cause(of, base.causes[name])
    if name in STAGES:
        return _of_stage(of, name)
    known = [*base.defect_files, *base.causes, *STAGES]
    hint = suggest(name, known) or "`diagnose rules list` shows the defects."
    raise BadInput(f"there is no defect, cause or stage '{name:.60}'.", next_step=hint)


def _of_defect(of: Consultant, defect: Defect) -> Sheet:
    base = of.base
    alike = [
        f"{base.cause_name(a.defect).removesuffix(' (a fault of its own)')}: {a.tell}" for a in defect.mistaken_for
    ]
    causes = [base.causes[c.cause] for c in defect.candidates if c.cause in base.causes]
    sections = [
        Section(title="What it looks like", paragraphs=(defect.looks, f"Also called: {', '.join(defect.words)}.")),
        Section(title="What it is mistaken for", points=tuple(alike)),
        Section(title="How it comes about", points=tuple(_how(of, c) for c in defect.candidates)),
        *(_signs(of, c) for c in defect.candidates),
        *worked_calculation(of, defect),
        *bench_tests(of, defect.rules()),
        *(corrections(of, cause) for cause in causes),
        cautions(of, of.desk(defect.id).stages),
    ]
    return _put_together(of, defect.id, defect.name, sections, defect.rules(), tasks_of_defect(of, defect))


def _of_cause(of: Consultant, cause: Cause) -> Sheet:
    where = [(d, c) for d in of.base.all_defects() for c in d.candidates if c.cause == cause.id]
    rules = [rule for _, candidate in where for rule in candidate.rules]
    sections = [
        Section(title="How it comes about", paragraphs=(cause.how,)),
        Section(title="Where it shows", points=tuple(f"{d.name} ({d.stage}): {d.looks}" for d, _ in where)),
        *(_signs(of, candidate, f"Signs of it: {d.name}") for d, candidate in where),
        *bench_tests(of, rules),
        corrections(of, cause),
        cautions(of, {cause.stage}),
    ]
    return _put_together(of, cause.id, cause.name, sections, rules, tasks_of_cause(of, cause, [d for d, _ in where]))


def _of_stage(of: Consultant, stage: str) -> Sheet:
    base = of.base
    defects = [d for d in base.all_defects() if d.stage == stage]
    settings = [s for s in base.words.settings.values() if s.stage == stage and s.windows]
    windows = [
        f"{s.name}: {_span(of, s.name, w.low, w.high)}{_for(w.holds_for)} [{w.source}]"
        for s in settings for w in s.windows
    ]  # fmt: skip
    sections = [
        Section(title="Words", points=tuple(f"{w.name}: {w.says}" for w in base.glossary if w.stage == stage)),
        Section(title="What goes wrong", points=tuple(f"{d.name}: {d.looks}" for d in defects)),
        Section(title="What to set, and in which range", points=tuple(windows)),
        cautions(of, {stage}),
    ]
    rules = [rule for d in defects for rule in d.rules()]
    return _put_together(of, stage, f"The {stage} stage", sections, rules, tasks_of_stage(of, stage, defects))


def _put_together(
    of: Consultant, ident: str, title: str, sections: Iterable[Section], rules: Iterable[Rule], tasks: Iterable[Task]
) -> Sheet:
    filled = tuple(s for s in sections if s.paragraphs or s.points or s.steps)
    keys = sorted({s.key for r in rules if (s := parse_source(r.source)) is not None and s.key})
    works = tuple(of.base.sources[key].citation() for key in keys if key in of.base.sources)
    sources = (*works, "Everything else: common practice of the trade.")
    return Sheet(id=ident, title=title, sections=filled, tasks=tuple(tasks), sources=sources)


def _how(of: Consultant, candidate: Candidate) -> str:
    cause = of.base.causes.get(candidate.cause)
    how = cause.how if cause else f"{candidate.because} See the sheet on {candidate.cause}."
    return f"{of.base.cause_name(candidate.cause)} ({candidate.often}): {how}"


def _signs(of: Consultant, candidate: Candidate, title: str = "") -> Section:
    """Return the strongest signs for and against one cause."""
    points = []
    for speaks, count in (("for", SIGNS_FOR), ("against", SIGNS_AGAINST)):
        rules = [r for r in candidate.rules if r.speaks == speaks]
        for rule in sorted(rules, key=lambda r: -STRENGTH.index(r.weight))[:count]:
            points.append(f"{speaks} ({rule.weight}) - {in_words(rule.when, of.show)}. {rule.because}")
    return Section(title=title or f"Signs: {of.base.cause_name(candidate.cause)}", points=tuple(points))


def bench_tests(of: Consultant, rules: Iterable[Rule]) -> list[Section]:
    """Return each bench test that some rules look at: what to do, what it costs, with what care."""
    seen = of.base.words.observations
    names = dict.fromkeys(f for r in rules for f in facts_of(r.when) if f in seen and seen[f].bench_test)
    found = []
    for name in names:
        test = seen[name].bench_test
        assert test is not None
        care = (f"Careful: {test.caution}",) if test.caution else ()
        price = f"Takes about {seen[name].effort / 60:.0f} min; costs {test.costs}."
        answers = tuple(f"{a}: {says}" if says != a else a for a, says in seen[name].answers.items())
        found.append(
            Section(
                title=f"Bench test: {name}", paragraphs=(seen[name].ask, price, *care), steps=test.do, points=answers
            )
        )
    return found


def corrections(of: Consultant, cause: Cause) -> Section:
    """Return what to do about a cause, how to tell that it worked, and what it can bring on."""
    steps = []
    for c in cause.corrections:
        worse = ", ".join(of.base.cause_name(w) for w in c.worsens)
        can = f" It can bring on: {worse}." if worse else ""
        steps.append(f"{c.do} It worked if: {c.how_to_tell}{can}")
    return Section(title=f"What to change: {cause.name}", steps=tuple(steps))


def cautions(of: Consultant, stages: Iterable[str]) -> Section:
    """Return the standing cautions of some stages."""
    wanted = set(stages)
    says = [h.says for h in of.base.hazards.values() if h.stage in wanted and h.always]
    last = "Local codes, the maker's instructions, safety data sheets and trained, licensed people come first."
    return Section(title="Cautions", points=(*dict.fromkeys(says), last))


def _span(of: Consultant, name: str, low: float | None, high: float | None) -> str:
    ends = [of.show.value(name, end) for end in (low, high) if end is not None]
    if len(ends) == 2:
        return " to ".join(ends)
    return ("from " if low is not None else "up to ") + ends[0] if ends else "no limits"


def _for(holds_for: Mapping[str, tuple[str, ...]]) -> str:

    return f" for {', '.join(' or '.join(v) for v in holds_for.values())}" if holds_for else ""
