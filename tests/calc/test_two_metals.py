"""The melting range of silver-copper against the published invariant and a general-purpose solver."""

from __future__ import annotations

import numpy as np
import periodictable
import pytest
from scipy.integrate import quad
from scipy.optimize import brentq, fsolve

from diagnose.calc.two_metals import Mixing, PureMetal, TwoMetals, eutectic, melting_range, tie_line
from diagnose.errors import OutOfRange

R = 8.314462618
AG, CU = (periodictable.elements.symbol(s).mass / 1000 for s in ("Ag", "Cu"))
T_AG, T_CU = 1234.93, 1357.77  # ITS-90 fixed points [K]
LOW = 1052.25


# Assessment of Hayes, Lukas, Effenberg & Petzow, Z. Metallkde 77, 749 (1986), from memory, in J/mol; x is the mole
# fraction of copper, and the skew terms are written for (x_Ag - x_Cu).
def gap_ag(t):
    return 11025.076 - 8.891021 * t - 1.034e-20 * t**7


def gap_cu(t):
    return 12964.735 - 9.511904 * t - 5.849e-21 * t**7


def liquid(t):
    return 17323.40 - 4.46819 * t, 1654.38 - 2.35285 * t


def solid(t):
    return 36061.88 - 10.44288 * t, -4310.12


def potentials(x, energies, t):
    even, skew = energies
    ag = R * t * np.log(1 - x) + x**2 * (even + skew * (3 - 4 * x))
    cu = R * t * np.log(x) + (1 - x) ** 2 * (even + skew * (1 - 4 * x))
    return ag, cu


def reference_tie_line(t, guess):
    """Liquid and silver-rich solid by scipy, with the full temperature dependence of the assessment."""

    def off(x):
        l_ag, l_cu = potentials(x[0], liquid(t), t)
        s_ag, s_cu = potentials(x[1], solid(t), t)
        return [l_ag + gap_ag(t) - s_ag, l_cu + gap_cu(t) - s_cu]

    return fsolve(off, guess, xtol=1e-12)


def mass(x):
    return x * CU / (x * CU + (1 - x) * AG)


@pytest.fixture(scope="module")
def silver_copper() -> TwoMetals:
    def phase(energies):
        (even_low, skew_low), (even_high, skew_high) = energies(LOW), energies(T_AG)
        return Mixing(even_low, even_high, -skew_low, -skew_high)

    return TwoMetals(
        PureMetal(T_AG, AG, gap_ag(LOW)), PureMetal(T_CU, CU, gap_cu(LOW)), phase(liquid), phase(solid), LOW, T_AG
    )


def test_the_invariant_is_the_published_one(silver_copper):
    # NIST, after Hayes et al.: 779.1 degC; liquid 28.41 % Cu; 8.27 % Cu in (Ag); 7.47 % Ag in (Cu).
    found = eutectic(silver_copper)

    assert found.temperature - 273.15 == pytest.approx(779.1, abs=0.05)
    assert found.liquid * 100 == pytest.approx(28.41, abs=0.005)
    assert found.first_solid * 100 == pytest.approx(8.27, abs=0.005)
    assert (1 - found.second_solid) * 100 == pytest.approx(7.47, abs=0.01)


def test_tie_lines_agree_with_a_general_solver(silver_copper):
    guess = (0.02, 0.01)
    for t in np.linspace(1230.0, 1055.0, 36):
        guess = reference_tie_line(t, guess)
        found = tie_line(silver_copper, t)
        # The straight line through two temperatures misses the seventh power by a few joules at most.
        assert mass(found.liquid) == pytest.approx(mass(guess[0]), abs=1.5e-3)
        assert mass(found.solid) == pytest.approx(mass(guess[1]), abs=1e-3)


@pytest.mark.parametrize("percent", [4.2, 5.0, 6.5, 7.5, 10.0, 20.0])
def test_liquidus_and_solidus_agree_with_a_general_solver(silver_copper, percent):
    def reference(which):
        def off(t):
            guess = (0.02, 0.01)
            for step in np.linspace(1230.0, t, 30):
                guess = reference_tie_line(step, guess)
            return mass(guess[which]) - percent / 100

        return brentq(off, 1230.0, 1052.0, xtol=1e-3) - 273.15

    found = melting_range(silver_copper, percent / 100)

    assert found.liquidus - 273.15 == pytest.approx(reference(0), abs=1.0)
    if percent < 8.27:
        assert found.solidus - 273.15 == pytest.approx(reference(1), abs=1.0)
    else:
        assert found.solidus == found.end_of_freezing  # clamped at the eutectic, not 717 or 623 degC


def test_sterling_lies_within_the_handbook_spread(silver_copper):
    # Handbook liquidus 893 to 900, solidus 802 to 810 degC, from memory of ASM Handbook vol. 2.
    found = melting_range(silver_copper, 0.075)

    assert 893 <= found.liquidus - 273.15 <= 900
    assert 802 <= found.solidus - 273.15 <= 810
    assert found.end_of_freezing - 273.15 == pytest.approx(779.1, abs=0.05)


def test_sterling_as_cast_agrees_with_a_numerical_integral(silver_copper):
    # d ln f = -dc/(c_L - c_S), by quadrature over temperature along tie lines of scipy.
    temperatures = np.linspace(1229.0, 1052.28, 400)
    guess, lines = (0.02, 0.01), []
    for t in temperatures:
        guess = reference_tie_line(t, guess)
        lines.append((mass(guess[0]), mass(guess[1])))
    liquids, solids = np.array(lines).T
    area, _ = quad(lambda c: 1 / (c - np.interp(c, liquids, solids)), 0.075, 0.2841, limit=200)

    found = melting_range(silver_copper, 0.075).frozen_last

    assert found == pytest.approx(np.exp(-area), rel=0.02)
    assert found == pytest.approx(0.115, abs=2e-3)  # the same integral, worked out once more elsewhere
    # Less than with the partition of the eutectic held constant, which is worked out in test_phase_diagram.py.
    assert 0.0 < found < 0.153


def test_more_copper_melts_lower_and_leaves_more_for_last(silver_copper):
    ranges = [melting_range(silver_copper, c) for c in (0.001, 0.02, 0.05, 0.075, 0.1, 0.2, 0.28)]

    liquidus = [r.liquidus for r in ranges]
    assert liquidus == sorted(liquidus, reverse=True)
    assert all(r.liquidus >= r.solidus >= r.end_of_freezing for r in ranges)
    last = [r.frozen_last for r in ranges]
    assert last == sorted(last)


def test_almost_pure_silver_melts_where_silver_melts(silver_copper):
    assert melting_range(silver_copper, 1e-4).liquidus == pytest.approx(T_AG, abs=0.2)


def test_swapping_twice_changes_nothing(silver_copper):
    assert silver_copper.swapped().swapped() == silver_copper


@pytest.mark.parametrize("content", [0.0, -0.1, 0.5, 1.2, float("nan")])
def test_a_content_beyond_the_eutectic_is_refused(silver_copper, content):
    with pytest.raises(OutOfRange, match="eutectic"):
        melting_range(silver_copper, content)


def test_metals_that_mix_fully_have_no_eutectic():
    ideal = Mixing(0.0, 0.0, 0.0, 0.0)
    one, other = PureMetal(1234.0, 0.1079, 1600.0), PureMetal(1337.0, 0.197, 2700.0)
    with pytest.raises(OutOfRange):
        eutectic(TwoMetals(one, other, ideal, ideal, 1050.0, 1234.0))


def test_energies_given_above_the_melting_point_are_refused():
    flat = Mixing(0.0, 0.0, 0.0, 0.0)
    pure = PureMetal(1000.0, 0.1, 1000.0)
    with pytest.raises(OutOfRange, match="below melting"):
        TwoMetals(pure, pure, flat, flat, 1100.0, 1200.0)


def test_no_tie_line_above_the_melting_point(silver_copper):
    with pytest.raises(OutOfRange, match="not under the melting point"):
        tie_line(silver_copper, T_AG + 10)
