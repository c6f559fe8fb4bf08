"""The interview without a terminal: lines in, replies out. Both faces and the pipe use this one."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable
from functools import cached_property

from diagnose.consult import Consultant, Standing, second_look
from diagnose.consult.ask import OpenQuestion
from diagnose.consult.find import Finder
from diagnose.consult.meaning import Meanings
from diagnose.consult.mistaken import KIND, tells_from
from diagnose.errors import BadInput
from diagnose.interview import words, written
from diagnose.interview.commands import PLAIN, another_defect, command_in, naming, one_more_fault
from diagnose.interview.commands.similar import newly_alike
from diagnose.interview.prompt import SKIP, Prompt, Reply, choose, choose_either, skips
from diagnose.model.case import Case
from diagnose.model.diagnosis import Diagnosis
from diagnose.model.likeness import Likes
from diagnose.model.vocabulary import NOT_KNOWN
from diagnose.rulebase.cases import fact_value, forgotten, told
from diagnose.rulebase.naming import materials_meant


class Inquiry:
    """One interview: a case growing answer by answer, with a way back."""

    def __init__(
        self, of: Consultant, finder: Finder, keep: Callable[[list[tuple[str, str]]], None],
        similar: Callable[[Case], Likes | None] = lambda case: None,
    ) -> None:  # fmt: skip
        self.of, self.finder, self.keep, self.similar = of, finder, keep, similar
        self.alike_to: str | None = None
        self.offered: set[str] = set()
        self.case = Case()
        self.told: list[tuple[str, str]] = []
        self.history: list[tuple[Case, int]] = []
        self.pick: tuple[str, list[tuple[str, str]]] | None = None
        self.begin_anew()
        self.named = ""
        self.value_told = ""
        self.warned: set[str] = set()
        self.saved_as = ""
        self.standing: Standing | None = None
        self.open: list[OpenQuestion] = []
        self.settled = False

    def begin_anew(self) -> None:
        """Forget that the cause was settled: another fault is looked into, or an answer was taken back."""
        self.announced, self.asking_on = False, False

    def replay(self, told_before: Iterable[tuple[str, str]]) -> None:
        """Take up an unfinished interview; a pair that no longer fits the rules base is left out."""
        for name, answer in told_before:
            try:
                self._tell(name, answer)
            except BadInput:
                continue

    @cached_property
    def meanings(self) -> Meanings:
        """Return every word that can be explained; gathered when the first is asked about."""
        return Meanings(self.of.base)

    def says(self, text: str) -> str:
        """Return a sentence of the rules base in the units that the person writes in."""
        return self.of.show.says(text)

    @property
    def answers(self) -> int:
        """Return how many facts were told, `not known` included."""
        return len(self.case.settings) + len(self.case.observations) + len(self.case.materials)

    @property
    def looked_again(self) -> frozenset[str]:
        """Return the names that were answered more than once: nobody is asked to look at these yet again."""
        names = [name for name, _ in self.told if name in self.of.base.words.observations]
        return frozenset(name for name in names if names.count(name) > 1)

    @property
    def others(self) -> list[str]:
        """Return the other faults of the part that were named and not looked into yet."""
        left: dict[str, None] = {}
        for name, told_as in self.told:
            if name == one_more_fault.NOTED:
                left[told_as] = None
            elif name == "defect":
                left.pop(told_as, None)
        return list(left)

    def diagnosis(self) -> Diagnosis:
        """Return the diagnosis as it stands."""
        return self.of.diagnose(self.case, self.looked_again)

    @property
    def second_look(self) -> str:
        """Return the name of the answer that is being asked again, or nothing."""
        return self.open[0].name if self.open and self.open[0].kind == second_look.KIND else ""

    def prompt(self) -> Prompt | None:
        """Return what to ask now, or None when nothing is left to ask."""
        if self.pick is not None:
            name, options = self.pick
            question = words.PICKS.get(name) or f"{name}: which is meant?"
            return Prompt(name, question, tuple((option, self.says(meaning)) for option, meaning in options))
        if not self.case.defect:
            return Prompt("defect", words.FIRST, tuple((d.name, self.says(d.looks)) for d in self.finder.defects))
        if not self.open or (self.settled and not self.asking_on):
            return self._onward()
        return self._prompt_for(self.open[0].name)

    def _onward(self) -> Prompt | None:
        """Return the choice of what comes next when enough was asked here; None when there is only one way on."""
        name_of = self.of.base.defect
        sure = self.of.hands_over(self.standing) if self.standing else None
        earlier = self.of.may_hand_over(self.standing) if self.standing else []
        ways = zip(("follow", "follow other"), (words.FOLLOW, words.FOLLOW_OTHER), earlier, strict=False)
        options = [(way, says.format(name=name_of(defect).name)) for way, says, defect in ways]
        if self.others:
            options.append(("next", words.NEXT.format(name=name_of(self.others[0]).name)))
        if self.open:
            options.append(("more", words.MORE))
        if not options:
            return None
        question = words.BEGAN_EARLIER.format(name=name_of(sure).name) if sure else words.WHAT_NEXT
        if not self.others:
            options.append(("done", words.DONE))
        return Prompt("next step", question, tuple(options))

    def _prompt_for(self, name: str) -> Prompt:
        vocabulary = self.of.base.words
        if name in vocabulary.observations:
            o = vocabulary.observations[name]
            steps = o.bench_test.do if o.bench_test else ()
            caution = f" Careful: {o.bench_test.caution}" if o.bench_test and o.bench_test.caution else ""
            ask = o.ask
            if name == self.second_look:
                ask = words.LOOK_AGAIN.format(ask=ask, answer=self.case.observations[name])
            elif others := self._only_told_from(name):
                ask = words.TO_BE_SURE.format(others=" or ".join(others), ask=ask)
            answers = tuple((self.says(answer), self.says(looks)) for answer, looks in o.answers.items())
            return Prompt(name, self.says(ask + caution), answers, steps=tuple(map(self.says, steps)))
        if name in vocabulary.slots:
            slot = vocabulary.slots[name]
            return Prompt(name, slot.ask, tuple((m.name, self.says(m.says or m.kind)) for m in slot.materials.values()))
        setting = vocabulary.settings[name]
        unit = setting.unit_us if self.of.show.system == "us" else setting.unit_metric
        return Prompt(name, self.says(setting.ask), hint=f"with its unit, such as {unit}" if unit else "a number")

    def _only_told_from(self, name: str) -> list[str]:
        """Return the names of the other defects that a look is taken for alone; no cause depends on it."""
        if self.standing is None or not any(q.name == name and q.kind == KIND for q in self.open):
            return []
        return [self.of.base.defect(one.defect).name for one in tells_from(self.standing, name)]

    def hear(self, line: str) -> Reply:
        """Take one typed line: a command, a volunteered fact, or the answer to the question."""
        text = " ".join(line.split())
        reply = self._taken(text)
        for hazard in self.of.dangers.touched(text):
            if hazard.name not in self.warned:
                self.warned.add(hazard.name)
                reply.say.append(words.CAREFUL.format(says=self.says(hazard.says)))
        return reply

    def _taken(self, text: str) -> Reply:
        now = self.prompt()
        wish = command_in(text)
        if wish and (reply := wish(self)):
            return reply
        if now and now.name == self.second_look and (not text or text.casefold().rstrip(".!") in SKIP):
            return self.attempt(now.name, self.case.observations[now.name])
        if not text:
            return Reply([now.hint or "Type an answer, skip, or ? for help."] if now else [])
        if m := re.match(r"(?:set )?([^=<>]{2,60}?)\s*=\s*(.+)\Z", text):
            return naming.tell_by_name(self, m[1], m[2].strip())
        if now is None:
            return Reply(["Type done for the diagnosis, show for the causes, or name = value to tell more."])
        if self.pick is not None:
            return self._picked(text)
        if now.name == "next step":
            step = choose(text, [option for option, _ in now.options])
            choices = " or ".join(option for option, _ in now.options)
            return PLAIN[step](self) if step else Reply([f"Type {choices}, not '{text:.40}'."])
        if text.casefold().rstrip(".!") in SKIP:
            return self._skip(now)
        if now.name == "defect":
            return self._name_defect(text)
        return naming.told_plainly(self, now.name, text) or self.attempt(now.name, text)

    def volunteered(self, name: str, typed: str) -> Reply:
        """Take a fact that was not asked for, and keep the question that was open."""
        if name == "defect" and self.case.defect:
            return self._name_defect(typed)
        pending = self.open[0] if self.open and self.pick is None else None
        reply = self.attempt(name, typed)
        if pending is not None and any(q.name == pending.name for q in self.open):
            self.put_first(pending.name)
        return reply

    def put_first(self, name: str) -> None:
        """Ask about this fact next, whatever it would settle."""
        kind = "setting" if name in self.of.base.words.settings else "observation"
        found = next((q for q in self.open if q.name == name), OpenQuestion(name, kind, 0.0, 60.0, "", True, ()))
        self.open = [found, *(q for q in self.open if q.name != name)]

    def _skip(self, now: Prompt) -> Reply:
        if now.name == "defect":
            return Reply([words.FIRST])
        self.history.append((self.case, len(self.told)))
        # An unknown setting or material is kept like an unknown observation: it is not asked again.
        observations = {**self.case.observations, now.name: NOT_KNOWN}
        self.case = self.case.model_copy(update={"observations": observations})
        self.told.append((now.name, NOT_KNOWN))
        return self._after(f"{self.says(now.name)}: {words.SKIPPED}")

    def _name_defect(self, text: str) -> Reply:
        if text in self.of.base.defect_files:
            return self._named(text)
        found = self.finder.search(text)
        if not found:
            return Reply([words.NO_MATCH])
        exact = found[0].defect.name.casefold() == text.casefold()
        if exact and (len(found) == 1 or found[1].defect.name.casefold() != text.casefold()):
            return self._named(found[0].defect.id)
        options = [(f.defect.name, f.defect.looks) for f in found] + [(words.NONE_OF_THESE, "")]
        self.pick = ("defect", options)
        return Reply()

    def _named(self, defect: str) -> Reply:
        """Take a defect as the one to look into, or ask what it is beside the one named before."""
        if self.case.defect in ("", defect):
            return self.attempt("defect", defect)
        return one_more_fault.offer(self, defect)

    def _picked(self, text: str) -> Reply:
        assert self.pick is not None
        name, options = self.pick
        if name == naming.PICK:
            return naming.picked(self, text)
        if name == another_defect.PICK:
            return another_defect.picked(self, text, text.casefold().rstrip(".!") in SKIP)
        if name == one_more_fault.PICK:
            return one_more_fault.picked(self, text)
        chosen = choose(text, [o for o, _ in options])
        if chosen is None and written.NUMBER_ALONE.fullmatch(text):
            return Reply([words.ONE_OF_THE_LIST.format(most=len(options), typed=text)])
        if chosen is None:
            self.pick = None
            return self._name_defect(text) if name == "defect" else self.attempt(name, text)
        self.pick = None
        if chosen == words.NONE_OF_THESE:
            return Reply([words.OTHER_WORDS])
        if name == "defect":
            ident = next(d.id for d in self.finder.defects if d.name == chosen)
            return self._named(ident)
        return self.volunteered(name, chosen)

    def attempt(self, name: str, typed: str) -> Reply:
        """Take one fact as typed; what does not do is said in the reply and changes nothing."""
        before = (self.case, len(self.told))
        try:
            shown = self._tell(name, typed)
        except BadInput as error:
            return Reply([error.message()])
        if shown is None:
            return Reply()
        self.history.append(before)
        reply = self._after(shown)
        reply.say[1:1] = naming.depends(self, name)
        return reply

    def tell(self, name: str, typed: str) -> None:
        """Take a fact that nobody can be asked back about; raise BadInput when it is not clear."""
        if self._tell(name, typed) is None:
            readings = " or ".join(o for o, _ in self.pick[1]) if self.pick else ""
            self.pick = None
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
            self.refresh()
            return self.says(f"{self.of.base.defect(typed).name}: {self.of.base.defect(typed).looks}")
        if name == one_more_fault.NOTED:
            self.told.append((name, typed))
            return words.NOTED_FAULT.format(name=self.of.base.defect(typed).name)
        if name in ("part", "notes", "date"):
            self.case = self.case.model_copy(update={name: typed})
            self.told.append((name, typed))
            return f"{name}: {typed}"
        if skips(typed, vocabulary.answers(name)) and name in vocabulary.names() and name not in vocabulary.derived:
            typed = NOT_KNOWN
            self.case = forgotten(self.case, name)
        if name in vocabulary.settings and typed != NOT_KNOWN:
            value = written.read(self, vocabulary.settings[name], typed)
            if value is None:
                return None
            self.case = told(self.case, name, value, self.of.base)
            self.of.show.follow(self.case)
            shown = self.of.show.value(name, value.value)
        else:
            options = list(vocabulary.answers(name)) if vocabulary.dimension(name) == "answer" else []
            meant = materials_meant(vocabulary.slots[name], typed, begun=True) if name in vocabulary.slots else ()
            if len(meant) > 1:
                materials = vocabulary.slots[name].materials
                self.pick = (name, [(m, materials[m].says or materials[m].kind) for m in meant])
                return None
            answer = meant[0] if meant else choose_either(typed, options, self.says)
            if typed == NOT_KNOWN and name in vocabulary.names():
                observations = {**self.case.observations, name: NOT_KNOWN}
                self.case = self.case.model_copy(update={"observations": observations})
            else:
                self.case = told(self.case, name, fact_value(self.of.base, name, answer or typed), self.of.base)
            shown = self.says(answer) if answer else typed
        self.told.append((name, typed))
        self.refresh()
        return f"{self.says(name)}: {shown}"

    def refresh(self) -> None:
        """Rank afresh and choose the open questions after the case changed."""
        if self.case.defect:
            self.standing = self.of.stand(self.case)
            self.open = self.of.questions(self.standing, self.case)
            looks = self.of.telling(self.standing, self.case)
            # Before all is settled, be sure of the name; until then the causes come first.
            self.settled = self.of.settled(self.standing, self.open)
            again = self._again(self.standing)
            self.settled = self.settled and not again
            first, then = (looks, self.open) if self.settled else (self.open, looks)
            self.open = [*again, *first, *(q for q in then if all(q.name != f.name for f in first))]
        else:
            self.standing, self.open = None, []

    def _again(self, standing: Standing) -> list[OpenQuestion]:
        """Return the answers to look at once more before the talk comes to its end."""
        done = self.looked_again
        return self.of.second_looks(standing, self.open, self.case, done) if len(done) < second_look.MOST else []

    def _after(self, shown: str) -> Reply:
        self.refresh()
        self.keep(self.told)
        reply = Reply([shown])
        if self.standing and not self.announced and self.settled:
            self.announced = True
            lacking = self.of.missed(self.standing, self.case)
            reply.say.append(words.SETTLED_BUT.format(look=lacking.look.name) if lacking else words.SETTLED)
        reply.say += self._warnings()
        reply.say += another_defect.offer(self)
        reply.say += newly_alike(self)
        return reply

    def _warnings(self) -> list[str]:
        if self.standing is None:
            return []
        extras = self.standing.extras
        touched = [h for h in self.standing.desk.hazards if f"hazard {h.name}" in extras and h.name not in self.warned]
        self.warned |= {h.name for h in touched}
        return [self.says(h.says) for h in touched]

    def bottom_line(self, width: int) -> str:
        """Return one line: how many answers, and the leading causes, as much as fits."""
        if self.standing is None:
            return " ? help | Ctrl-C keeps your answers"[:width]
        leading = self.of.leading(self.standing)
        parts = [f" {self.answers} told", *(f"{self.says(name)} {p:.0%}" for name, p in leading), "? help"]
        while len(" | ".join(parts)) > width and len(parts) > 2:
            parts.pop()
        line = " | ".join(parts)
        return line if len(line) <= width else line[: max(width - 3, 0)] + "..."
