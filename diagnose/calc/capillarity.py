"""How the surface tension of molten metal keeps it out of the finest detail."""

from __future__ import annotations

from math import cos, isfinite, pi

from diagnose.errors import OutOfRange


def rod_back_pressure(tension: float, contact_angle: float, radius: float) -> float:
    r"""Pressure needed to push a metal that does not wet into a round hole.

    Parameters
    ----------
    tension
        Surface tension of the metal. [N/m]
    contact_angle
        Angle at which it meets the mold wall; pi when it does not wet at all. [rad]
    radius
        Radius of the hole. [m]

    Returns
    -------
    float
        Pressure. [Pa]

    Raises
    ------
    OutOfRange
        If tension or radius is not above zero, or the angle is not over pi/2 and at most pi.

    Notes
    -----
    Young and Laplace for two equal radii of curvature: :math:`P = 2 \gamma |\cos\theta| / r`.

    Examples
    --------
    >>> rod_back_pressure(1.0, pi, 0.001)
    2000.0
    """
    _check("radius", radius)
    return 2.0 * _hold(tension, contact_angle) / radius


def sheet_back_pressure(tension: float, contact_angle: float, thickness: float) -> float:
    r"""Pressure needed to push a metal that does not wet into a flat gap.

    Parameters
    ----------
    tension
        Surface tension of the metal. [N/m]
    contact_angle
        Angle at which it meets the mold wall; pi when it does not wet at all. [rad]
    thickness
        Thickness of the gap. [m]

    Returns
    -------
    float
        Pressure. [Pa]

    Raises
    ------
    OutOfRange
        If tension or thickness is not above zero, or the angle is not over pi/2 and at most pi.

    Notes
    -----
    One radius of curvature, half the thickness: :math:`P = 2 \gamma |\cos\theta| / t`.

    Examples
    --------
    A gap as thick as a hole's radius holds back as much as the hole:

    >>> sheet_back_pressure(1.0, pi, 0.001) == rod_back_pressure(1.0, pi, 0.001)
    True
    """
    _check("thickness", thickness)
    return 2.0 * _hold(tension, contact_angle) / thickness


def edge_back_pressure(tension: float, radius: float) -> float:
    r"""Pressure needed to fill an edge down to a radius.

    Parameters
    ----------
    tension
        Surface tension of the metal. [N/m]
    radius
        Radius of the rounded edge. [m]

    Returns
    -------
    float
        Pressure. [Pa]

    Raises
    ------
    OutOfRange
        If tension or radius is not above zero.

    Notes
    -----
    One radius of curvature, a metal that does not wet: :math:`P = \gamma / R`. A point needs twice that.

    Examples
    --------
    >>> edge_back_pressure(1.0, 0.001)
    1000.0
    """
    _check("tension", tension)
    _check("radius", radius)
    return tension / radius


def smallest_rod_radius(tension: float, contact_angle: float, pressure: float) -> float:
    r"""Radius of the finest round hole that a pressure fills.

    Parameters
    ----------
    tension
        Surface tension of the metal. [N/m]
    contact_angle
        Angle at which it meets the mold wall; pi when it does not wet at all. [rad]
    pressure
        Pressure on the metal. [Pa]

    Returns
    -------
    float
        Radius. [m]

    Raises
    ------
    OutOfRange
        If tension or pressure is not above zero, or the angle is not over pi/2 and at most pi.

    Notes
    -----
    ``rod_back_pressure`` turned round. The same number is the thickness of the thinnest sheet. Freezing and
    gas shut in the mold are left out; under vacuum or spin they are what really limits fine detail.

    Examples
    --------
    >>> smallest_rod_radius(1.0, pi, 2000.0)
    0.001
    """
    _check("pressure", pressure)
    return 2.0 * _hold(tension, contact_angle) / pressure


def _hold(tension: float, contact_angle: float) -> float:
    """Return the part of the surface tension that pulls the metal back out of an opening."""
    _check("tension", tension)
    if not pi / 2.0 < contact_angle <= pi + 1e-9:
        raise OutOfRange(
            f"a contact angle of {contact_angle:.2f} rad is not over pi/2 and at most pi.",
            next_step="A metal that wets the mold would be drawn in; this formula is for one that does not.",
        )
    return tension * abs(cos(contact_angle))


def _check(name: str, value: float) -> None:
    """Refuse a size or pressure that is not above zero."""
    if not (value > 0.0 and isfinite(value)):
        raise OutOfRange(f"a {name} of {value:g} is not above zero.", next_step=f"Check the {name} and its unit.")
