"""One function for the use case: a case in, a diagnosis out; and the steps of it that the interview needs."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from functools import cached_property

from diagnose.consult.ask import OpenQuestion, open_questions, settled
from diagnose.consult.dangers import Dangers
from diagnose.consult.learned import learn
from diagnose.consult.missed import Missed, best_not_known, missed
from diagnose.consult.mistaken import telling
from diagnose.consult.present import cautions, finding, present
from diagnose.consult.present_revision import aligned, revised_shown
from diagnose.consult.rank import UNLISTED
from diagnose.consult.revise import Plan, Planner
from diagnose.consult.revision import Reviser
from diagnose.consult.second_look import second_looks
from diagnose.consult.show import Shower
from diagnose.consult.signs import sign_weights
from diagnose.consult.standing import Desk, Standing, stand
from diagnose.derive.resolve import Resolver
from diagnose.errors import BadInput
from diagnose.model.case import Case
from diagnose.model.diagnosis import Diagnosis
from diagnose.model.experience import Experience
from diagnose.rulebase.load import RuleBase

WORTH_CORRECTING = 0.10
LIKELY = 0.5


class Consultant:
    """Holds the rules base and the calculators; every call is a pure function of the case.

    `experience` gives what a shop's confirmed cases of a defect come to; without it the rules base speaks alone.
    """

    def __init__(
        self, base: RuleBase, resolver: Resolver, system: str = "us",
        experience: Callable[[str], Experience | None] | None = None,
    ) -> None:  # fmt: skip
        self.base, self.resolver, self.experience = base, resolver, experience
        self.show = Shower(base, system)
        self._desks: dict[str, Desk] = {}

    @cached_property
    def dangers(self) -> Dangers:
        """Return what recognises dangerous ideas in what people write."""
        return Dangers(self.base.hazards.values())

    def desk(self, defect: str) -> Desk:
        """Return a defect with its rules compiled."""
        if defect not in self._desks:
            known = self.base.defect(defect)
            experience = self.experience(defect) if self.experience else None
            by_words = sign_weights(known.rules(), self.base.words.observations)
            learned = learn(known, experience, by_words) if experience and experience.cases else None
            self._desks[defect] = Desk(self.base, known, learned)
        return self._desks[defect]

    @cached_property
    def reviser(self) -> Reviser:
        """Return what works revised settings out."""
        return Reviser(self.base, self.resolver, self.show)

    @cached_property
    def rules_alone(self) -> Consultant:
        """Return the same consultant without what the shop's cases taught."""
        return Consultant(self.base, self.resolver, self.show.system)

    def stand(self, case: Case) -> Standing:
        """Return where the inquiry into a case stands; raise BadInput when the case names no defect."""
        if not case.defect:
            raise BadInput(
                "the case does not say what is wrong.", next_step="Add `defect:`; `diagnose rules list` shows all."
            )
        return stand(self.desk(case.defect), self.resolver, case.known())

    def questions(self, standing: Standing, case: Case) -> list[OpenQuestion]:
        """Return what could still be asked, best first."""
        asked = frozenset((*case.observations, *case.settings, *case.materials))
        return open_questions(standing, self.resolver, asked)

    def telling(self, standing: Standing, case: Case) -> list[OpenQuestion]:
        """Return the quick looks, not asked yet, that would tell the defect from what it is mistaken for."""
        return telling(standing, frozenset((*case.observations, *case.settings, *case.materials)))

    def settled(self, standing: Standing, questions: list[OpenQuestion]) -> bool:
        """Say whether asking more would change anything."""
        return settled(standing, questions)

    def second_looks(
        self, standing: Standing, questions: list[OpenQuestion], case: Case, done: frozenset[str] = frozenset()
    ) -> list[OpenQuestion]:
        """Return the answers that deserve a second look, once asking more would change nothing.

        `done` holds the names of those that had one.
        """
        if questions and not self.settled(standing, questions):
            return []
        return [q for q in second_looks(self.stand, case, standing) if q.name not in done]

    def missed(self, standing: Standing, case: Case) -> Missed | None:
        """Return the look that was not known and could bring another cause up beside the one pointed to."""
        return missed(self, standing, case) if standing.ranking.points_to_one() else None

    def plans(self, standing: Standing, told: Mapping[str, object]) -> list[Plan]:
        """Return the corrections worth trying, by chance of being the cause divided by cost."""
        planner = Planner(standing, self.resolver, told, self.show)
        chance = standing.ranking.probabilities
        found: list[Plan] = []
        for cause, probability in chance.items():
            if cause in self.base.causes and (probability >= WORTH_CORRECTING or cause == standing.ranking.first()):
                found += planner.plans(self.base.causes[cause])
        # Heckerman, Breese & Rommelse, Commun. ACM 38(3), 1995: try in the order of chance over cost.
        return sorted(found, key=lambda p: -chance[p.cause] / max(p.minutes, 1.0))

    def diagnose(self, case: Case, looked_again: frozenset[str] = frozenset()) -> Diagnosis:
        """Return the whole diagnosis of a case, followed upstream where the fault began earlier.

        `looked_again` holds the names of answers that had their second look.
        """
        standing = self.stand(case)
        questions = self.questions(standing, case)
        again = self.second_looks(standing, questions, case, looked_again)
        lacking = self.missed(standing, case)
        look = lacking.look if lacking else None if questions else best_not_known(self, standing, case)
        ask = [*again, *([look] if look else []), *questions]
        found = self._presented(standing, ask, lacking, case.known())
        written = (case.notes, *(t.changed for t in case.trials))
        said = [h.says for text in written if text for h in self.dangers.touched(text)]
        found = found.model_copy(update={"cautions": tuple(dict.fromkeys((*said, *found.cautions)))})
        earlier = self.hands_over(standing)
        if earlier is not None:
            before = self.diagnose(case.model_copy(update={"defect": earlier}), looked_again)
            found = found.model_copy(update={"upstream": before})
        if self.experience is None:
            return found
        # What the shop's cases taught never silences a caution that the rules base alone would give.
        return found.model_copy(
            update={"cautions": tuple(dict.fromkeys((*found.cautions, *self.rules_alone.cautions(case))))}
        )

    def _presented(
        self, standing: Standing, questions: list[OpenQuestion], lacking: Missed | None, told: Mapping[str, object]
    ) -> Diagnosis:
        found = finding(self, standing, questions, lacking)
        plans = self.plans(standing, told)
        revision = self.reviser.revise(standing, told, found.leading, plans)
        revised = revised_shown(self, standing, told, revision, found.leading)
        return present(self, standing, questions, found, aligned(self, plans, revision), revised)

    def cautions(self, case: Case) -> tuple[str, ...]:
        """Return every caution that a diagnosis of the case shows, those of an earlier fault included."""
        standing = self.stand(case)
        found = cautions(standing, self.plans(standing, case.known()))
        earlier = self.hands_over(standing)
        if earlier is None:
            return found
        return (*found, *self.cautions(case.model_copy(update={"defect": earlier})))

    def hands_over(self, standing: Standing) -> str | None:
        """Return the earlier defect that the evidence points to, if the first cause is one and likely enough."""
        first = standing.ranking.first()
        likely = standing.ranking.probabilities[first] >= LIKELY
        return first if likely and first in self.base.defect_files else None

    def may_hand_over(self, standing: Standing) -> list[str]:
        """Return the causes that are earlier defects and likely enough to look into, the likeliest first."""
        chances = standing.ranking.probabilities.items()
        return [c for c, p in chances if c in self.base.defect_files and p >= WORTH_CORRECTING]

    def leading(self, standing: Standing, count: int = 2) -> list[tuple[str, float]]:
        """Return the names of the leading causes with their probabilities, for a bottom line."""
        shares = list(standing.ranking.probabilities.items())[:count]
        return [("something not listed" if c == UNLISTED else self.base.cause_name(c), p) for c, p in shares]
