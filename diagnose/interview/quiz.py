"""An exercise as a talk: lines in, lines out, with no terminal in it."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from functools import cached_property

from diagnose.consult.meaning import Meanings
from diagnose.consult.show import effort
from diagnose.consult.worded import sentence
from diagnose.errors import BadInput
from diagnose.interview.prompt import choose_either
from diagnose.model.exercise import LEVELS, Marking
from diagnose.model.vocabulary import NOT_KNOWN
from diagnose.teach.bench import Bench, facts_of, spent
from diagnose.teach.marking import mark

HELP = (
    "the name of anything   ask for it: a sign, a bench test, a setting",
    "look                   what can be asked for, with its price in minutes",
    "causes                 the causes it could be, by number",
    "so far                 what you know and what it cost",
    "cause = 3              settle on a cause, by number or name",
    "set cure time = 70 min    what you would set next time",
    "hand in                have it marked",
    "? WORD                 what a word means",
    "give up                leave; nothing is marked",
)


@dataclass
class Said:
    """What to show after a line, and whether the exercise is over."""

    lines: list[str] = field(default_factory=list)
    over: bool = False
    marking: Marking | None = None


class Quiz:
    """One student at one exercise."""

    def __init__(self, bench: Bench) -> None:
        self.bench, self.of = bench, bench.of
        self.desk = self.of.desk(bench.exercise.case.defect)
        self.causes = [c.cause for c in self.desk.defect.candidates]
        self.names = [self.of.base.cause_name(c) for c in self.causes]

    @cached_property
    def meanings(self) -> Meanings:
        """Return every word that can be explained; gathered when the first is asked about."""
        return Meanings(self.of.base)

    def says(self, text: str) -> str:
        """Return a sentence of the rules base in the units that the student reads."""
        return self.of.show.says(text)

    def told(self, name: str, answer: str) -> str:
        """Return a fact with its answer; a value that was written down stays as it was written."""
        return f"{self.says(name)}: {sentence(answer, self.of.show.system)}"

    def opening(self) -> list[str]:
        """Return what the student is told, and what can be typed."""
        exercise, defect = self.bench.exercise, self.desk.defect
        told = facts_of(self.bench.known)
        part = f"The part: {exercise.case.part}" if exercise.case.part else ""
        return [
            exercise.title, f"Level {exercise.level}: {LEVELS[exercise.level]}.", *filter(None, (exercise.origin,)),
            "", self.says(f"{defect.name}: {defect.looks}"), *filter(None, (part, exercise.story)),
            "", "You are told:" if told else "Nothing else is told.",
            *(self.told(f"  {name}", answer) for name, answer in told.items()),
            "", "What caused it, and what would you set? Ask for what you would look at; everything has its price.",
            "Type look, causes, or help.",
        ]  # fmt: skip

    def hear(self, line: str) -> Said:
        """Take one typed line."""
        text = " ".join(line.split())
        folded = text.casefold().rstrip(".!")
        plain: dict[str, Callable[[], Said]] = {
            "help": lambda: Said(list(HELP)), "?": lambda: Said(list(HELP)), "look": self._look, "causes": self._list,
            "so far": self._so_far, "hand in": self._hand_in, "give up": lambda: Said(["Nothing was marked."], True),
        }  # fmt: skip
        if not text:
            return Said(["Type look, causes, or help."])
        if folded in plain:
            return plain[folded]()
        try:
            if folded.startswith("? "):
                return self._word(text[2:])
            name, equals, answer = text.partition("=")
            if equals and name.strip().casefold() == "cause":
                return self._settle(answer.strip())
            if equals:
                return Said([self.bench.propose(name.strip().removeprefix("set ").strip(), answer.strip())])
            return self._ask(text)
        except BadInput as error:
            return Said([error.message()])

    def _ask(self, text: str) -> Said:
        found = self.bench.ask(self.bench.meant(text))
        if not found.new:
            return Said([f"{self.told(found.name, found.answer)} (known already)"])
        if found.answer == NOT_KNOWN:
            return Said([f"{found.name}: nobody wrote it down, so it costs nothing."])
        return Said(
            [f"{self.told(found.name, found.answer)} ({spent(found.minutes)}; {spent(self.bench.minutes)} in all)"]
        )

    def _look(self) -> Said:
        lines, before = [], ""
        for price in self.bench.open_facts():
            cost = effort(price.minutes * 60.0) + (f", {price.spoils} included" if price.spoils != "nothing" else "")
            if cost != before:
                lines.append(f"For {cost}:")
                before = cost
            lines.append(self.says(f"  {price.name} - {price.question}"))
        return Said(lines or ["Everything is known."])

    def _list(self) -> Said:
        return Said([f"{n:3}  {self.says(name)}" for n, name in enumerate(self.names, 1)])

    def _so_far(self) -> Said:
        told = [self.told(name, answer) for name, answer in facts_of(self.bench.known).items()]
        settled = [self.says(f"cause: {self.of.base.cause_name(self.bench.named)}")] if self.bench.named else []
        proposed = [f"set {n}: {self.of.show.value(n, v)}" for n, v in self.bench.proposed.items()]
        return Said([*told, *settled, *proposed, f"Spent: {spent(self.bench.minutes)}."])

    def _settle(self, typed: str) -> Said:
        chosen = choose_either(typed, self.names, self.says)
        if chosen is None and typed in self.causes:
            chosen = self.of.base.cause_name(typed)
        if chosen is None:
            raise BadInput(f"'{typed:.40}' is none of the causes.", next_step="Type causes, then its number.")
        self.bench.named = self.causes[self.names.index(chosen)]
        return Said(
            [f"Cause: {self.says(chosen)}. Say what you would set, if anything (set NAME = VALUE), then hand in."]
        )

    def _word(self, typed: str) -> Said:
        found = self.meanings.of(typed)
        if found:
            return Said([self.says(f"{m.word} - {m.kind}: {m.says}") for m in found[:2]])
        near = self.meanings.like(typed)
        return Said([f"'{typed:.40}' is not explained here." + (f" Near it: {', '.join(near)}." if near else "")])

    def _hand_in(self) -> Said:
        if not self.bench.named:
            return Said(["Name a cause first: causes, then cause = its number."])
        return Said(over=True, marking=mark(self.bench))
