"""Sizing what feeds a part while it freezes: gate, legs, trunk, button, and the joint between them."""

from __future__ import annotations

from itertools import pairwise
from math import pi, sqrt

from diagnose.calc.bounds import require_positive
from diagnose.errors import OutOfRange


def rod_for_modulus(modulus: float) -> float:
    r"""Diameter of a long round rod that has a given modulus.

    Parameters
    ----------
    modulus
        Modulus wanted. [m]

    Returns
    -------
    float
        Diameter. [m]

    Raises
    ------
    OutOfRange
        If the modulus is not above zero.

    Notes
    -----
    :math:`d = 4M`. A gate so short that part and trunk keep it hot freezes later than this says.

    Examples
    --------
    To freeze a fifth of a modulus later than a 12 mm rod takes 14.4 mm:

    >>> round(rod_for_modulus(1.2 * 0.012 / 4) * 1e3, 3)
    14.4
    """
    require_positive("m", modulus=modulus)
    return 4.0 * modulus


def feeder_for_modulus(modulus: float, slenderness: float) -> float:
    r"""Diameter of a free-standing round feeder that has a given modulus.

    Parameters
    ----------
    modulus
        Modulus wanted. [m]
    slenderness
        Height over diameter of the feeder. [-]

    Returns
    -------
    float
        Diameter. [m]

    Raises
    ------
    OutOfRange
        If a value is not above zero.

    Notes
    -----
    :math:`d = M (2 + 4s)/s`, all faces cooling.

    Examples
    --------
    As high as wide, six moduli:

    >>> round(feeder_for_modulus(0.001, 1.0) * 1e3, 9)
    6.0
    """
    require_positive(modulus=modulus, slenderness=slenderness)
    return modulus * (2.0 + 4.0 * slenderness) / slenderness


def button_height_for_modulus(diameter: float, modulus: float) -> float:
    r"""Height a round button needs so that it freezes as late as wanted.

    Parameters
    ----------
    diameter
        Diameter of the button. [m]
    modulus
        Modulus wanted. [m]

    Returns
    -------
    float
        Height. [m]

    Raises
    ------
    OutOfRange
        If a button of that diameter cannot have the modulus however high it is.

    Notes
    -----
    Solves :math:`M = DH/(2D + 4H)` for :math:`H = 2DM/(D - 4M)`. The top counts as a cooling face; a covered or
    torch-heated button stays liquid longer.

    Examples
    --------
    A 25 mm button of 10 mm has 2.78 mm; turned round:

    >>> round(button_height_for_modulus(0.025, 0.25 / 90) * 1e3, 6)
    10.0
    """
    require_positive("m", diameter=diameter, modulus=modulus)
    if diameter <= 4.0 * modulus:
        raise OutOfRange(
            "a button {button diameter:m} across never reaches a modulus of {button modulus:m}, however high.",
            {"button diameter": diameter, "button modulus": modulus, "least button diameter": 4.0 * modulus},
            next_step="Use a pouring basin wider than {least button diameter:m}, or a thinner trunk.",
        )
    return 2.0 * diameter * modulus / (diameter - 4.0 * modulus)


def button_height(mass: float, density: float, diameter: float) -> float:
    r"""Height of a round button of a given mass.

    Parameters
    ----------
    mass
        Mass of metal left over the trunk. [kg]
    density
        Density of the metal. [kg/m^3]
    diameter
        Diameter of the button. [m]

    Returns
    -------
    float
        Height. [m]

    Raises
    ------
    OutOfRange
        If a value is not above zero.

    Notes
    -----
    :math:`H = 4m / (\pi \rho D^2)`: a straight-sided button. A cone-shaped basin makes it higher.

    Examples
    --------
    >>> round(button_height(3.141592653589793e-2, 1e4, 0.02), 6)
    0.01
    """
    require_positive(mass=mass, density=density, diameter=diameter)
    return 4.0 * mass / (pi * density * diameter**2)


def button_mass(diameter: float, height: float, density: float) -> float:
    r"""Mass of a round button.

    Parameters
    ----------
    diameter, height
        Size of the button. [m]
    density
        Density of the metal. [kg/m^3]

    Returns
    -------
    float
        Mass. [kg]

    Raises
    ------
    OutOfRange
        If a value is not above zero.

    Notes
    -----
    :math:`m = \pi \rho D^2 H / 4`.

    Examples
    --------
    >>> round(button_mass(0.02, 0.01, 1e4), 7)
    0.0314159
    """
    require_positive(diameter=diameter, height=height, density=density)
    return pi / 4.0 * density * diameter**2 * height


def feeder_volume_share(shrinkage: float, efficiency: float) -> float:
    r"""Volume a feeder needs, as a share of the volume of what it feeds.

    Parameters
    ----------
    shrinkage
        Loss of volume on freezing. [-]
    efficiency
        Share of the feeder's own volume that it can give up. [-]

    Returns
    -------
    float
        Feeder volume over part volume. [-]

    Raises
    ------
    OutOfRange
        If a share is not above zero, or the feeder cannot even feed itself.

    Notes
    -----
    The feeder gives :math:`e V_f` and must cover :math:`a (V_f + V_p)`, so :math:`V_f/V_p = a/(e - a)`.

    References
    ----------
    campbell-2011, from memory.

    Examples
    --------
    A simple cylinder gives up 14 %; metal that loses 7 % needs a feeder as large as the part:

    >>> round(feeder_volume_share(0.07, 0.14), 9)
    1.0
    """
    require_positive(shrinkage=shrinkage, efficiency=efficiency)
    if efficiency > 1.0 or shrinkage >= efficiency:
        raise OutOfRange(
            f"a feeder that can give {efficiency:.0%} cannot make up for {shrinkage:.0%}, not even its own.",
            next_step="Check both shares; a plain cylinder gives about a seventh.",
        )
    return shrinkage / (efficiency - shrinkage)


def junction_circle(wall: float, gate: float) -> float:
    r"""Largest circle that fits where a gate stands on a flat wall.

    Parameters
    ----------
    wall
        Thickness of the wall. [m]
    gate
        Width of the gate on it. [m]

    Returns
    -------
    float
        Diameter of the circle. [m]

    Raises
    ------
    OutOfRange
        If a size is not above zero.

    Notes
    -----
    The circle touches the far face of the wall and the two inner corners: :math:`D = t + s^2/(4t)` up to
    :math:`s = 2t`; beyond, the circle slips into the gate and is as wide as the gate. Flat walls much wider than
    the gate only (seen in section, the gate as a rib); fillets make it larger. On rods and bars it says nothing.

    References
    ----------
    campbell-2011, junctions, from memory; derived for this program.

    Examples
    --------
    Gate as wide as the wall is thick, a quarter more than the wall:

    >>> junction_circle(2.0, 2.0)
    2.5
    """
    require_positive("m", wall=wall, gate=gate)
    return gate if gate > 2.0 * wall else wall + gate**2 / (4.0 * wall)


def leg_for_equal_area(stem: float, legs: int) -> float:
    r"""Diameter of each leg of a split gate that together pass what the stem passes.

    Parameters
    ----------
    stem
        Diameter of the stem. [m]
    legs
        Number of legs. [-]

    Returns
    -------
    float
        Diameter of a leg. [m]

    Raises
    ------
    OutOfRange
        If the stem is not above zero or there is no leg.

    Notes
    -----
    Equal area: :math:`d = D/\sqrt{n}`. Area is about filling; whether a leg feeds is a matter of its modulus,
    which falls with the diameter.

    Examples
    --------
    >>> round(leg_for_equal_area(1.0, 2), 3)
    0.707
    """
    require_positive(stem=stem, legs=float(legs))
    return stem / sqrt(legs)


def stem_for_legs(leg: float, legs: int, margin: float) -> float:
    r"""Diameter of a stem that passes what its legs take and freezes after them.

    Parameters
    ----------
    leg
        Diameter of each leg. [m]
    legs
        Number of legs. [-]
    margin
        Modulus of the stem over modulus of a leg, at least. [-]

    Returns
    -------
    float
        Diameter of the stem. [m]

    Raises
    ------
    OutOfRange
        If a size is not above zero, there is no leg, or the margin is below one.

    Notes
    -----
    The larger of :math:`d\sqrt{n}` (area) and :math:`m d` (modulus).

    Examples
    --------
    >>> round(stem_for_legs(0.004, 2, 1.2) * 1e3, 2)
    5.66
    """
    require_positive(leg=leg, legs=float(legs), margin=margin)
    if margin < 1.0:
        raise OutOfRange(f"a margin of {margin:g} would let the stem freeze first.", next_step="Use 1 or more.")
    return leg * max(sqrt(legs), margin)


def first_break(moduli: dict[str, float]) -> tuple[str, str] | None:
    """Find where a chain of sections stops feeding, walking from the part to the button.

    Parameters
    ----------
    moduli
        Moduli in the order part, gate, trunk, button; links that are not known are left out. [m]

    Returns
    -------
    tuple of str or None
        The link that freezes no later than its neighbour toward the part, and that neighbour; None if each
        link freezes after the one it feeds.

    Raises
    ------
    OutOfRange
        If fewer than two links are known or a modulus is not above zero.

    Notes
    -----
    Same metal and mold all along, so the order of the moduli is the order of freezing.

    Examples
    --------
    >>> first_break({"part": 1.0, "gate": 0.8, "trunk": 2.0})
    ('gate', 'part')
    >>> first_break({"part": 1.0, "gate": 1.2, "trunk": 2.0}) is None
    True
    """
    links = list(moduli.items())
    if len(links) < 2:
        raise OutOfRange("one section alone has no freezing order.", next_step="Record the next section too.")
    for name, modulus in links:
        require_positive("m", **{f"modulus_of_the_{name}": modulus})
    for (fed, small), (feeder, large) in pairwise(links):
        if large <= small:
            return feeder, fed
    return None
