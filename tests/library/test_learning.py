"""Counts that learning goes by: always those of the confirmed cases as they stand, on both databases."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from pathlib import Path

import pytest

from diagnose.consult import Consultant
from diagnose.consult.hindsight import hindsight
from diagnose.library import learning
from diagnose.library.kept import Kept
from diagnose.library.store import Library
from diagnose.model.case import Case
from diagnose.model.experience import Experience, Heard
from diagnose.rulebase.cases import read_case

CASES = Path(__file__).resolve().parent.parent.parent / "cases"
DEFECT = "mold.voids"


def hear(kept: Kept, causes: tuple[str, ...]) -> Iterable[Heard]:
    """Say of each observation that its rule was asked, and spoke where the answer is yes."""
    said = {f"rule {name}": answer == "yes" for name, answer in kept.observations.items()}
    yield Heard(defect=kept.defect, causes=causes, said=said)


def part(cause: str = "a", **observations: str) -> Kept:
    confirmed = (cause,) if cause else ()
    return Kept(defect=DEFECT, part="ring", observations=observations or {"blister": "yes"}, confirmed=confirmed)


def counts(library: Library) -> Experience:
    learning.learn(library.database, hear)
    return learning.experience(library.database, DEFECT)


def by_hand(library: Library) -> Experience:
    """Count the library's own confirmed cases one by one."""
    confirmed: Counter[str] = Counter()
    told: dict[str, Counter[str]] = {}
    spoke: dict[str, Counter[str]] = {}
    for kept in library.everything():
        if kept.shop:
            continue
        for cause in kept.confirmed:
            confirmed[cause] += 1 / len(kept.confirmed)
            for name, answer in kept.observations.items():
                told.setdefault(f"rule {name}", Counter())[cause] += 1
                spoke.setdefault(f"rule {name}", Counter())[cause] += answer == "yes"
    rules = {key: {"told": dict(n), "spoke": dict(spoke[key])} for key, n in told.items()}
    return Experience.model_validate({"defect": DEFECT, "confirmed": dict(confirmed), "rules": rules})


def without_zeros(found: Experience) -> dict[str, object]:
    """Return the counts without what was counted and taken back again."""
    rules = {
        key: {cause: (n, count.spoke[cause]) for cause, n in count.told.items() if n}
        for key, count in found.rules.items()
    }
    return {"confirmed": found.confirmed, "rules": {key: n for key, n in rules.items() if n}}


def test_counts_follow_every_change_of_the_cases(library: Library) -> None:
    first, second, _ = library.add([part(), part("b", blister="no", smell="yes"), part("a", smell="no")])
    assert without_zeros(counts(library)) == without_zeros(by_hand(library))

    library.change(first.name, "confirm", lambda k: k.model_copy(update={"confirmed": ("b", "c")}))
    assert without_zeros(counts(library)) == without_zeros(by_hand(library))
    library.undo()
    assert without_zeros(counts(library)) == without_zeros(by_hand(library))

    library.change(second.name, "tell", lambda k: k.model_copy(update={"observations": {"smell": "no"}}))
    assert without_zeros(counts(library)) == without_zeros(by_hand(library))
    library.forget(second.name)
    assert without_zeros(counts(library)) == without_zeros(by_hand(library))
    library.undo()
    found = counts(library)
    assert without_zeros(found) == without_zeros(by_hand(library))
    assert found.cases == pytest.approx(3.0)


def test_a_case_is_learned_from_once_and_a_note_changes_nothing(library: Library) -> None:
    kept = library.add([part()])[0]
    assert learning.waiting(library.database) == 1
    assert learning.learn(library.database, hear) == 1
    assert learning.learn(library.database, hear) == 0
    library.change(kept.name, "tell", lambda k: k.model_copy(update={"notes": "seen again"}))
    assert learning.waiting(library.database) == 0
    assert counts(library).cases == pytest.approx(1.0)


def test_only_confirmed_cases_of_this_shop_are_learned_from(library: Library) -> None:
    library.add([part(""), part().model_copy(update={"shop": "the other one"}), part()])
    assert learning.waiting(library.database) == 1
    assert learning.waiting(library.database, DEFECT) == 1
    assert learning.waiting(library.database, "mold.flash") == 0
    assert counts(library).cases == pytest.approx(1.0)


def test_a_case_confirmed_as_none_of_these_counts_for_the_unlisted(library: Library) -> None:
    library.add([part("").model_copy(update={"other_cause": "a cracked hose"})])
    assert counts(library).confirmed == {"unlisted": pytest.approx(1.0)}


def test_all_can_be_learned_again(library: Library) -> None:
    library.add([part(), part("b")])
    before = counts(library)
    assert learning.again(library.database) == 2
    assert learning.experience(library.database, DEFECT).cases == 0.0
    assert counts(library) == before


def test_a_case_changed_while_it_was_being_heard_waits_for_the_next_time(library: Library) -> None:
    kept = library.add([part()])[0]
    changed = []

    def interrupted(case: Kept, causes: tuple[str, ...]) -> Iterable[Heard]:
        if not changed:
            changed.append(library.change(kept.name, "confirm", lambda k: k.model_copy(update={"confirmed": ("b",)})))
        return hear(case, causes)

    learning.learn(library.database, interrupted)
    assert learning.experience(library.database, DEFECT).confirmed == {"b": pytest.approx(1.0)}


def test_the_shipped_cases_teach_what_their_confirmed_causes_are(tmp_path: Path, of: Consultant) -> None:
    library = Library(tmp_path / "library.db")
    cases: list[Case] = [read_case(path, of.base) for path in sorted(CASES.glob("*.yaml"))]
    library.add(Kept.of(case) for case in cases)

    def heard(kept: Kept, causes: tuple[str, ...]) -> Iterable[Heard]:
        return hindsight(of, kept.case(), causes)

    learning.learn(library.database, heard)
    seams = [c for c in cases if c.defect == "mold.visible-seam" and c.confirmed]
    found = learning.experience(library.database, "mold.visible-seam")
    assert found.cases >= len(seams)
    taught = Consultant(of.base, of.resolver, "us", lambda d: learning.experience(library.database, d))
    shown = taught.diagnose(seams[0])
    assert f"{found.cases:.0f} confirmed case" in shown.learned
    library.close()
