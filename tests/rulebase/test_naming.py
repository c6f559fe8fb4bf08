"""What typed names mean: the words of metric and US shops (common practice), misspelt names, and names that mean nothing here."""

from __future__ import annotations

from pathlib import Path

import pytest

from diagnose.consult import Consultant
from diagnose.consult.what_if import what_if
from diagnose.errors import BadInput
from diagnose.model.case import Case
from diagnose.rulebase.cases import case_from_text, fact_value
from diagnose.rulebase.checks import check
from diagnose.rulebase.load import RuleBase
from diagnose.rulebase.naming import folded, likeness, materials_meant
from tests.rulebase.folders import OBSERVATIONS, small_folder

MEANT = {
    "kiln vent": "vent of the kiln", "wall thickness": "thinnest section", "master bore": "model size",
    "metal temperature": "pour temperature", "melt temp": "pour temperature", "Pouring temperature": "pour temperature",
    "quench time": "quench delay", "water": "water weight", "weight of water": "water weight", "water amount": "water weight",
    "water powder ratio": "water ratio", "water/powder": "water ratio", "flask temp": "flask temperature", "elevation": "altitude",
    "mould temp": "mold temperature", "flask dia": "flask diameter", "rpm": "spin speed", "sprue dia": "gate diameter",
    "sprue length": "gate length", "main sprue diameter": "trunk diameter", "dwell": "hold time", "burnout temp": "burnout top temperature",
    "gloss off": "gloss-off time", "set time": "gloss-off time", "work time": "hands-off time", "vulcanizer temperature": "platen temperature",
    "thickness of the mold": "rubber thickness", "master metal": "model metal", "kind of wax": "wax", "kind of rubber": "rubber",
    "thickest part": "heaviest section", "carat": "karat", "weight of the charge": "metal weight", "leak rate": "vacuum lost in a minute",
    "ramp rate": "burnout ramps", "spacing of the parts": "gap between parts", "transfer time": "kiln to pour time",
    "pickling time": "pickle time", "us ring size": "ring inch size", "durometer": "mold hardness", "label ratio": "label water",
}  # fmt: skip
NEAR = {
    "squeezout": "squeeze-out", "cure tme": "cure time", "platen temprature": "platen temperature", "flask temprature": "flask temperature",
    "metal tempreture": "pour temperature", "injecton pressure": "injection pressure", "tree wieght": "tree wax weight",
    "mixing tim": "mixing time", "glossoff time": "gloss-off time", "vacum": "vacuum at pour", "vacuum at pouring": "vacuum at pour",
    "kiln ofset": "kiln offset", "frame depht": "frame depth", "sheet thicknes": "sheet thickness", "metal wieght": "metal weight",
    "pickel temperature": "pickle temperature", "wax presure": "injection pressure", "boric acid percent": "boric acid share",
    "altitute": "altitude", "trunk diamter": "trunk diameter", "water rato": "water ratio", "hold tme": "hold time",
}  # fmt: skip
NOTHING = (
    "operator", "price", "weather", "supplier", "lot number", "moon phase", "kiln brand", "humidity", "kiln humidity", "customer",
    "polishing time", "hammer weight", "solder temperature", "laser power", "torch pressure", "oxygen pressure", "water hardness",
    "order number", "stone size", "ultrasonic time", "plating thickness", "sprue angle", "flask material", "flask coating", "ring weight",
    "silver content", "temperature", "weight", "tumbler time", "gas pressure",
)  # fmt: skip
SEVERAL = {
    "vacuum": {"mold vacuum", "pot vacuum", "investing vacuum", "vacuum at pour"},
    "kiln temperature": {"kiln loading temperature", "burnout top temperature", "pour hold temperature"},
    "part thickness": {"thinnest section", "heaviest section"},
    "wax weight": {"wax shot weight", "tree wax weight"},
    "opening time": {"block cooling time", "time in the mold"},
    "water temperature": {"mold quench temperature", "slurry temperature", "quench water temperature", "weighing water temperature"},
    "alloy": {"metal", "alloy shares"},
}  # fmt: skip


@pytest.mark.parametrize(("typed", "name"), MEANT.items())
def test_what_people_call_a_thing_is_that_thing(typed: str, name: str, base: RuleBase) -> None:
    told = {*base.words.settings, *base.words.observations, *base.words.slots}
    assert base.words.names_meant.meant(typed, among=told) == (name,)


@pytest.mark.parametrize(("typed", "name"), NEAR.items())
def test_a_misspelt_name_brings_the_one_that_is_like_it(typed: str, name: str, base: RuleBase) -> None:
    assert base.words.names_meant.meant(typed) == ()
    near = base.words.names_meant.near(typed)
    assert name in near if typed == "vacum" else near[0] == name
    with pytest.raises(BadInput, match="Did you mean"):
        fact_value(base, typed, "1")


@pytest.mark.parametrize("typed", NOTHING)
def test_a_name_that_is_like_nothing_brings_no_suggestion(typed: str, base: RuleBase) -> None:
    assert base.words.names_meant.meant(typed) == ()
    assert base.words.names_meant.near(typed) == []
    with pytest.raises(BadInput, match="No name is like it"):
        fact_value(base, typed, "1")


@pytest.mark.parametrize(("typed", "names"), SEVERAL.items())
def test_a_name_that_can_mean_several_things_is_never_taken_for_one(
    typed: str, names: set[str], base: RuleBase
) -> None:
    assert set(base.words.names_meant.meant(typed)) == names
    with pytest.raises(BadInput, match=f"'{typed}' can mean"):
        base.words.named(typed)


@pytest.mark.parametrize(
    ("typed", "stage", "name"),
    [
        ("vacuum", "casting", "vacuum at pour"), ("vacuum", "investment", "investing vacuum"), ("opening time", "mold", "block cooling time"),
        ("opening time", "wax", "time in the mold"), ("wax weight", "casting", "tree wax weight"), ("wax weight", "wax", "wax shot weight"),
        ("water temperature", "investment", "slurry temperature"),
    ],
)  # fmt: skip
def test_the_stage_of_the_defect_decides_where_one_belongs_to_it(
    typed: str, stage: str, name: str, base: RuleBase
) -> None:
    assert base.words.named(typed, stage) == name


def test_two_of_one_stage_are_still_two(base: RuleBase) -> None:
    assert set(base.words.names_meant.meant("vacuum", "wax")) == SEVERAL["vacuum"]


def test_every_setting_has_another_name(base: RuleBase) -> None:
    assert [name for name, s in base.words.settings.items() if not s.words] == []
    assert [name for name, s in base.words.slots.items() if not s.words] == []


def test_every_own_name_means_only_itself(base: RuleBase) -> None:
    for name in base.words.names():
        assert base.words.names_meant.meant(name) == (name,)
        assert base.words.names_meant.meant(name.upper().replace(" ", "-")) == (name,)


@pytest.mark.parametrize(
    ("one", "other"),
    [("Temp. of the Wax", "wax temperature"), ("mould-weight", "mold weight"), ("the flask dia", "flask diameter")],
)
def test_loosely_written_names_are_one(one: str, other: str) -> None:
    assert folded(one) == folded(other)


def test_a_shared_last_word_makes_nothing_alike() -> None:
    assert likeness("kiln temperature", "slurry temperature") == 0.0
    assert likeness("kiln vent", "kiln loading temperature") == 0.0


@pytest.mark.parametrize(
    ("typed", "some", "not_"),
    [
        ("silver", {"fine silver", "sterling", "coin silver"}, {"silver-copper mix"}),
        ("14k", {"14k yellow gold", "14k red gold", "14k nickel white gold"}, {"18k yellow gold"}),
        ("14ct", {"14k yellow gold"}, {"18k yellow gold"}),
        ("gold", {"fine gold", "18k yellow gold", "9k red gold"}, {"sterling"}),
        ("white gold", {"18k palladium white gold", "14k nickel white gold"}, {"18k yellow gold"}),
        ("brass", {"yellow brass", "red brass"}, {"tin bronze"}),
        ("platinum", {"950 platinum-ruthenium", "950 platinum-cobalt"}, {"950 palladium"}),
    ],
)
def test_a_family_of_alloys_is_asked_back(typed: str, some: set[str], not_: set[str], base: RuleBase) -> None:
    meant = set(materials_meant(base.words.slots["metal"], typed))
    assert some <= meant
    assert not meant & not_
    with pytest.raises(BadInput, match=f"'{typed}' can mean"):
        fact_value(base, "metal", typed)


@pytest.mark.parametrize(
    ("typed", "name"),
    [
        ("925", "sterling"),
        ("Sterling Silver", "sterling"),
        ("24k", "fine gold"),
        ("2N", "18k pale yellow gold"),
        ("10ct", "10k yellow gold"),
    ],
)
def test_one_alloy_is_taken(typed: str, name: str, base: RuleBase) -> None:
    assert fact_value(base, "metal", typed) == name


def test_a_case_file_takes_other_names_and_keeps_the_own_one(base: RuleBase) -> None:
    text = "defect: casting.incomplete-fill\nsettings:\n  vacuum: 20 inHg\n  wall thickness: 1 mm\nmaterials:\n  alloy: sterling\n"
    case = case_from_text(text, "case.yaml", base)
    assert set(case.settings) == {"vacuum at pour", "thinnest section"}
    assert case.materials == {"metal": "sterling"}


@pytest.mark.parametrize(
    ("told", "message"),
    [
        ("settings:\n  part thickness: 1 mm\n", "case.yaml:3.*can mean thinnest section or heaviest section.*Write one of them"),
        ("settings:\n  wall thickness: 1 mm\n  thinnest section: 2 mm\n", "case.yaml:4.*'thinnest section' is told twice"),
        ("settings:\n  moon phase: 1 mm\n", "unknown name 'moon phase'.*rules list --kind settings"),
        ("materials:\n  metal: silver\n", "'silver' can mean fine silver or"),
    ],
)  # fmt: skip
def test_a_case_file_says_what_is_not_clear(told: str, message: str, base: RuleBase) -> None:
    with pytest.raises(BadInput, match=message):
        case_from_text(f"defect: casting.incomplete-fill\n{told}", "case.yaml", base)


def test_a_change_is_taken_by_another_name(of: Consultant, base: RuleBase) -> None:
    case = case_from_text("defect: casting.incomplete-fill\nsettings: {vacuum: 20 inHg}\n", "case.yaml", base)
    assert what_if(of, case, ("vacuum = 27 inHg",)).changes[0].name == "vacuum at pour"
    with pytest.raises(BadInput, match="can mean"):
        what_if(of, Case(defect="casting.incomplete-fill"), ("part thickness = 1 mm",))


@pytest.mark.parametrize(
    ("words", "messages"),
    [
        ("[pump oil]", ["its other name 'pump oil' is the name of 'pump oil'."]),
        (
            "[noise of the leak, leak noise]",
            ["has the other name 'leak noise' twice.", "has the other name 'noise of the leak' twice."],
        ),
        ("[Leak-sound]", ["its other name 'Leak-sound' is its own name."]),
        ("[hissing]", []),
    ],
)
def test_other_names_that_never_reach_are_named(words: str, messages: list[str], tmp_path: Path) -> None:
    spoiled = OBSERVATIONS.replace("    about: leak\n", f"    about: leak\n    words: {words}\n")
    folder = small_folder(tmp_path, {"_observations.yaml": (OBSERVATIONS, spoiled)})
    assert sorted(i.what for i in check(RuleBase(folder))) == messages
