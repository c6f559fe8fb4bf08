"""The interview without a terminal: lines in, replies out. Both faces and the pipe use this one."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable
from dataclasses import dataclass, field

from rapidfuzz import fuzz

from diagnose import units
from diagnose.consult import Consultant, Standing
from diagnose.consult.ask import OpenQuestion
from diagnose.consult.find import Finder
from diagnose.errors import BadInput
from diagnose.interview import words
from diagnose.model.case import Case, Recorded
from diagnose.model.vocabulary import NOT_KNOWN, Setting
from diagnose.rulebase.cases import fact_value, forgotten, told

SKIP = frozenset(("skip", "not known", "unknown", "don't know", "dont know", "do not know", "no idea", "?" * 2))
FIRST_SLOTS = 1


@dataclass(frozen=True)
class Prompt:
    """What is asked now: the name of the fact, the question, and the answers with their descriptions."""

    name: str
    question: str
    options: tuple[tuple[str, str], ...] = ()
    hint: str = ""
    steps: tuple[str, ...] = ()


@dataclass
class Reply:
    """What to show after a line: sentences, whether the ranking was asked for, whether the talk is over."""

    say: list[str] = field(default_factory=list)
    show: bool = False
    over: bool = False
    save: bool = False
    stop: bool = False


class Inquiry:
    """One interview: a case growing answer by answer, with a way back."""

    def __init__(self, of: Consultant, finder: Finder, keep: Callable[[list[tuple[str, str]]], None]) -> None:
        self.of, self.finder, self.keep = of, finder, keep
        self.case = Case()
        self.told: list[tuple[str, str]] = []
        self._before: list[tuple[Case, int]] = []
        self._pick: tuple[str, list[tuple[str, str]]] | None = None
        self._announced = False
        self.saved_as = ""
        self.standing: Standing | None = None
        self.open: list[OpenQuestion] = []

    def replay(self, told_before: Iterable[tuple[str, str]]) -> None:
        """Take up an unfinished interview; a pair that no longer fits the rules base is left out."""
        for name, answer in told_before:
            try:
                self._tell(name, answer)
            except BadInput:
                continue

    @property
    def answers(self) -> int:
        """Return how many facts were told, `not known` included."""
        return len(self.case.settings) + len(self.case.observations) + len(self.case.materials)

    def prompt(self) -> Prompt | None:
        """Return what to ask now, or None when nothing is left to ask."""
        if self._pick is not None:
            name, options = self._pick
            question = words.WHICH if name == "defect" else f"{name}: which is meant?"
            return Prompt(name, question, tuple(options))
        if not self.case.defect:
            return Prompt("defect", words.FIRST, tuple((d.name, d.looks) for d in self.finder.defects))
        if not self.open:
            return self._onward()
        return self._prompt_for(self.open[0].name)

    def _onward(self) -> Prompt | None:
        """Return the choice to follow the fault upstream when nothing is left to ask here, or None."""
        earlier = self.of.hands_over(self.standing) if self.standing else None
        if earlier is None:
            return None
        name = self.of.base.defect(earlier).name
        options = (("follow", f"Look into: {name}."), ("done", "The diagnosis as it stands."))
        return Prompt("next step", words.BEGAN_EARLIER.format(name=name), options)

    def _prompt_for(self, name: str) -> Prompt:
        vocabulary = self.of.base.words
        if name in vocabulary.observations:
            o = vocabulary.observations[name]
            steps = o.bench_test.do if o.bench_test else ()
            caution = f" Careful: {o.bench_test.caution}" if o.bench_test and o.bench_test.caution else ""
            return Prompt(name, o.ask + caution, tuple(o.answers.items()), steps=steps)
        if name in vocabulary.slots:
            slot = vocabulary.slots[name]
            return Prompt(name, slot.ask, tuple((m.name, m.says or m.kind) for m in slot.materials.values()))
        setting = vocabulary.settings[name]
        unit = setting.unit_us if self.of.show.system == "us" else setting.unit_metric
        return Prompt(name, setting.ask, hint=f"with its unit, such as {unit}" if unit else "a number")

    def hear(self, line: str) -> Reply:
        """Take one typed line: a command, a volunteered fact, or the answer to the question."""
        text = " ".join(line.split())
        now = self.prompt()
        command = text.casefold().rstrip(".!")
        if handler := self._commands().get(command):
            return handler()
        if not text:
            return Reply([now.hint or "Type an answer, skip, or ? for help."] if now else [])
        if m := re.match(r"(?:change |set )?([^=<>]{2,60}?)\s*=\s*(.+)\Z", text):
            return self._attempt(self.of.base.words.named(m[1]), m[2].strip())
        if command.startswith("change "):
            return self._ask_again(self.of.base.words.named(command.removeprefix("change ")))
        if now is None:
            return Reply(["Type done for the diagnosis, show for the causes, or name = value to tell more."])
        if self._pick is not None:
            return self._picked(text, now)
        if now.name == "next step":
            step = choose(text, [option for option, _ in now.options])
            return self._commands()[step]() if step else Reply([f"Type follow or done, not '{text:.40}'."])
        if command in SKIP:
            return self._skip(now)
        if now.name == "defect":
            return self._name_defect(text)
        return self._attempt(now.name, text)

    def _commands(self) -> dict[str, Callable[[], Reply]]:
        return {
            "?": self._help, "help": self._help, "back": self._back, "why": self._why, "done": lambda: Reply(over=True),
            "show": lambda: Reply(show=True), "save": lambda: Reply(save=True),
            "follow": self._follow, "stop": lambda: Reply(stop=True),
            "quit": lambda: Reply(stop=True), "exit": lambda: Reply(stop=True),
        }  # fmt: skip

    def _follow(self) -> Reply:
        earlier = self.of.hands_over(self.standing) if self.standing else None
        if earlier is None:
            return Reply(["The evidence does not point to an earlier fault."])
        self._announced = False
        return self._attempt("defect", earlier)

    def _help(self) -> Reply:
        now = self.prompt()
        say = list(words.HELP)
        if now and now.name == "defect":
            say += ["", *(f"{d.name} ({d.stage})" for d in self.finder.defects)]
        elif now:
            say += ["", *(f"{a}: {d}" if d != a else a for a, d in now.options), *now.steps]
        return Reply(say)

    def _why(self) -> Reply:
        now = self.prompt()
        if now is None or (now.name not in self.of.base.words.observations and not self.open):
            return Reply(["The answer decides which causes are worth asking about."])
        vocabulary = self.of.base.words
        say = []
        if now.name in vocabulary.observations:
            say.append(vocabulary.observations[now.name].why or f"It tells about: {vocabulary.about(now.name)}.")
        elif now.name in vocabulary.settings:
            say.append(vocabulary.settings[now.name].says)
        question = next((q for q in self.open if q.name == now.name), None)
        if question is not None and question.kind in ("observation", "bench test"):
            for answer, _, first in question.outcomes:
                say.append(f"{answer}: then first would be {self._cause(first)}")
        return Reply(say or ["The answer decides which causes are worth asking about."])

    def _cause(self, ident: str) -> str:
        return "something not listed here" if ident == "unlisted" else self.of.base.cause_name(ident)

    def _back(self) -> Reply:
        if self._pick is not None:
            self._pick = None
            return Reply()
        if not self._before:
            return Reply([words.ALREADY_FIRST])
        self.case, count = self._before.pop()
        gone = self.told[count:]
        self.told = self.told[:count]
        self._announced = False
        self._refresh()
        name, answer = gone[0] if gone else ("", "")
        if name and name != "defect":
            self._put_first(name)
        return Reply([f"Back to: {name} (was: {answer})" if name else "Back."])

    def _ask_again(self, name: str) -> Reply:
        if name not in self.of.base.words.names():
            return Reply([f"There is no '{name}' to change. Told so far: {', '.join(n for n, _ in self.told)}."])
        self.case = forgotten(self.case, name)
        self._refresh()
        self._put_first(name)
        return Reply([f"Changing: {name}"])

    def _put_first(self, name: str) -> None:
        kind = "setting" if name in self.of.base.words.settings else "observation"
        found = next((q for q in self.open if q.name == name), OpenQuestion(name, kind, 0.0, 60.0, "", True, ()))
        self.open = [found, *(q for q in self.open if q.name != name)]

    def _skip(self, now: Prompt) -> Reply:
        if now.name == "defect":
            return Reply([words.FIRST])
        self._before.append((self.case, len(self.told)))
        # An unknown setting or material is kept like an unknown observation: it is not asked again.
        observations = {**self.case.observations, now.name: NOT_KNOWN}
        self.case = self.case.model_copy(update={"observations": observations})
        self.told.append((now.name, NOT_KNOWN))
        return self._after(f"{now.name}: {words.SKIPPED}")

    def _name_defect(self, text: str) -> Reply:
        if text in self.of.base.defect_files:
            return self._attempt("defect", text)
        found = self.finder.search(text)
        if not found:
            return Reply([words.NO_MATCH])
        exact = found[0].defect.name.casefold() == text.casefold()
        if exact and (len(found) == 1 or found[1].defect.name.casefold() != text.casefold()):
            return self._attempt("defect", found[0].defect.id)
        options = [(f.defect.name, f.defect.looks) for f in found] + [(words.NONE_OF_THESE, "")]
        self._pick = ("defect", options)
        return Reply()

    def _picked(self, text: str, now: Prompt) -> Reply:
        assert self._pick is not None
        name, options = self._pick
        chosen = choose(text, [o for o, _ in options])
        if chosen is None:
            self._pick = None
            return self._name_defect(text) if name == "defect" else self._attempt(name, text)
        self._pick = None
        if chosen == words.NONE_OF_THESE:
            return Reply([words.NO_MATCH])
        if name == "defect":
            ident = next(d.id for d in self.finder.defects if d.name == chosen)
            return self._attempt("defect", ident)
        return self._attempt(name, chosen)

    def _attempt(self, name: str, typed: str) -> Reply:
        before = (self.case, len(self.told))
        try:
            shown = self._tell(name, typed)
        except BadInput as error:
            return Reply([error.message()])
        if shown is None:
            return Reply()
        self._before.append(before)
        return self._after(shown)

    def tell(self, name: str, typed: str) -> None:
        """Take a fact that nobody can be asked back about; raise BadInput when it is not clear."""
        if self._tell(name, typed) is None:
            readings = " or ".join(o for o, _ in self._pick[1]) if self._pick else ""
            self._pick = None
            raise BadInput(f"{name}: '{typed}' can be {readings}.", next_step="Write one of them.")

    def _tell(self, name: str, typed: str) -> str | None:
        """Put one fact into the case; returns what was understood, or None when a choice must be made first."""
        vocabulary = self.of.base.words
        if name == "defect":
            if typed not in self.of.base.defect_files:
                found = self.finder.search(typed)
                if not found:
                    raise BadInput(words.NO_MATCH)
                typed = found[0].defect.id
            self.case = self.case.model_copy(update={"defect": typed})
            self.told.append((name, typed))
            self._refresh()
            return f"{self.of.base.defect(typed).name}: {self.of.base.defect(typed).looks}"
        if name in ("part", "notes", "date"):
            self.case = self.case.model_copy(update={name: typed})
            self.told.append((name, typed))
            return f"{name}: {typed}"
        if name in vocabulary.settings and typed != NOT_KNOWN:
            value = self._read_setting(vocabulary.settings[name], typed)
            if value is None:
                return None
            self.case = told(self.case, name, value, self.of.base)
            shown = self.of.show.value(name, value.value)
        else:
            options = list(vocabulary.answers(name)) if vocabulary.dimension(name) == "answer" else []
            answer = choose(typed, options) if options else None
            if typed == NOT_KNOWN and name in vocabulary.names():
                observations = {**self.case.observations, name: NOT_KNOWN}
                self.case = self.case.model_copy(update={"observations": observations})
            else:
                self.case = told(self.case, name, fact_value(self.of.base, name, answer or typed), self.of.base)
            shown = answer or typed
        self.told.append((name, typed))
        self._refresh()
        return f"{name}: {shown}"

    def _read_setting(self, setting: Setting, typed: str) -> Recorded | None:
        unit = setting.unit_us if self.of.show.system == "us" else setting.unit_metric
        plausible = (setting.plausible_low, setting.plausible_high)
        if setting.many:
            many = units.read_many(typed, setting.dimension, unit, plausible, name=setting.name)
            if isinstance(many, tuple):
                return Recorded(typed=typed, value=tuple(v.si for v in many))
            raise BadInput(getattr(many, "reason", "") or getattr(many, "question", ""))
        found = units.read(typed, setting.dimension, unit, plausible, name=setting.name)
        if isinstance(found, units.Value):
            return Recorded(typed=typed, value=found.si)
        if isinstance(found, units.Reject):
            raise BadInput(found.reason)
        options = [(units.show(v.si, setting.dimension, v.unit, 6), "") for v in found.candidates]
        if found.why == "unusual":
            raise BadInput(
                found.question + " If it is right, record the case in a file; here it would mislead the rules."
            )
        self._pick = (setting.name, options)
        return None

    def _refresh(self) -> None:
        if self.case.defect:
            self.standing = self.of.stand(self.case)
            self.open = self.of.questions(self.standing, self.case)
        else:
            self.standing, self.open = None, []

    def _after(self, shown: str) -> Reply:
        self._refresh()
        self.keep(self.told)
        reply = Reply([shown])
        if self.standing and not self._announced and self.of.settled(self.standing, self.open):
            self._announced = True
            earlier = self.of.hands_over(self.standing)
            name = self.of.base.defect(earlier).name if earlier else ""
            reply.say.append(words.BEGAN_EARLIER.format(name=name) if earlier else words.SETTLED)
        reply.say += self._warnings()
        return reply

    def _warnings(self) -> list[str]:
        if self.standing is None:
            return []
        extras = self.standing.extras
        said = [h.says for h in self.standing.desk.hazards if f"hazard {h.name}" in extras]
        for i, alike in enumerate(self.standing.desk.defect.mistaken_for):
            if f"alike {i}" in extras:
                said.append(
                    f"This may be another defect ({alike.defect}): {alike.tell} To switch: defect = {alike.defect}"
                )
        return said

    def bottom_line(self, width: int) -> str:
        """Return one line: how many answers, and the leading causes, as much as fits."""
        if self.standing is None:
            return " ? help | Ctrl-C keeps your answers"[:width]
        leading = self.of.leading(self.standing)
        parts = [f" {self.answers} told", *(f"{name} {p:.0%}" for name, p in leading), "? help"]
        while len(" | ".join(parts)) > width and len(parts) > 2:
            parts.pop()
        line = " | ".join(parts)
        return line if len(line) <= width else line[: max(width - 3, 0)] + "..."


def choose(text: str, options: list[str]) -> str | None:
    """Return the option meant by a number, a name, a beginning, or loosely spelled words; None if unclear."""
    folded = text.casefold()
    if folded.isdigit() and 1 <= int(folded) <= len(options):
        return options[int(folded) - 1]
    for option in options:
        if option.casefold() == folded:
            return option
    starting = [o for o in options if o.casefold().startswith(folded)]
    if len(starting) == 1:
        return starting[0]
    scored = sorted(((fuzz.ratio(folded, o.casefold()), o) for o in options), reverse=True)
    if scored and scored[0][0] >= 82 and (len(scored) == 1 or scored[0][0] - scored[1][0] >= 8):
        return scored[0][1]
    return None
