"""A revision in words: what each move aims at and leaves as margin, what was dropped and why, what stopped it."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from math import ceil

from diagnose.consult.condition_words import in_words
from diagnose.consult.revise_choices import Choice, Dial, Named, Way
from diagnose.consult.revise_levels import Exit, level
from diagnose.consult.revise_limits import Limit, past_safety
from diagnose.consult.revise_outlook import Verdict
from diagnose.consult.revise_search import Moves, moves_of
from diagnose.consult.revision import Problem, Revision
from diagnose.consult.show import Shower
from diagnose.consult.to_tell import ToTell
from diagnose.engine.demand import Look
from diagnose.model.diagnosis import Dropped, Margin
from diagnose.model.knowledge import Rule
from diagnose.rulebase.load import RuleBase

SHOWN = 6
SCANT = "it clears the accusation, but no more than that"
NEAR = 20.0  # usual steps; a limit further away is not worth a line
AFTER_TWO = " After two that did not, tell what you see now and diagnose anew before you go on."
FAR = 5.0  # usual steps; nobody thinks of moving that far a setting that no correction names


class Wording:
    """Writes one revision out in the person's units."""

    def __init__(self, base: RuleBase, show: Shower, revision: Revision) -> None:
        self.base, self.show, self.revision = base, show, revision

    def moves(self, moves: Moves) -> str:
        """Return a set of moves as words."""
        return " and ".join(f"{name} {self.show.value(name, value)}" for name, value in moves)

    def accusation(self, rule: Rule) -> str:
        """Return an accusation as words."""
        return f"{self.base.cause_name(rule.cause)} ({in_words(rule.when, self.show)})"

    def against(self, verdict: Verdict) -> str:
        """Return why a set of moves will not do."""
        if verdict.unknown:
            why = f" ({self.show.refusal(verdict.unknown.why).what})" if verdict.unknown.why else ""
            return f"{verdict.unknown.fact} can then not be computed{why}"
        if verdict.raised:
            return "it would accuse " + "; ".join(self.accusation(r) for r in verdict.raised[:2])
        if verdict.windows:
            return f"it would take {', '.join(verdict.windows)} out of its window"
        if verdict.unsafe:
            return f"it leaves {', '.join(verdict.unsafe)} past a safety limit"
        if verdict.apart:
            return f"the correction moves it only together with {' and '.join(verdict.apart)}"
        return "it leaves: " + "; ".join(self.accusation(r) for r in verdict.left[:2])

    def why(self, choice: Choice) -> str:
        """Return what a value aims at."""
        if not isinstance(choice.aim, Way):
            return choice.why
        way = choice.aim.exit
        edge = way.free if choice.aim.free and way.free is not None else way.clear
        beyond = "above" if way.rises else "below"
        then = "speaks the cause free" if choice.aim.free else "is no longer accused"
        if choice.aim.back_in:
            return f"back inside {choice.aim.back_in}, where {_level_name(way.level)} {then}"
        return f"{_level_name(way.level)} then comes {beyond} {self._level(way.level, edge)}, where it {then}"

    def steps(self, choice: Choice) -> str:
        """Return how to get to a value in the steps that a correction names; empty when one is enough.

        What is past a safety limit goes straight to where it belongs.
        """
        problem = self.revision.problem
        named = problem.named if problem and choice.setting not in problem.outlook.unsafe else ()
        strides = (n.move.stride for n in named if n.move.setting == choice.setting)
        step = next((one for one in strides if one), None)
        if step is None:
            return ""
        # The last value was rounded to what can be set; that much further is no step of its own.
        rounded = 0.5 * problem.chooser.dials[choice.setting].scale.apart if problem else 0.0
        count = ceil((abs(choice.after - choice.before) - rounded) / step - 1e-9)
        if count < 2:
            return ""
        way = step if choice.after > choice.before else -step
        first, second, last = (
            self.show.value(choice.setting, v) for v in (choice.before + way, choice.before + 2.0 * way, choice.after)
        )
        on = f"then to {last}" if count == 2 else f"then {second}, and so on, but no further than {last}"
        return (
            f"In {count} steps of at most {self.show.change(choice.setting, step)}: first to {first}, {on}. "
            f"Look after each, and stop at the first that cures it.{AFTER_TWO if count > 2 else ''}"
        )

    def margins(self, choice: Choice) -> tuple[Margin, ...]:
        """Return what the moves leave between the accused numbers and their limits, and the setting and its own."""
        problem = self.revision.problem
        if problem is None:
            return ()
        facts = problem.outlook.facts(moves_of(self.revision.moves))
        found = []
        for e in _once(problem.chooser.exits):
            now = level(e.level, facts)
            if now is not None and choice.setting in problem.outlook.flow.before(_facts(e.level)):
                name, value = _level_name(e.level), self._level(e.level, now)
                found.append(Margin(name=name, value=value, limit=self._edge(e), because=e.rule.because))
        return (*found, *self._limit(problem.chooser.dials[choice.setting], choice.after))

    def _limit(self, dial: Dial, after: float) -> tuple[Margin, ...]:
        limit = dial.room.nearest(after)
        if not limit.telling or abs(limit.value - after) > NEAR * dial.step:
            return ()
        name = dial.setting.name
        side = "not above" if limit is dial.room.high else "not below"
        text = f"{side} {self.show.value(name, limit.value)} ({limit.name})"
        return (Margin(name=name, value=self.show.value(name, after), limit=text, because=limit.because),)

    def _level(self, look: Look, value: float) -> str:
        if look.kind == "ratio":
            return f"{value:.3g} times"
        return self.show.change(look.fact, value) if look.kind == "difference" else self.show.value(look.fact, value)

    def _edge(self, e: Exit) -> str:
        return f"accused {'below' if e.rises else 'above'} {self._level(e.level, e.clear)}"

    def dropped(self) -> tuple[Dropped, ...]:
        """Return the moves that were considered and not recommended, those that corrections name first."""
        problem = self.revision.problem
        if problem is None or not self.revision.searched:
            return ()
        chosen = {c.setting: c for c in self.revision.moves}
        found: list[Dropped] = []
        for name in sorted(problem.choices, key=lambda n: (not _named(problem, n), n)):
            if name in chosen and len(chosen) == 1:
                found += self._other_values(problem, chosen[name])
            else:
                found += self._alone(problem, name)
        return tuple(found[:SHOWN])

    def _other_values(self, problem: Problem, chosen: Choice) -> list[Dropped]:
        found = []
        for other in sorted(problem.choices[chosen.setting], key=lambda c: c.size):
            if other.after == chosen.after:
                continue
            verdict = problem.outlook.judge(((other.setting, other.after),))
            if not verdict.will_do:
                why = self.against(verdict)
            elif other.size < chosen.size:
                why = SCANT
            else:
                why = "it would do as well, but is the larger move"
            found.append(Dropped(moves=f"{self._moved(other)} ({self.why(other)})", why=why))
        return found[:2]

    def _alone(self, problem: Problem, name: str) -> list[Dropped]:
        limit = problem.chooser.stopped.get(name)
        best = min(self.revision.moves, key=lambda c: c.size, default=None)
        seen = [(c, problem.outlook.judge(((name, c.after),))) for c in problem.choices[name]]
        for choice, verdict in sorted(seen, key=lambda s: (not s[1].will_do, not s[1].clears, s[0].size)):
            if not choice.named and choice.size > FAR:
                return []
            if verdict.will_do and best is not None:
                why = _although_it_does(choice, best, verdict)
            elif verdict.clears or limit is None:
                why = self.against(verdict)
            else:
                break
            return [Dropped(moves=f"{self._moved(choice)} alone", why=why)]
        if limit is None or limit.missing:
            return []
        moves = f"{name} as far as {self.show.value(name, limit.value)} ({limit.name})"
        return [Dropped(moves=moves, why="even there it does not clear the accusation")]

    def _moved(self, choice: Choice) -> str:
        return f"{choice.setting} {self.show.value(choice.setting, choice.after)}"

    def stopped_by(self) -> str:
        """Return the rules and limits that stop the moves, those of the nearest first; empty when none was stopped."""
        problem, found = self.revision.problem, self.revision.found
        if problem is None or not self.revision.searched or found.best:
            return ""
        clearing = [(m, v) for m, v in found.judged.items() if isinstance(v, Verdict) and v.clears]
        said: list[str] = []
        touched: list[frozenset[str]] = []
        for moves, verdict in sorted(clearing, key=lambda item: (len(item[0]), self._size(problem, item[0]))):
            names = frozenset(name for name, _ in moves)
            if not any(known <= names for known in touched):  # the nearest value of each set of settings
                touched.append(names)
                said.append(f"{self.moves(moves)} would clear it, but {self.against(verdict)}.")
        said += [self._stopped(name, limit) for name, limit in problem.chooser.stopped.items()]
        for name in sorted(problem.outlook.unsafe):
            if not problem.choices.get(name):
                said.append(f"{name} is past its safety limit, and no value inside it is known here to be right.")
        return " ".join(said) or "No setting on record changes the number that is accused."

    def _stopped(self, name: str, limit: Limit) -> str:
        if limit.missing:
            return f"{name} is not moved further: the {limit.missing}, which it may not pass, is not known here."
        because = f": {limit.because.rstrip('.')}" if limit.because else ""
        shown = self.show.value(name, limit.value)
        return f"{name} may not pass {shown} ({limit.name}{because}), and even there it does not clear it."

    def no_number(
        self, named: Iterable[Named], facts: Mapping[str, object], refused: Mapping[str, str], to_tell: ToTell
    ) -> str:
        """Return why corrections that move a setting give no number here, and what would have to be told for it.

        `refused` says of facts why a calculator would not give them.
        """
        for move, _ in named:
            needed = (move.fact, *(b.fact for b in (move.floor, move.ceiling) if b is not None))
            missing = next((f for f in needed if f is not None and f not in facts), None)
            if missing is not None:
                why = f" ({refused[missing].rstrip('.')})" if missing in refused else ""
                tell = " and ".join(name for name in to_tell.for_fact(missing) or () if name != missing)
                needs = f" To get it, tell {tell}." if tell else ""
                return f"No number is given for {move.setting}: the {missing} is not known here{why}.{needs}"
        return ""

    def _size(self, problem: Problem, moves: Moves) -> float:
        return sum(abs(v - problem.chooser.dials[n].recorded) / problem.chooser.dials[n].step for n, v in moves)

    def unsafe(self, facts: Mapping[str, object], belongs: Mapping[str, str]) -> tuple[str, ...]:
        """Return the recorded settings that are past a safety limit, each with its hazard.

        `belongs` says of those that are not revised what must be known to say where they belong.
        """
        found = []
        for name, value in facts.items():
            setting = self.base.words.settings.get(name) if isinstance(value, float) else None
            limit = past_safety(setting, value, facts) if setting is not None and isinstance(value, float) else None
            if limit is not None and isinstance(value, float):
                side = "at most" if value > limit.value else "at least"
                found.append(
                    f"{name} {self.show.value(name, value)} is past its safety limit ({side} "
                    f"{self.show.value(name, limit.value)}): {limit.because} Set that right first."
                    + (f" {belongs[name]}" if name in belongs else "")
                )
        return tuple(found)


def _although_it_does(choice: Choice, best: Choice, verdict: Verdict) -> str:
    """Return why a move that would do was not taken."""
    if best.named and not choice.named:
        return "it would do as well, but no correction names it"
    return "it would do as well, but is the larger move" if verdict.enough else SCANT


def _named(problem: Problem, name: str) -> bool:
    return any(n.move.setting == name for n in problem.named)


def _once(found: Iterable[Exit]) -> list[Exit]:
    return list({(e.level, e.rises): e for e in found}.values())


def _facts(look: Look) -> tuple[str, ...]:
    return (look.fact,) if look.other is None else (look.fact, look.other)


def _level_name(look: Look) -> str:
    if look.other is None:
        return look.fact
    return f"{look.fact} {'against' if look.kind == 'ratio' else 'less'} {look.other}"
