"""Revised settings written out as part of a Diagnosis: every number with its unit, its source and how sure it is."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from typing import TYPE_CHECKING, NamedTuple

from diagnose.consult.present import source_words
from diagnose.consult.revise import Plan, PlannedMove
from diagnose.consult.revise_bounds import Bounds, Turn, Walk
from diagnose.consult.revise_choices import Choice
from diagnose.consult.revise_limits import past_safety
from diagnose.consult.revise_measure import how_to_settle, is_a_wish, to_be_known
from diagnose.consult.revise_search import moves_of
from diagnose.consult.revise_words import Wording
from diagnose.consult.revision import Revision
from diagnose.consult.standing import Standing
from diagnose.consult.to_tell import ToTell
from diagnose.model import diagnosis as model
from diagnose.model.condition import facts_of
from diagnose.model.diagnosis import Doubt, Recheck, Revised, Search
from diagnose.model.knowledge import Rule

if TYPE_CHECKING:
    from diagnose.consult.consultant import Consultant

SHOWN_DOUBTS = 3
SEARCHED_TURNS = 3
NOTHING = "No recorded setting is to be moved; recheck by what the correction says to look for."


class RevisedShown(NamedTuple):
    """The parts of a diagnosis that say what to set."""

    settings: tuple[Revised, ...] = ()
    recheck: Recheck = Recheck(
        note="No recorded setting is to be moved; recheck by what the correction says to look for."
    )
    search: Search = Search()


def revised_shown(
    of: Consultant, standing: Standing, told: Mapping[str, object], revision: Revision, causes: tuple[str, ...]
) -> RevisedShown:
    """Return a revision as the parts of a diagnosis."""
    words = Wording(of.base, of.show, revision)
    sure = Walk(revision.problem.chooser, revision.moves).bounds() if revision.problem and revision.moves else Bounds()
    settings = tuple(_moved(of, words, c, sure) for c in revision.moves)
    settings += tuple(_unrecorded(of, m) for m in revision.unrecorded)
    search = _search(of, words, revision, sure, told, causes)
    facts = standing.resolved.facts
    search = search.model_copy(update={"unsafe": words.unsafe(facts, _belongs(of, revision, facts))})
    if not settings:
        if not search.stopped_by:
            named = [n for n in of.reviser.named(standing, causes) if n.move.setting in told]
            to_tell = ToTell(standing.resolved, of.resolver, of.base.words, asked=())
            says = words.no_number(named, facts, _refused(of, standing), to_tell)
            search = search.model_copy(update={"says": says})
        return RevisedShown((), Recheck(note=NOTHING), search)
    return RevisedShown(settings, _recheck(of, standing, revision), search)


def _belongs(of: Consultant, revision: Revision, facts: Mapping[str, object]) -> dict[str, str]:
    """Return what must be known to say where a setting belongs, for each past its safety limit and not revised."""
    moved = {c.setting for c in revision.moves}
    past = [
        s for s in of.base.words.settings.values()
        if isinstance(v := facts.get(s.name), float) and s.name not in moved and past_safety(s, v, facts) is not None
    ]  # fmt: skip
    return {s.name: to_be_known(of.base, of.resolver.calculators, s, facts) for s in past}


def _refused(of: Consultant, standing: Standing) -> dict[str, str]:
    refused = standing.resolved.refused
    makers = (c for c in of.resolver.calculators if c.name in refused)
    return {fact: of.show.refusal(refused[c.name]).what for c in makers for fact in c.gives}


def aligned(of: Consultant, plans: list[Plan], revision: Revision) -> list[Plan]:
    """Return the plans with the revised settings in place of their own numbers: a page has one number for a setting.

    A correction that would move a setting the other way keeps its words and loses its number.
    """
    words = Wording(of.base, of.show, revision)
    found = {c.setting: c for c in revision.moves}
    unrecorded = {m.setting: m for m in revision.unrecorded}

    def as_found(move: PlannedMove) -> PlannedMove | None:
        choice = found.get(move.setting)
        if choice is None:
            return unrecorded.get(move.setting, move) if move.before is None else move
        if move.before is not None and (choice.after > move.before) is not (move.after > move.before):
            return None
        return replace(move, after=choice.after, why=choice.why, held_by="", steps=words.steps(choice))

    return [replace(p, moves=tuple(m for move in p.moves if (m := as_found(move)) is not None)) for p in plans]


def _moved(of: Consultant, words: Wording, choice: Choice, sure: Bounds) -> Revised:
    show, name = of.show, choice.setting
    low, high = sure.ranges.get(name, (choice.after, choice.after))
    span = f"{show.value(name, low)} to {show.value(name, high)}" if low < high else ""
    return Revised(
        setting=name, from_=show.value(name, choice.before), to=show.value(name, choice.after), why=words.why(choice),
        calculation=choice.calculation, range=span,
        target=words.why(choice), source="; ".join(source_words(of, s) for s in choice.source.split("; ")),
        from_si=choice.before, to_si=choice.after, range_si=(low, high) if low < high else None,
        steps=words.steps(choice), margins=words.margins(choice),
    )  # fmt: skip


def _unrecorded(of: Consultant, m: PlannedMove) -> Revised:
    why = m.why + (f", held by {m.held_by}" if m.held_by else "")
    return Revised(
        setting=m.setting, from_="not recorded", to=of.show.value(m.setting, m.after), why=why,
        calculation=m.calculation, target=m.why, to_si=m.after,
    )  # fmt: skip


def _recheck(of: Consultant, standing: Standing, revision: Revision) -> Recheck:
    seen = of.base.words.observations

    def name(rule: Rule) -> str:
        return f"{of.base.cause_name(rule.cause)}: {rule.because}"

    cleared = {r.id for r in revision.cleared}
    causes = {r.cause for r in revision.cleared}
    # What was seen on the bad part stays seen; only what settings say can be left over.
    accused = [r for r in standing.applied if r.speaks == "for" and r.cause in causes and r.id not in cleared]
    left = [r for r in accused if not all(f in seen for f in facts_of(r.when))]
    note = f"Only {revision.share:.0%} of the full move: more would accuse something else."
    return Recheck(
        cleared=tuple(map(name, revision.cleared)), raised=tuple(map(name, revision.verdict.raised)),
        still_accused=tuple(map(name, left)), note=note if revision.share < 1.0 else "",
    )  # fmt: skip


def _search(
    of: Consultant,
    words: Wording,
    revision: Revision,
    sure: Bounds,
    told: Mapping[str, object],
    causes: tuple[str, ...],
) -> Search:
    found, moves = revision.found, revision.moves
    turns = _turns(of, revision, sure)
    doubts = _doubts(of, sure, told)
    stopped = words.stopped_by()
    if not stopped and revision.problem and not moves and not revision.searched:
        stopped = f"The correction's own move will not do: {words.against(revision.verdict)}."
    outcome = _outcome(revision, stopped)
    return Search(
        outcome=outcome, says=_says(of, revision, outcome, causes), stopped_by=stopped, dropped=words.dropped(),
        doubts=doubts, turns=turns, settle=doubts[0].settle if doubts else "", tried=len(found.judged),
        complete=found.complete,
    )  # fmt: skip


def _outcome(revision: Revision, stopped: str) -> str:
    if stopped:
        return "stopped"
    if revision.moves:
        return "clears" if revision.searched else "as the correction says"
    return "no setting to move"


def _says(of: Consultant, revision: Revision, outcome: str, causes: tuple[str, ...]) -> str:
    names = " and ".join(of.base.cause_name(c) for c in causes)
    moves = revision.moves
    if outcome == "clears":
        settings = "one setting" if len(moves) == 1 else f"{len(moves)} settings"
        return f"The smallest change that clears every accusation by a setting moves {settings}."
    if outcome == "stopped":
        also = " What follows goes as far as it may." if moves else ""
        return (
            f"No change of up to three recorded settings clears what accuses {names} and keeps the rest as it is."
            + also
        )
    if outcome == "as the correction says":
        if revision.problem and {c.setting for c in moves} <= revision.problem.outlook.unsafe:
            return "No correction moves a recorded setting here; what is not safe is brought back inside its limit."
        return "What accuses it was seen, or cannot be set; the moves are those that its correction names."
    return ""


def _turns(of: Consultant, revision: Revision, sure: Bounds) -> tuple[model.Turn, ...]:
    found: dict[str, list[str]] = {}
    searched = 0
    for turn in sure.turns:
        if turn.then == "no move needed":
            then = "no move is needed" if revision.searched else "the recorded settings are already right"
        elif searched < SEARCHED_TURNS and revision.searched:
            searched += 1
            then = _then(of, revision, turn)
        else:
            then = "these moves do not do"
        found.setdefault(then, []).append(" and ".join(f"{n} is {of.show.value(n, v)}" for n, v in turn.facts))
    return tuple(model.Turn(if_=" or ".join(cases), then=then) for then, cases in found.items())


def _then(of: Consultant, revision: Revision, turn: Turn) -> str:
    assert revision.problem is not None
    other = of.reviser.elsewhere(revision.problem, dict(turn.facts))
    words = Wording(of.base, of.show, other)
    if other.moves:
        return words.moves(moves_of(other.moves))
    return f"no set of moves does it: {words.stopped_by() or 'none was found.'}"


def _doubts(of: Consultant, sure: Bounds, told: Mapping[str, object]) -> tuple[Doubt, ...]:
    turning = {name for turn in sure.turns for name, _ in turn.facts}
    ordered = sorted(
        sure.doubts, key=lambda d: (is_a_wish(of.base, d.name), d.name not in turning, -d.swing, d.name)
    )  # fmt: skip
    found = []
    for name, assumed, _ in ordered[:SHOWN_DOUBTS]:
        ends = f"{of.show.value(name, assumed.low)} to {of.show.value(name, assumed.high)}"
        text = f"{of.show.value(name, assumed.value)} ({ends}; {source_words(of, assumed.source)})"
        found.append(Doubt(name=name, assumed=text, settle=how_to_settle(of.base, name, told)))
    return tuple(found)
