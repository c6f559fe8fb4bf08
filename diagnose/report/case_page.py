"""The page of one diagnosed case: verdict, causes, pictures, what to try, what would settle it, cautions, sources."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Any

from diagnose.consult.worded import worded
from diagnose.model.case import Case
from diagnose.model.comparison import FactPair
from diagnose.model.diagnosis import Diagnosis, Doubt, RankedCause, Recheck, Revised
from diagnose.model.explanation import Balance, ExplainedDiagnosis, Explanation, Settling, Unfolded, WhyNot
from diagnose.report.page import drawing, page
from diagnose.report.pictures import Picture, pictures_of
from diagnose.report.pictures.reasons import balance_picture, chain_picture
from diagnose.report.pictures.window import window_picture
from diagnose.report.side_by_side import NOT_TOLD
from diagnose.report.text import (
    TRY,
    TRY_OPEN,
    chance_words,
    is_open,
    seen_words,
    tries_shown,
    weight_words,
    with_upstream,
)
from diagnose.report.why import ORIGINS, percent, read_alike, unknown_words, way_words

if TYPE_CHECKING:
    from diagnose.consult.consultant import Consultant

LEAST = 0.02  # causes less likely than this are only named
AT_LEAST = 3  # causes that are shown however unlikely
MOST = 5  # causes whose evidence is laid out
CORRECTIONS = 4


@dataclass(frozen=True)
class Drawn:
    """A picture as it stands in a page."""

    name: str
    title: str
    alt: str
    header: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    drawing: Any
    narrow: bool = False


@dataclass(frozen=True)
class Settled:
    """A test that would settle something: its words and the table of chances."""

    question: str
    name: str
    kind: str
    effort: str
    steps: tuple[str, ...]
    caution: str
    heads: list[str]
    rows: list[tuple[str, ...]]


@dataclass(frozen=True)
class Inquiry:
    """One inquiry of the case: the fault that was seen, or an earlier one that it leads to."""

    number: int
    diagnosis: Diagnosis
    shown: list[RankedCause]
    hidden: list[str]
    balances: list[Balance]
    why_not: dict[str, WhyNot]
    balance: Drawn | None
    settling: list[Settled]


def case_page(of: Consultant, case: Case, found: ExplainedDiagnosis) -> str:
    """Return the page of a diagnosed case; `case` is the case as the diagnosis saw it."""
    found = worded(found, of.show.system)
    chain = with_upstream(found)
    inquiries = [_inquiry(n, d, e) for n, (d, e) in enumerate(zip(chain, _explanations(found), strict=True), 1)]
    physics = [drawn(p) for p in physics_pictures(of, case, chain)]
    how = replace(drawn(chain_picture(found.explanation.chain)), narrow=True)
    last = chain[-1]
    numbers = list({n.name: n for e in _explanations(found) for n in e.numbers}.values())
    pictures = {"chain": how, "physics": physics, "all": [how, *(i.balance for i in inquiries if i.balance), *physics]}
    return page(
        "case.html", FILTERS,
        title=f"{found.defect_name}" + (f": {case.part}" if case.part else ""),
        case=case, first=found, last=last, good_run=found.good_run, inquiries=inquiries, pictures=pictures,
        contents=_contents(found, inquiries, bool(physics), bool(numbers)),
        undecided=is_open(last), try_words=TRY_OPEN if is_open(last) else TRY,
        least=LEAST, corrections=tries_shown(last.corrections, CORRECTIONS), recheck=_recheck(last.recheck),
        told=told_rows(of, case), numbers=numbers,
        unsafe=list(dict.fromkeys(text for one in chain for text in one.search.unsafe)),
        cautions=list(dict.fromkeys(text for one in chain for text in one.cautions)),
        sources=sorted({text for one in chain for text in one.sources}),
    )  # fmt: skip


def drawn(picture: Picture, own: str = "") -> Drawn:
    """Return a picture as it stands in a page; `own` tells it from others of the same name there."""
    named = replace(picture, name=picture.name + own)
    return Drawn(named.name, named.title, named.alt, named.header, named.rows, drawing(named.svg()))


def physics_pictures(of: Consultant, case: Case, chain: list[Diagnosis]) -> list[Picture]:
    """Return the pictures of what was set, with the revised settings beside it: curves, maps, windows."""
    told = case.known()
    revised = {**told, **revised_values(chain[-1])}
    before, after = of.resolver.resolve(told), of.resolver.resolve(revised)
    stages = {s for d in chain for s in of.desk(d.defect).stages}
    names = {c.drawing for c in of.resolver.calculators if c.drawing and c.stage in stages}
    found = [p for name, p in pictures_of(of.show, before, after).items() if name in names]
    windows = window_picture(of.show, before.facts, after.facts if revised != told else None, list(told))
    return [*found, windows] if windows.panels else found


def revised_values(d: Diagnosis) -> dict[str, float]:
    """Return the revised settings of a diagnosis as SI values."""
    return {r.setting: r.to_si for r in d.revised_settings if r.to_si is not None}


def told_rows(of: Consultant, case: Case) -> list[tuple[str, str]]:
    """Return every fact of a case as it was told: materials, settings as written, observations."""
    rows = [*case.materials.items(), *((n, r.typed or of.show.value(n, r.value)) for n, r in case.settings.items())]
    return [*rows, *((of.show.says(n), of.show.says(answer)) for n, answer in case.observations.items())]


def _explanations(found: ExplainedDiagnosis) -> list[Explanation]:
    chain = [found.explanation]
    while chain[-1].upstream is not None:
        chain.append(chain[-1].upstream)
    return chain


def _inquiry(number: int, d: Diagnosis, e: Explanation) -> Inquiry:
    shown = [c for n, c in enumerate(d.causes) if c.probability >= LEAST or n < AT_LEAST]
    first = {c.id for c in shown[:MOST]}
    spoken = any(b.speaks_for or b.speaks_against for b in e.balances)
    return Inquiry(
        number=number, diagnosis=d, shown=shown, hidden=[c.name for c in d.causes if c not in shown],
        balances=[b for b in e.balances if b.cause in first], why_not={w.cause: w for w in e.why_not},
        balance=drawn(balance_picture(e.balances), "" if number == 1 else f"-{number}") if spoken else None,
        settling=[_settled(s) for s in e.settling],
    )  # fmt: skip


def _settled(s: Settling) -> Settled:
    outcomes = read_alike(s)
    heads = [f"{' or '.join(answers)} ({percent(chance)} of the time)" for answers, chance, _ in outcomes]
    rows = [(r.name, percent(r.now), *(percent(r.then[n]) for *_, n in outcomes)) for r in s.table]
    return Settled(s.question, s.name, s.kind, s.effort, s.steps, s.caution, heads, rows)


def _contents(
    found: ExplainedDiagnosis, inquiries: list[Inquiry], physics: bool, numbers: bool
) -> list[tuple[str, str]]:
    last = inquiries[-1].diagnosis
    revised = last.revised_settings or last.search.stopped_by
    contents = [("good", "Against the good run")] if found.good_run else []
    contents += [("chain", "How it came about"), ("causes-1", "Likely causes")]
    contents += [(f"causes-{i.number}", f"Where it began: {i.diagnosis.defect_name}") for i in inquiries[1:]]
    contents += [("pictures", "The settings, looked at")] if physics else []
    to_try = [("try", "What to try")] + ([("revised", "Revised settings")] if revised else [])
    to_settle = [(f"settle-1-{i.number}", "What would settle it") for i in inquiries if i.settling][:1]
    contents += [*to_settle, *to_try] if is_open(last) else [*to_try, *to_settle]
    contents += [("care", "Take care"), ("told", "What was told")]
    contents += [("numbers", "The numbers opened up")] if numbers else []
    return [*contents, ("tables", "The pictures as tables"), ("sources", "Where this comes from")]


def _recheck(check: Recheck) -> list[str]:
    titles = (("Clears", check.cleared), ("Leaves", check.still_accused), ("Would raise", check.raised))
    return [f"{title}: {text}" for title, items in titles for text in items] + ([check.note] if check.note else [])


def _inputs(n: Unfolded) -> list[tuple[str, ...]]:
    return [(i.name, i.value, ORIGINS[i.origin], i.bounds, i.source) for i in n.inputs]


def _pairs(pairs: tuple[FactPair, ...]) -> list[tuple[str, str, str]]:
    return [(p.name, p.one or NOT_TOLD, p.other or NOT_TOLD) for p in pairs]


def _revised(revised: tuple[Revised, ...]) -> list[tuple[str, ...]]:
    return [
        (r.setting, r.from_, r.to, r.why + (f" ({r.calculation})" if r.calculation else ""), r.range) for r in revised
    ]


def _then(r: Revised) -> list[str]:
    """Return how to get to a revised setting, and what it then leaves as margin."""
    margins = [
        f"Then {m.name}: {m.value}; {m.limit}" + (f" ({m.because.rstrip('.')})." if m.because else ".")
        for m in r.margins
    ]
    return [f"{r.setting}: {text}" for text in (r.steps, *margins) if text]


def _doubts(doubts: tuple[Doubt, ...]) -> list[tuple[str, str, str]]:
    return [(d.name, d.assumed, d.settle) for d in doubts]


FILTERS: dict[str, Callable[..., object]] = {
    "percent": percent, "chance": chance_words, "seen": seen_words, "weight": weight_words, "inputs": _inputs,
    "pairs": _pairs,
    "unknown": unknown_words, "way": way_words, "revised": _revised, "doubts": _doubts, "then": _then,
}  # fmt: skip
