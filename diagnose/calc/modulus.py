"""Modulus of a section: its volume over the surface that cools it, the one length that sets freezing time."""

from __future__ import annotations

from math import acos, asin, pi

from diagnose.calc.bounds import require_positive
from diagnose.errors import OutOfRange


def body(volume: float, cooling_area: float) -> float:
    r"""Modulus of any body from its volume and the surface through which it cools.

    Parameters
    ----------
    volume
        Volume of metal. [m^3]
    cooling_area
        Surface in touch with the mold; faces joined to other metal do not count. [m^2]

    Returns
    -------
    float
        Modulus. [m]

    Raises
    ------
    OutOfRange
        If either is not above zero, or no body of that volume has so little surface.

    Notes
    -----
    :math:`M = V/A`. The least surface that encloses a volume is the sphere's, so :math:`A \ge (36\pi V^2)^{1/3}`;
    less is refused unless part of the surface is joined to other metal, for which this check allows a half.

    References
    ----------
    chvorinov-1940, from memory.

    Examples
    --------
    A cube of 6 mm has a modulus of 1 mm (edge over six):

    >>> round(body(216e-9, 216e-6), 9)
    0.001
    """
    require_positive(volume=volume, cooling_area=cooling_area)
    if cooling_area < 0.5 * (36.0 * pi * volume**2) ** (1.0 / 3.0):
        raise OutOfRange(
            "a volume of {volume:m3} cannot have a cooling surface of only {surface:m2}.",
            {"volume": volume, "surface": cooling_area},
            next_step="Check the units of volume and surface.",
        )
    return volume / cooling_area


def plate(thickness: float) -> float:
    r"""Modulus of a wide flat plate cooled on both faces.

    Parameters
    ----------
    thickness
        Thickness of the plate. [m]

    Returns
    -------
    float
        Modulus. [m]

    Raises
    ------
    OutOfRange
        If the thickness is not above zero.

    Notes
    -----
    :math:`M = t/2`. The edges are left out: right within 10 % from a width of about ten thicknesses on.

    Examples
    --------
    >>> plate(0.002)
    0.001
    """
    require_positive("m", thickness=thickness)
    return thickness / 2.0


def bar(thickness: float, width: float) -> float:
    r"""Modulus of a long bar with a rectangular section, such as the shank of a ring.

    Parameters
    ----------
    thickness, width
        The two sides of the section, in any order. [m]

    Returns
    -------
    float
        Modulus. [m]

    Raises
    ------
    OutOfRange
        If a side is not above zero.

    Notes
    -----
    :math:`M = ab / (2(a + b))`. Bent into a ring it stays the same: volume and surface are both section times
    the path of the middle (Pappus), as long as the ring is not so tight that its bore closes.

    Examples
    --------
    A square bar of side a has a/4:

    >>> bar(0.004, 0.004)
    0.001
    """
    require_positive("m", thickness=thickness, width=width)
    return thickness * width / (2.0 * (thickness + width))


def rod(diameter: float) -> float:
    r"""Modulus of a long round rod, such as a gate or a trunk.

    Parameters
    ----------
    diameter
        Diameter of the rod. [m]

    Returns
    -------
    float
        Modulus. [m]

    Raises
    ------
    OutOfRange
        If the diameter is not above zero.

    Notes
    -----
    :math:`M = d/4`; the ends, which are joined to other metal, do not cool.

    Examples
    --------
    >>> rod(0.004)
    0.001
    """
    require_positive("m", diameter=diameter)
    return diameter / 4.0


def cylinder(diameter: float, height: float) -> float:
    r"""Modulus of a round block or disk that cools on its side and on both ends.

    Parameters
    ----------
    diameter, height
        Size of the block. [m]

    Returns
    -------
    float
        Modulus. [m]

    Raises
    ------
    OutOfRange
        If a size is not above zero.

    Notes
    -----
    :math:`M = dh / (2d + 4h)`. For a button open to the air the top counts as a cooling face.

    Examples
    --------
    As high as wide, a sixth of the diameter, as for a cube and a sphere of the same width:

    >>> round(cylinder(0.012, 0.012), 9)
    0.002
    """
    require_positive("m", diameter=diameter, height=height)
    return diameter * height / (2.0 * diameter + 4.0 * height)


def sphere(diameter: float) -> float:
    r"""Modulus of a ball or a round bead.

    Parameters
    ----------
    diameter
        Diameter of the ball. [m]

    Returns
    -------
    float
        Modulus. [m]

    Raises
    ------
    OutOfRange
        If the diameter is not above zero.

    Notes
    -----
    :math:`M = d/6`.

    Examples
    --------
    >>> sphere(0.006)
    0.001
    """
    require_positive("m", diameter=diameter)
    return diameter / 6.0


def box(length: float, width: float, height: float) -> float:
    r"""Modulus of a block that cools on all six faces.

    Parameters
    ----------
    length, width, height
        Sides of the block. [m]

    Returns
    -------
    float
        Modulus. [m]

    Raises
    ------
    OutOfRange
        If a side is not above zero.

    Notes
    -----
    :math:`M = abc / (2(ab + bc + ca))`.

    Examples
    --------
    >>> round(box(0.006, 0.006, 0.006), 9)
    0.001
    """
    require_positive("m", length=length, width=width, height=height)
    return length * width * height / (2.0 * (length * width + width * height + height * length))


def tube(outer: float, wall: float, *, bore_cools: bool = True) -> float:
    r"""Modulus of a long hollow round section, or of a flat collar cut from it.

    Parameters
    ----------
    outer
        Outer diameter. [m]
    wall
        Thickness of the wall, up to half of the outer diameter. [m]
    bore_cools
        Whether the core in the bore takes heat. A thin core heats through at once and does not. [-]

    Returns
    -------
    float
        Modulus. [m]

    Raises
    ------
    OutOfRange
        If a size is not above zero or the wall is thicker than the tube allows.

    Notes
    -----
    With both faces cooling exactly half of the wall; with the bore shut off
    :math:`M = w (D - w) / D`.

    Examples
    --------
    >>> tube(0.020, 0.002)
    0.001
    >>> round(tube(0.020, 0.002, bore_cools=False), 9)
    0.0018
    """
    require_positive("m", outer=outer, wall=wall)
    if wall > outer / 2.0:
        raise OutOfRange(
            "a wall of {thinnest section:m} does not fit in a tube of {heaviest section:m}.",
            {"thinnest section": wall, "heaviest section": outer},
            next_step="Check which of the two is the wall.",
        )
    return wall / 2.0 if bore_cools else wall * (outer - wall) / outer


def half_round(width: float, height: float) -> float:
    r"""Modulus of a long section with a flat back and a round front, such as a D-shaped ring shank.

    Parameters
    ----------
    width
        Width of the flat back. [m]
    height
        Height of the round front over the back, up to half of the width. [m]

    Returns
    -------
    float
        Modulus. [m]

    Raises
    ------
    OutOfRange
        If a size is not above zero or the height is more than half of the width.

    Notes
    -----
    Segment of a circle of radius :math:`r = (w^2/4 + h^2) / (2h)` and half opening angle :math:`\phi`:
    area :math:`r^2(\phi - \sin\phi\cos\phi)`, edge :math:`2 r \phi + w`.

    Examples
    --------
    A full half circle of 4 mm: :math:`(\pi r^2/2) / (\pi r + 2 r)` with r = 2 mm:

    >>> round(half_round(0.004, 0.002) * 1e3, 4)
    0.611
    """
    require_positive("m", width=width, height=height)
    if height > width / 2.0:
        raise OutOfRange(
            "a round front {part height:m} high on a back {part width:m} wide is more than half a circle.",
            {"part height": height, "part width": width},
            next_step="Use the round rod or the bar instead.",
        )
    radius = (width**2 / 4.0 + height**2) / (2.0 * height)
    angle = acos((radius - height) / radius)
    area = radius**2 * angle - (radius - height) * width / 2.0
    return area / (2.0 * radius * asin(min(1.0, width / (2.0 * radius))) + width)


def section(thickness: float, width: float | None = None) -> float:
    """Modulus of the heaviest section of a part from what can be measured with a caliper.

    Parameters
    ----------
    thickness
        Thickness of the section. [m]
    width
        Its width, or None for a wall that is wide in both directions. [m]

    Returns
    -------
    float
        Modulus. [m]

    Raises
    ------
    OutOfRange
        If a size is not above zero.

    Notes
    -----
    A bar when the width is known, otherwise a plate. Round and square sections of equal width have the same
    modulus (a quarter of it), so a round rod is given as equal thickness and width.

    Examples
    --------
    >>> section(0.002), section(0.002, 0.002)
    (0.001, 0.0005)
    """
    return plate(thickness) if width is None else bar(thickness, width)
