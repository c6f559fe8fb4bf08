"""The metals on file against element data, the phase diagram and plain sense."""

from __future__ import annotations

import periodictable
import pytest
from chemicals import Hfus, Tm

from diagnose.model.vocabulary import Material
from diagnose.rulebase.load import RuleBase
from diagnose.rulebase.naming import materials_meant

ELEMENTS = {
    "gold": ("Au", "7440-57-5"),
    "silver": ("Ag", "7440-22-4"),
    "copper": ("Cu", "7440-50-8"),
    "zinc": ("Zn", "7440-66-6"),
    "nickel": ("Ni", "7440-02-0"),
    "palladium": ("Pd", "7440-05-3"),
}


@pytest.fixture(scope="module")
def metals(base: RuleBase) -> dict[str, Material]:
    return dict(base.words.slots["metal"].materials)


def shares(metal: Material) -> dict[str, float]:
    return {n.removesuffix(" share"): p.value for n, p in metal.properties.items() if n.endswith(" share") and " " in n
            and n.split()[0] in (*ELEMENTS, "platinum", "tin", "silicon")}  # fmt: skip


def test_densities_of_precious_alloys_follow_from_element_data(metals: dict[str, Material]) -> None:
    seen = 0
    for name, metal in metals.items():
        parts = shares(metal)
        if not {"gold", "silver"} & set(parts) or set(parts) - set(ELEMENTS):
            continue
        if "density" not in metal.properties or abs(sum(parts.values()) - 1) > 1e-6:
            continue
        volume = sum(w / periodictable.elements.symbol(ELEMENTS[n][0]).density for n, w in parts.items())
        assert metal.properties["density"].value / 1000 == pytest.approx(1 / volume, rel=0.005), name
        seen += 1
    assert seen >= 15


def test_heats_of_melting_follow_from_element_data(metals: dict[str, Material]) -> None:
    for name, metal in metals.items():
        parts = shares(metal)
        if set(parts) - set(ELEMENTS) or abs(sum(parts.values()) - 1) > 1e-6:
            continue
        heat = sum(
            w * Hfus(ELEMENTS[n][1]) / (periodictable.elements.symbol(ELEMENTS[n][0]).mass / 1000)
            for n, w in parts.items()
        )
        assert metal.properties["latent heat"].value == pytest.approx(heat, rel=0.02), name


@pytest.mark.parametrize(("name", "element"), [("fine silver", "silver"), ("fine gold", "gold"), ("copper", "copper")])
def test_pure_metals_melt_where_they_melt(metals: dict[str, Material], name: str, element: str) -> None:
    melting = Tm(ELEMENTS[element][1])

    assert metals[name].properties["liquidus"].value == pytest.approx(melting, abs=0.1)
    assert metals[name].properties["freezing range"].value == 0.0


# mass % Cu and liquidus/solidus [degC] computed from Hayes et al. (1986); checked in test_two_metals.py by scipy.
@pytest.mark.parametrize(
    ("name", "copper", "liquidus", "solidus"),
    [
        ("britannia silver", 4.2, 924, 879),
        ("sterling", 7.5, 896, 803),
        ("coin silver", 10.0, 877, 779),
        ("800 silver", 20.0, 816, 779),
    ],
)
def test_silvers_lie_on_the_diagram(
    metals: dict[str, Material], name: str, copper: float, liquidus: float, solidus: float
) -> None:
    p = metals[name].properties

    assert p["copper share"].value * 100 == pytest.approx(copper)
    assert p["liquidus"].value - 273.15 == pytest.approx(liquidus, abs=1)
    assert p["solidus"].value - 273.15 == pytest.approx(solidus, abs=1)


def test_every_metal_makes_sense(metals: dict[str, Material]) -> None:
    for name, metal in metals.items():
        p = metal.properties
        assert p["superheat for heavy sections"].value < p["superheat for fine sections"].value, name
        assert p["superheat for heavy sections"].value < p["highest superheat"].value, name
        assert 5e3 < p["density"].value < 2.2e4, name
        assert p["liquid density"].value < p["density"].value, name
        assert sum(shares(metal).values()) <= 1 + 1e-6, name
        if "liquidus" in p:
            end = p.get("last freezing", p["solidus"]).value
            assert end <= p["solidus"].value <= p["liquidus"].value, name
            assert p["freezing range"].value == pytest.approx(p["liquidus"].value - end, abs=0.6), name
        if "flask for heavy sections" in p:
            heavy, fine = p["flask for heavy sections"].value, p["flask for fine sections"].value
            assert 393.15 <= heavy <= fine <= p["hottest flask"].value, name
        if "longest quench wait" in p:
            assert p["quench wait"].value < p["longest quench wait"].value, name


def test_much_zinc_means_a_lower_ceiling(metals: dict[str, Material]) -> None:
    # Over 5 % zinc no more than 100 degrees above fully melted; common practice, zinc boils at 907 degC (CRC).
    for name, metal in metals.items():
        zinc = metal.properties.get("zinc share")
        if zinc and zinc.value > 0.05:
            assert metal.properties["highest superheat"].value <= 100, name


def test_no_window_asks_for_metal_that_is_not_fully_melted(base: RuleBase, metals: dict[str, Material]) -> None:
    for window in base.words.settings["pour temperature"].windows:
        for name in window.holds_for.get("metal", ()):
            p = metals[name].properties
            assert window.low is not None
            assert window.high is not None
            assert window.low > p["liquidus"].value + 10, name
            assert window.high <= p["liquidus"].value + p["highest superheat"].value + 20, name


def test_a_word_that_many_metals_share_is_asked_back_and_no_metal_has_it_twice(base: RuleBase) -> None:
    slot = base.words.slots["metal"]
    for metal in slot.materials.values():
        assert len(metal.words) == len(set(metal.words)), metal.name
    for word in ("silver", "14k", "18k", "gold"):
        assert len(materials_meant(slot, word)) > 1, word
    for name in slot.materials:
        assert materials_meant(slot, name) == (name,)
