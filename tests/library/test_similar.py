"""Which kept cases are found to be like one at hand, on both databases."""

from __future__ import annotations

import pytest

from diagnose.consult.alike import alike_words
from diagnose.library.kept import Kept, Set, Tried
from diagnose.library.similar import similar
from diagnose.library.store import Library
from diagnose.model.case import Case, Recorded
from diagnose.rulebase.load import RuleBase

VOIDS, FLASH, ELSEWHERE = "mold.voids", "mold.flash", "wax.voids"
STAGE = (VOIDS, FLASH)
SEEN = {"smell": "burnt", "color": "dark", "where": "middle", "feel": "soft"}


def kept(minutes: float = 60.0, defect: str = VOIDS, cause: str = "a", **seen: str) -> Kept:
    settings = {"cure time": Set(typed=f"{minutes} min", value=60.0 * minutes)}
    trial = Tried(changed="ten minutes more", result="cured")
    return Kept(
        defect=defect, settings=settings, observations={**SEEN, **seen}, confirmed=(cause,) if cause else (),
        trials=(trial,),
    )  # fmt: skip


def case(minutes: float = 60.0, defect: str = VOIDS, **seen: str) -> Case:
    settings = {"cure time": Recorded(typed=f"{minutes} min", value=60.0 * minutes)}
    return Case(defect=defect, settings=settings, observations={**SEEN, **seen})


def test_the_most_alike_come_first_with_what_came_of_them(library: Library) -> None:
    names = [k.name for k in library.add([kept(30.0), kept(58.0), kept(90.0), kept(60.0, cause="b", feel="hard")])]
    found = similar(library.database, case(), STAGE)
    assert found.looked_at == 4
    # By hand, over five shared facts: (4 + 1 - 2/60) / 5, then (4 + 1 - 30/60) / 5 twice, then 4/5.
    assert [one.similarity for one in found.like] == pytest.approx([(5 - 2 / 60) / 5, 0.9, 0.9, 0.8])
    assert [one.name for one in found.like] == [names[1], names[2], names[0], names[3]]
    assert found.like[0].worked == ("ten minutes more",)
    assert dict(found.causes()) == {"a": 3, "b": 1}


def test_numbers_are_compared_over_the_range_of_the_whole_stage(library: Library) -> None:
    library.add([kept(60.0), kept(62.0), kept(1060.0, defect=FLASH), kept(9060.0, defect=ELSEWHERE)])
    found = similar(library.database, case(70.0), STAGE)
    assert found.like[0].similarity == pytest.approx((4 + 1 - 8 / 1000) / 5)


def test_only_the_same_defect_unless_the_whole_stage_is_asked_for(library: Library) -> None:
    library.add([kept(), kept(defect=FLASH), kept(defect=ELSEWHERE)])
    assert [one.defect for one in similar(library.database, case(), STAGE).like] == [VOIDS]
    whole = similar(library.database, case(), STAGE, whole_stage=True)
    assert sorted(one.defect for one in whole.like) == [FLASH, VOIDS]


def test_of_very_many_the_newest_are_looked_at_unless_all_are_asked_for(library: Library) -> None:
    names = [k.name for k in library.add([kept(), kept(), kept()])]
    newest = similar(library.database, case(), STAGE, newest=2)
    assert (newest.looked_at, [one.name for one in newest.like]) == (2, [names[2], names[1]])
    assert similar(library.database, case(), STAGE, newest=None).looked_at == 3


def test_too_little_in_common_is_not_like_this(library: Library) -> None:
    library.add([Kept(defect=VOIDS, observations={"smell": "burnt", "other": "yes"})])
    assert similar(library.database, case(), STAGE).like == ()
    # Where only two facts were told, two shared are all there can be.
    two = Case(defect=VOIDS, observations={"smell": "burnt", "other": "yes"})
    assert len(similar(library.database, two, STAGE).like) == 1


def test_half_of_what_is_told_must_be_shared(library: Library) -> None:
    library.add([Kept(defect=VOIDS, observations=dict(list(SEEN.items())[:3]))])
    assert len(similar(library.database, case(), STAGE).like) == 1  # three of five
    more = {f"sign {n}": "yes" for n in range(2)}
    assert similar(library.database, case(**more), STAGE).like == ()  # three of seven


def test_more_than_are_shown_are_counted(library: Library, base: RuleBase) -> None:
    first, *_ = library.add(
        [kept(), *(kept(cause=cause) for cause in "aab"), kept(cause=""), kept(feel="hard", smell="")]
    )
    found = similar(library.database, case(), STAGE, apart_from=first.name, most=2)
    assert (found.looked_at, found.alike, len(found.like)) == (5, 4, 2)
    assert alike_words(base, found) == "4 like this here; of the 2 most alike 1 was: b."
    every = similar(library.database, case(), STAGE, apart_from=first.name)
    assert alike_words(base, every) == "4 like this here; 2 were: a; 1 was: b."


def test_a_case_is_not_like_itself_and_a_changed_one_is_as_it_stands(library: Library) -> None:
    first, second = library.add([kept(), kept()])
    found = similar(library.database, case(), STAGE, apart_from=first.name)
    assert [one.name for one in found.like] == [second.name]
    library.change(second.name, "tell", lambda k: k.model_copy(update={"observations": dict.fromkeys(SEEN, "other")}))
    assert similar(library.database, case(), STAGE, apart_from=first.name).like == ()
    library.forget(second.name)
    assert similar(library.database, case(), STAGE).looked_at == 1


def test_an_empty_library_and_words_never_heard_before_are_like_nothing(library: Library) -> None:
    assert similar(library.database, case(), STAGE).like == ()
    library.add([kept()])
    assert similar(library.database, Case(defect=VOIDS, observations={"never": "heard"}), STAGE).like == ()
    assert similar(library.database, case(smell="never heard"), STAGE).like[0].similarity == pytest.approx(0.8)
    assert similar(library.database, case(defect="mold.unknown"), ()).looked_at == 0
