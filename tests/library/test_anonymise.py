"""What leaves the shop without a name: nothing that a person wrote freely, no day, no picture."""

from __future__ import annotations

from pathlib import Path

from hypothesis import given

from diagnose.library.anonymise import anonymised
from diagnose.library.intake import Intake, Manner, Report
from diagnose.library.kept import Chance, Kept, Moved, Photo, Said, Set, Spoke, Tried
from diagnose.library.life import confirmed
from diagnose.library.lines import numbered
from diagnose.library.store import Library
from diagnose.rulebase.load import RuleBase
from tests.library.invented import a_case, kepts

SECRET = "Zzyzx"


def full_of_secrets() -> Kept:
    return a_case(
        name=f"2026-{SECRET}", author=SECRET, opened_at="2026-01-12T09:00:00Z", part=SECRET, notes=f"for {SECRET}",
        settings={
            "cure time": Set(typed=f"60 min said {SECRET}", value=3600.0),
            "platen temperature": Set(typed="307 F", value=425.928),
            SECRET: Set(typed="1", value=1.0),
        },
        materials={"rubber": "natural rubber", SECRET: SECRET},
        observations={"squeeze-out": "none", "layer peel": SECRET},
        trials=(
            Tried(
                changed=SECRET, outcome=SECRET, date="2026-01-15", author=SECRET, result="cured",
                moves=(Moved(setting="cure time", before=SECRET, after="75 min", after_si=4500.0),),
            ),
        ),
        photos=(Photo(path=f"/home/{SECRET}/ring.jpg"),), other_cause=SECRET, cost=1250, currency=SECRET,
        said=Said(at="2026-01-12T09:00:00Z", causes=(Chance(cause="mold.pack-too-empty", chance=0.9),)),
        uid="ab" * 16,
    )  # fmt: skip


def test_nothing_that_was_written_freely_is_left(base: RuleBase) -> None:
    left = anonymised(full_of_secrets(), base).to_json()
    assert SECRET.casefold() not in left.casefold()
    assert "2026-01-1" not in left


def test_a_name_in_any_field_that_a_file_can_bring_is_not_left(base: RuleBase) -> None:
    kept = a_case(
        author=SECRET, opened_at=SECRET, closed_at=f"2026-01 {SECRET}", defect=SECRET, date=f"2026 {SECRET}",
        materials={SECRET: "not known"}, observations={SECRET: "not known", "cure time": "not known"},
        said=Said(
            at=SECRET, verdict=SECRET, causes=(Chance(cause=SECRET, chance=0.9),),
            evidence=(Spoke(rule=SECRET, cause=SECRET, speaks="for", counted=True),),
        ),
        trials=(Tried(changed="x", date=f"2026-01{SECRET}", cause=SECRET),), confirmed=(SECRET,), shop=SECRET,
    )  # fmt: skip
    left = anonymised(kept, base)
    assert SECRET.casefold()[:2] not in left.to_json().casefold()
    assert left.observations == {"cure time": "not known"}
    assert (left.confirmed, left.other_cause) == ((), "none of these"), "that it was something else is no secret"


def test_what_other_shops_learn_from_is_all_there(base: RuleBase) -> None:
    left = anonymised(full_of_secrets(), base)
    assert (left.defect, left.date, left.materials) == ("mold.visible-seam", "2026-01", {"rubber": "natural rubber"})
    assert left.observations == {"squeeze-out": "none"}
    assert left.settings["platen temperature"].typed == "307 F"
    assert (left.settings["cure time"].typed, left.settings["cure time"].value) == ("", 3600.0)
    (trial,) = left.trials
    assert (trial.result, trial.moves[0].after, trial.moves[0].before) == ("cured", "75 min", "")
    assert left.said is not None
    assert left.said.causes[0].chance == 0.9


@given(kept=kepts())
def test_a_text_of_any_case_is_in_no_anonymised_one(base: RuleBase, kept: Kept) -> None:
    left = anonymised(kept, base)
    assert (left.author, left.part, left.notes, left.photos, left.currency, left.cost) == ("", "", "", (), "", None)
    assert all(t.changed == t.outcome == t.author == "" for t in left.trials)
    assert set(left.settings) <= set(base.words.settings)
    assert left.other_cause in ("", "none of these")
    assert anonymised(left, base) == left


def test_a_shop_that_gets_its_own_case_back_recognises_it(library: Library, base: RuleBase) -> None:
    library.add([a_case(), a_case(part="fern", uid="cd" * 16)])
    shared = [anonymised(k, base).to_json().encode() for k in library.everything()]
    before = list(library.everything())
    report = Intake(library, Manner(update=True)).take(numbered(shared))
    assert (report.taken, report.updated, len(report.same)) == (0, 0, 2)
    assert list(library.everything()) == before


def test_shared_cases_are_another_shops(library: Library, base: RuleBase) -> None:
    shared = anonymised(a_case(uid="ef" * 16), base)
    Intake(library, Manner()).take(numbered([shared.to_json().encode()]))
    assert [k.shop for k in library.everything()] == ["another shop"]


def test_what_another_shop_found_out_later_reaches_those_it_shared_with(
    library: Library, base: RuleBase, tmp_path: Path
) -> None:
    there = Library(tmp_path / "there.db")
    there.add([a_case(uid="ef" * 16)])

    def share(**manner: bool) -> Report:
        shared = [anonymised(k, base).to_json().encode() for k in there.everything()]
        return Intake(library, Manner(**manner)).take(numbered(shared))

    assert share().taken == 1
    there.change(there.names()[0], "confirm", lambda k: confirmed(k, ["mold.dirty-layers"], ""))
    assert len(share().differing) == 1
    assert share(update=True).updated == 1
    assert [(k.shop, k.confirmed) for k in library.everything()] == [("another shop", ("mold.dirty-layers",))]
    assert len(share(update=True).same) == 1
    there.close()
