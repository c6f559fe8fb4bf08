"""A demo shop's year: invented cases, each from a hidden cause to what was seen, said, tried and confirmed.

Run: python -m tests.demo_year [--cases 2000] [--seed 1] [--year 2026] [--open 0.1] > year.jsonl
Then: diagnose library import year.jsonl; diagnose library learn; diagnose library summary --html year.html

The shop has habits of its own: a dozen defects make up most of its year, its causes come in other shares than the rules
base says, a tenth of its answers is wrong. The facts are drawn as the rules imply them for the hidden cause
(`diagnose.consult.play`), the corrections are those of the rules base, and they cure when they are for the true cause.
"""

from __future__ import annotations

import argparse
import random
import sys
from collections.abc import Iterator, Mapping
from datetime import date, timedelta
from functools import cached_property
from itertools import accumulate
from math import exp

from diagnose.cli.setup import consultant
from diagnose.consult import Consultant
from diagnose.consult.play import Answering, Player
from diagnose.consult.rank import UNLISTED, priors
from diagnose.consult.standing import window_of
from diagnose.consult.world import pick, written_settings
from diagnose.library.kept import Chance, Kept, Moved, Said, Spoke, Tried
from diagnose.model.case import Case
from diagnose.model.knowledge import Correction
from diagnose.model.vocabulary import NOT_KNOWN
from diagnose.rulebase.cases import told

WRONG, TOLD = 0.1, 0.45  # share of answers that are wrong; share of signs that anybody looked at
OUTCOMES = {True: {"cured": 14, "better": 3, "same": 3}, False: {"same": 14, "better": 2, "worse": 2, "cured": 1}}
PARTS = ("signet ring", "oak leaf brooch", "clasp", "bezel cup", "charm", "band", "hinge", "cuff link", "pendant")


class DemoShop:
    """One shop with its habits."""

    def __init__(self, of: Consultant, seed: int, year: int = 2026, still_open: float = 0.1) -> None:
        self.of, self.seed, self.still_open = of, seed, still_open
        self.first_day = date(year, 1, 1)
        self.players: dict[str, Player] = {}

    @cached_property
    def defects(self) -> dict[str, float]:
        """How often each defect comes: a few make up most of the year."""
        names = sorted(self.of.base.defect_files)
        random.Random(f"{self.seed} defects").shuffle(names)
        return {name: 1.0 / (place + 1) for place, name in enumerate(names)}

    @cached_property
    def written(self) -> Mapping[str, list[object]]:
        return written_settings(self.of.base)  # type: ignore[return-value]

    def cases(self, count: int) -> Iterator[Kept]:
        """Yield the cases of the year, day by day."""
        ends = list(accumulate(self.defects.values()))
        for number in range(count):
            dice = random.Random(f"{self.seed} case {number}")
            at = dice.random() * ends[-1]
            defect = next(d for d, end in zip(self.defects, ends, strict=True) if at < end)
            day = self.first_day + timedelta(days=int(365 * number / count))
            yield self._case(dice, defect, number, day)

    def _player(self, defect: str) -> Player:
        if defect not in self.players:
            self.players[defect] = Player(
                self.of, defect, lambda n: random.Random(f"{self.seed} {n}").random, self.written
            )
        return self.players[defect]

    def _shares(self, defect: str) -> dict[str, float]:
        """The shop's own shares of the causes: those of the words, up to some times more or less."""
        habits = random.Random(f"{self.seed} {defect} shares")
        prior = priors(self.of.base.defect(defect))
        return {cause: share * exp(habits.gauss(0.0, 0.8)) for cause, share in prior.items()}

    def _case(self, dice: random.Random, defect: str, number: int, day: date) -> Kept:
        player, shares = self._player(defect), self._shares(defect)
        cause = pick(dice.random, list(shares), list(shares.values()))
        drawn = cause if cause != UNLISTED else pick(dice.random, list(shares)[:-1], list(shares.values())[:-1])
        shop = pick(dice.random, player.shops, [s.weights[drawn] for s in player.shops])
        who = Answering(
            player.desk, shop, player.shops, drawn, 0.0 if cause != UNLISTED else 0.6,
            lambda n: random.Random(f"{self.seed} {number} {n}").random,
        )  # fmt: skip
        case = self._seen(dice, player, who, defect)
        said = self._said(case, day)
        confirmed, other = self._confirmed(dice, cause)
        kept = Kept.of(case, said, dice.choice(("MK", "JL", "TS"))).model_copy(
            update={"date": day.isoformat(), "part": f"{dice.choice(PARTS)} no. {number % 180 + 1}"}
        )
        trials = self._trials(dice, kept, said, confirmed, day)
        done: dict[str, object] = {"trials": trials}
        if dice.random() >= self.still_open:
            done |= {"confirmed": confirmed, "other_cause": other}
        if dice.random() < 0.7:
            done |= {"cost": int(dice.lognormvariate(8.0, 0.7)), "currency": "EUR"}
        return kept.model_copy(update=done)

    def _seen(self, dice: random.Random, player: Player, who: Answering, defect: str) -> Case:
        base, case = self.of.base, Case(defect=defect)
        names = [f for f in player.desk.rule_facts if f in base.words.observations] + list(who.shop.told)
        for name in dict.fromkeys(names):
            if dice.random() >= TOLD:
                continue
            value = who.answer(name)
            if value == NOT_KNOWN:
                continue
            if name in base.words.observations and dice.random() < WRONG:
                value = dice.choice(list(base.words.observations[name].answers))
            case = self._told(dice, case, name, value)
        return case

    def _told(self, dice: random.Random, case: Case, name: str, value: object) -> Case:
        setting = self.of.base.words.settings.get(name)
        if setting is None:
            return told(case, name, str(value), self.of.base)
        if not isinstance(value, float):
            return case
        # No two days are quite the same; temperatures vary by a kelvin or two, everything else by some percent.
        by = dice.gauss(0.0, 1.0)
        near = {"temperature": value + 1.5 * by, "number": value}.get(setting.dimension, value * (1.0 + 0.03 * by))
        near = min(max(near, setting.plausible_low), setting.plausible_high)
        settings = {**case.settings, name: {"typed": self.of.show.value(name, near), "value": near}}
        return Case.model_validate({**case.model_dump(), "settings": settings})

    def _said(self, case: Case, day: date) -> Said:
        standing = self.of.stand(case)
        causes = tuple(Chance(cause=c, chance=min(p, 1.0)) for c, p in standing.ranking.probabilities.items())
        spoke = tuple(
            Spoke(rule=r.id, cause=r.cause, speaks=r.speaks, counted=r.id in standing.ranking.counted)
            for r in standing.applied
        )
        return Said(at=f"{day}T12:00:00Z", verdict="one cause", causes=causes, evidence=spoke)

    def _confirmed(self, dice: random.Random, cause: str) -> tuple[tuple[str, ...], str]:
        if cause == UNLISTED:
            return (), "something nobody had thought of"
        earlier = self.of.base.defect_files.get(cause)
        if earlier is None or dice.random() < 0.3:
            return (cause,), ""
        listed = [c.cause for c in self.of.base.defect(cause).candidates if c.cause in self.of.base.causes]
        return ((dice.choice(listed),) if listed else (cause,)), ""

    def _trials(
        self, dice: random.Random, kept: Kept, said: Said, confirmed: tuple[str, ...], day: date
    ) -> tuple[Tried, ...]:
        """Try the corrections of the causes in the order in which they were named, until one cures."""
        found: list[Tried] = []
        for cause in [c.cause for c in said.causes if c.cause in self.of.base.causes][:3]:
            correction = dice.choice(self.of.base.causes[cause].corrections)
            outcomes = OUTCOMES[cause in confirmed]
            result = pick(dice.random, list(outcomes), list(outcomes.values()))
            found.append(
                Tried(
                    changed=correction.do, outcome="", date=(day + timedelta(days=len(found) + 1)).isoformat(),
                    result=result, cause=cause, author=kept.author, moves=self._moves(dice, kept, correction),
                )
            )  # fmt: skip
            if result == "cured" or dice.random() < 0.3:
                break
        return tuple(found)

    def _moves(self, dice: random.Random, kept: Kept, correction: Correction) -> tuple[Moved, ...]:
        found = []
        for move in correction.moves:
            setting, recorded = self.of.base.words.settings.get(move.setting), kept.settings.get(move.setting)
            if setting is None or recorded is None or isinstance(recorded.value, tuple):
                continue
            window = window_of(setting, self.of.resolver.resolve(kept.case().known()).facts)
            to: float | None = None
            if move.how == "to value":
                to = move.value
            elif move.how == "by step" and move.value is not None:
                to = recorded.value + move.value
            elif window is not None and window.low is not None and window.high is not None:
                to = dice.uniform(window.low, window.high)
            if to is not None and setting.plausible_low <= to <= setting.plausible_high:
                after = self.of.show.value(move.setting, to)
                found.append(
                    Moved(
                        setting=move.setting, before=recorded.typed, after=after, before_si=recorded.value, after_si=to
                    )
                )  # fmt: skip
        return tuple({m.setting: m for m in found}.values())


def main() -> None:
    """Write the year as one JSON object a line."""
    parser = argparse.ArgumentParser(description=__doc__.split("\n")[0] if __doc__ else "")
    parser.add_argument("--cases", type=int, default=2000)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--year", type=int, default=2026)
    parser.add_argument("--open", type=float, default=0.1, help="share of cases not confirmed yet")
    parser.add_argument("--rules", help="another rules folder")
    given = parser.parse_args()
    shop = DemoShop(consultant(given.rules), given.seed, given.year, given.open)
    for kept in shop.cases(given.cases):
        sys.stdout.write(kept.to_json() + "\n")


if __name__ == "__main__":
    main()
