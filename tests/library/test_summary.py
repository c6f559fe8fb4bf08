"""The shop picture against the same things counted case by case, on both databases."""

from __future__ import annotations

from collections import Counter

import numpy as np
import pytest
from scipy.stats import binomtest

from diagnose.errors import BadInput
from diagnose.library.kept import Chance, Kept, Moved, Said, Set, Tried
from diagnose.library.store import Library
from diagnose.library.summary import shop_picture
from diagnose.library.summary_slice import Asked
from diagnose.library.wilson import wilson
from diagnose.model.shop_picture import ShopPicture

DEFECTS = ("mold.voids", "mold.flash", "wax.voids")
CAUSES = ("mold.a", "mold.b", "wax.c", "")
RESULTS = ("cured", "better", "same", "worse", "")


def invented(number: int) -> Kept:
    """Return one of many different cases; nothing in it is left to chance from run to run."""
    dice = np.random.default_rng(number)
    cause = CAUSES[dice.integers(len(CAUSES))]
    first = CAUSES[dice.integers(3)]
    moved = Moved(setting="cure time", before="40 min", after="50 min", before_si=2400.0, after_si=3000.0 + number)
    changed = ("Ten minutes more.", "more  clamp")[number % 2]
    trial = Tried(changed=changed, result=RESULTS[dice.integers(5)], moves=(moved,))
    return Kept(
        defect=DEFECTS[min(int(dice.integers(4)), 2)], date=f"2026-{1 + number % 5:02d}-03",
        settings={"cure time": Set(typed="40 min", value=2400.0 + number)},
        materials={"rubber": ("natural", "silicone")[number % 3 == 0]},
        confirmed=(cause, "mold.a")[: 1 + (number % 7 == 0 and cause != "mold.a")] if cause else (),
        other_cause="hose" if number % 11 == 0 else "",
        said=Said(verdict="one cause", causes=(Chance(cause=first, chance=float(dice.uniform(0.05, 0.99))),)),
        trials=(trial,) if number % 4 else (), cost=number * 10 if number % 3 else None, currency="EUR",
    )  # fmt: skip


@pytest.fixture
def shop(library: Library) -> Library:
    library.add([invented(n) for n in range(150)])
    return library


def picture(library: Library, every_shop: bool = False, **asked: str) -> ShopPicture:
    return shop_picture(library.database, ["rubber"], Asked(every_shop=every_shop, **asked))


def true_causes(kept: Kept) -> tuple[str, ...]:
    return (*kept.confirmed, "unlisted") if kept.other_cause else kept.confirmed


def check(found: ShopPicture, cases: list[Kept]) -> None:
    """Compare a picture with the cases counted one by one."""
    assert found.cases == len(cases)
    assert found.confirmed == sum(bool(true_causes(k)) for k in cases)
    assert {d.id: d.cases for d in found.defects} == Counter(k.defect for k in cases)
    causes: Counter[str] = Counter()
    for kept in cases:
        for cause in true_causes(kept):
            causes[cause] += 1 / len(true_causes(kept))
    assert {c.id: c.cases for c in found.causes} == pytest.approx(dict(causes))
    assert {m.month: m.cases for m in found.months if m.cases} == Counter(k.date[:7] for k in cases)
    assert sum(c.hundredths for c in found.costs) == sum(k.cost or 0 for k in cases)
    results = Counter((tried.changed.casefold().split()[0], tried.result) for k in cases for tried in k.trials)
    for one in found.corrections:
        word = one.changed.casefold().split()[0]
        assert (one.cured, one.better, one.same, one.worse) == tuple(results[word, r] for r in RESULTS[:4])
    said = [(k.said.causes[0], true_causes(k)) for k in cases if k.said and true_causes(k)]
    right = [(first.chance, first.cause in true) for first, true in said]
    for tenth in found.calibration:
        here = [hit for chance, hit in right if tenth.low <= chance < tenth.high]
        assert (tenth.said, tenth.right) == (len(here), sum(here))
    assert sum(tenth.said for tenth in found.calibration) == len(right)


def test_the_picture_is_what_counting_the_cases_one_by_one_gives(shop: Library) -> None:
    check(picture(shop), list(shop.everything()))


@pytest.mark.parametrize("wanted", [{"stage": "wax"}, {"since": "2026-03"}, {"since": "2026-02", "until": "2026-03"}])
def test_so_it_is_for_some_of_the_cases(shop: Library, wanted: dict[str, str]) -> None:
    def meant(kept: Kept) -> bool:
        since, until = wanted.get("since", ""), wanted.get("until", "9999")
        return kept.defect.startswith(wanted.get("stage", "")) and since <= kept.date[:7] <= until

    check(picture(shop, **wanted), [k for k in shop.everything() if meant(k)])


def test_so_it_stays_when_cases_change_and_go(shop: Library) -> None:
    names = shop.names()
    shop.change(names[3], "confirm", lambda k: k.model_copy(update={"confirmed": ("mold.b",), "other_cause": ""}))
    shop.change(names[4], "trial", lambda k: k.model_copy(update={"trials": (), "cost": None, "date": "2026-05"}))
    shop.forget(names[5])
    shop.forget(names[6])
    shop.undo()
    check(picture(shop), list(shop.everything()))


@pytest.mark.parametrize("text", ["2026-13", "2026-11-25", "spring", "26"])
def test_a_summary_goes_by_whole_months(library: Library, text: str) -> None:
    with pytest.raises(BadInput, match="is no month or year"):
        picture(library, since=text)


def test_a_year_is_from_its_first_to_its_last_month(library: Library) -> None:
    library.add([Kept(defect="mold.voids", date=d) for d in ("2025-12", "2026-01", "2026-12-31", "2027-01", "")])
    assert picture(library, since="2026", until="2026").cases == 2
    assert picture(library, until="2025").cases == 1
    assert picture(library).cases == 5


def test_cases_of_other_shops_are_left_out_unless_asked_for(shop: Library) -> None:
    shop.add([invented(n).model_copy(update={"shop": "the other one"}) for n in range(200, 220)])
    everything = list(shop.everything())
    check(picture(shop), [k for k in everything if not k.shop])
    check(picture(shop, every_shop=True), everything)
    check(picture(shop, shop="the other one"), [k for k in everything if k.shop])


def test_bad_runs_stand_beside_those_that_a_correction_cured(shop: Library) -> None:
    assert picture(shop).settings
    for runs in picture(shop).settings:
        cases = [k for k in shop.everything() if k.defect == runs.defect]
        bad = [k.settings["cure time"].value for k in cases]
        good = [m.after_si for k in cases for tried in k.trials if tried.result == "cured" for m in tried.moves]
        assert (runs.bad.runs, runs.good.runs) == (len(bad), len(good))
        assert runs.bad.middle == pytest.approx(np.median(bad))
        assert (runs.good.low, runs.good.high) == pytest.approx(tuple(np.percentile(good, (25, 75))))
        assert [r.date for r in runs.last_bad] == sorted(r.date for r in runs.last_bad)
        rubbers = Counter(k.materials["rubber"] for k in cases)
        assert runs.materials == (("rubber", rubbers.most_common(1)[0][0]),)


def test_of_materials_met_equally_often_the_order_of_keeping_decides_nothing(library: Library) -> None:
    moved = Moved(setting="cure time", before="40 min", after="50 min", before_si=2400.0, after_si=3000.0)
    cases = [
        Kept(
            defect=DEFECTS[0], materials={"rubber": rubber}, settings={"cure time": Set(typed="40 min", value=2400.0)},
            trials=(Tried(changed="more", result="cured", moves=(moved,)),),
        )
        for rubber in ("silicone", "natural") * 2
    ]  # fmt: skip
    library.add(cases)
    assert picture(library).settings[0].materials == (("rubber", "natural"),)


def test_a_long_correction_ends_at_a_word_and_says_that_it_goes_on(library: Library) -> None:
    words = "Press nothing more before a second thermometer has read both platens. " * 4
    library.add([Kept(defect=DEFECTS[0], trials=(Tried(changed=words, result="cured"),))])
    (one,) = picture(library).corrections
    assert one.changed.endswith(" ...")
    assert words.startswith(one.changed.removesuffix("..."))


def test_an_empty_library_gives_an_empty_picture(library: Library) -> None:
    found = picture(library)
    assert (found.cases, found.defects, found.calibration, found.calibration_error) == (0, (), (), None)


def test_months_without_a_case_are_there_and_the_year_turns(library: Library) -> None:
    library.add([Kept(defect="mold.voids", date=d) for d in ("2025-11-30", "2026-02", "no date")])
    assert [(m.month, m.cases) for m in picture(library).months] == [
        ("2025-11", 1), ("2025-12", 0), ("2026-01", 0), ("2026-02", 1),
    ]  # fmt: skip


SHARES = [(k, n) for n in (1, 2, 10, 57, 1000) for k in sorted({0, 1, n // 3, n - 1, n})]


@pytest.mark.parametrize(("count", "of"), SHARES)
def test_the_interval_is_that_of_wilson(count: int, of: int) -> None:
    theirs = binomtest(count, of).proportion_ci(0.95, method="wilson")  # scipy, by the same published formula
    assert wilson(count, of) == pytest.approx((theirs.low, theirs.high), abs=1e-12)
