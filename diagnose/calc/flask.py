"""The flask round the tree: the room for slurry, and how much mold must stand between wax and outside."""

from __future__ import annotations

from math import pi

from diagnose.calc.allowed_range import within
from diagnose.errors import OutOfRange

NARROWEST, WIDEST = 0.015, 0.5  # m
LOWEST, TALLEST = 0.015, 1.0  # m


def check_flask(diameter: float, height: float) -> None:
    """Refuse a flask that nobody casts in.

    Parameters
    ----------
    diameter
        Inside diameter. [m]
    height
        Inside height. [m]

    Raises
    ------
    OutOfRange
        If the diameter is not from 15 mm to 0.5 m or the height not from 15 mm to 1 m.

    Examples
    --------
    >>> check_flask(0.0762, 0.1016)
    """
    within("the flask diameter", diameter, NARROWEST, WIDEST, "m", "Write the unit: mm or in.")
    within("the flask height", height, LOWEST, TALLEST, "m", "Write the unit: mm or in.")


def room_for_slurry(diameter: float, height: float, wax: float) -> float:
    r"""Volume that slurry has to fill in a flask with its tree.

    Parameters
    ----------
    diameter
        Inside diameter of the flask. [m]
    height
        Height that is filled. [m]
    wax
        Volume of the tree. [m^3]

    Returns
    -------
    float
        Volume. [m^3]

    Raises
    ------
    OutOfRange
        If the flask is absurd, or the wax takes half of it or more: no mold would be left.

    Notes
    -----
    .. math:: V = \frac{\pi}{4} D^2 H - V_{wax}

    Examples
    --------
    3 x 4 in without wax:

    >>> round(room_for_slurry(0.0762, 0.1016, 0.0) * 1e6, 1)
    463.3
    """
    check_flask(diameter, height)
    whole = pi / 4.0 * diameter**2 * height
    if not 0.0 <= wax < 0.5 * whole:
        raise OutOfRange(
            "a tree of {tree:m3} does not fit a flask of {flask:m3}.",
            {"tree": wax, "flask": whole},
            next_step="Check the weight of the wax and the size of the flask.",
        )
    return whole - wax


def needed_end_cover(diameter: float, least: float) -> float:
    r"""Mold that must stand between the tip of the tree and the closed end.

    Parameters
    ----------
    diameter
        Inside diameter of the flask. [m]
    least
        Cover under which no flask goes, whatever its size. [m]

    Returns
    -------
    float
        Thickness. [m]

    Raises
    ------
    OutOfRange
        If the diameter is not from 15 mm to 0.5 m or the least cover is below zero.

    Notes
    -----
    A quarter of the diameter: the end is a round plate held at its rim, and its stress goes with the square of
    diameter over thickness (`plate_edge_stress`). Needed, but not enough by itself: thin mixes, cracks and a
    poor burnout break through thicker ends.

    References
    ----------
    common practice.

    Examples
    --------
    A 3 1/2 in flask needs 22 mm, a small one the least:

    >>> [round(needed_end_cover(d, 0.012) * 1000, 1) for d in (0.0889, 0.040)]
    [22.2, 12.0]
    """
    within("the flask diameter", diameter, NARROWEST, WIDEST, "m", "Write the unit: mm or in.")
    within("the least cover", least, 0.0, 0.2, "m")
    return max(least, diameter / 4.0)


def plate_edge_stress(pressure: float, radius: float, thickness: float) -> float:
    r"""Largest bending stress in a round plate held all round, under even pressure.

    Parameters
    ----------
    pressure
        Pressure difference across the plate. [Pa]
    radius
        Radius of the plate. [m]
    thickness
        Thickness of the plate. [m]

    Returns
    -------
    float
        Stress at the held edge. [Pa]

    Raises
    ------
    OutOfRange
        If an input is not above zero, or the plate is thicker than its radius and no plate any more.

    Notes
    -----
    .. math:: \sigma = \frac{3}{4}\,p\,(R/t)^2

    Theory of thin plates; at a thickness of half the radius it only gives the order of magnitude.

    References
    ----------
    from memory of timoshenko-1959, ch. 3.

    Examples
    --------
    90 kPa on 44.5 mm radius: 6 mm is in trouble, 22 mm is not (MPa):

    >>> [round(plate_edge_stress(90e3, 0.0445, t) / 1e6, 2) for t in (0.006, 0.022)]
    [3.71, 0.28]
    """
    within("the pressure", pressure, 1e-9, 1e8, "Pa")
    within("the radius", radius, NARROWEST / 2.0, WIDEST / 2.0, "m")
    within("the thickness", thickness, 1e-4, radius, "m", "This holds for a plate, not for a block.")
    return 0.75 * pressure * (radius / thickness) ** 2
