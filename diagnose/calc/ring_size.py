"""Ring sizes: inner circumference in millimeters, and the inch system with its even steps."""

from __future__ import annotations

from math import pi

from diagnose.calc.allowed_range import above_zero, within

SMALLEST_STICK, LARGEST_STICK = 41.0, 76.0  # [mm] the sizes that the stick of ISO 8653 carries (from memory)


def size_by_circumference(bore: float) -> float:
    """Size by inner circumference: its number is the circumference in millimeters.

    Parameters
    ----------
    bore
        Inner diameter of the ring. [m]

    Returns
    -------
    float
        Size, not yet rounded to a whole number. [mm]

    Raises
    ------
    OutOfRange
        If the size is not on the stick: 41 to 76, half a size of rounding allowed.

    References
    ----------
    ISO 8653, Jewellery, Ring-sizes: definition, measurement and designation (from memory).

    Examples
    --------
    A bore of 17.19 mm:

    >>> round(size_by_circumference(0.01719))
    54
    """
    above_zero("the bore", bore, "m")
    return within("the ring's inner circumference", pi * bore * 1e3, SMALLEST_STICK - 0.5, LARGEST_STICK + 0.5, "mm")


def bore_of_circumference_size(size: float) -> float:
    """Bore of a ring whose size is given by inner circumference.

    Parameters
    ----------
    size
        Inner circumference. [mm]

    Returns
    -------
    float
        Inner diameter. [m]

    Raises
    ------
    OutOfRange
        If the size is not on the stick: 41 to 76.

    References
    ----------
    ISO 8653, Jewellery, Ring-sizes: definition, measurement and designation (from memory).

    Examples
    --------
    >>> round(bore_of_circumference_size(54.0) * 1e3, 2)
    17.19
    """
    within("the ring size", size, SMALLEST_STICK - 0.5, LARGEST_STICK + 0.5, "mm")
    return size / pi / 1e3


def inch_system_size(bore: float, bore_at_zero: float, step: float) -> float:
    """Size in a system whose bores grow by even steps.

    Parameters
    ----------
    bore
        Inner diameter of the ring. [m]
    bore_at_zero
        Inner diameter of size 0. [m]
    step
        Growth of the inner diameter from one whole size to the next. [m]

    Returns
    -------
    float
        Size, not yet rounded to a quarter. [-]

    Raises
    ------
    OutOfRange
        If the size is not between 0 and 20, or a length is not above zero.

    Notes
    -----
    No single standard fixes the two constants, so they are inputs.

    Examples
    --------
    >>> round(inch_system_size(0.017323, 0.458 * 0.0254, 0.032 * 0.0254), 2)
    7.0
    """
    above_zero("the bore", bore, "m")
    above_zero("the bore of size 0", bore_at_zero, "m")
    above_zero("the step of a size", step, "m")
    return within("the ring size", (bore - bore_at_zero) / step, 0.0, 20.0)


def bore_of_inch_system_size(size: float, bore_at_zero: float, step: float) -> float:
    """Bore of a ring whose size is given in a system of even steps.

    Parameters
    ----------
    size
        Size. [-]
    bore_at_zero
        Inner diameter of size 0. [m]
    step
        Growth of the inner diameter from one whole size to the next. [m]

    Returns
    -------
    float
        Inner diameter. [m]

    Raises
    ------
    OutOfRange
        If the size is not between 0 and 20, or a length is not above zero.

    Examples
    --------
    >>> round(bore_of_inch_system_size(7.0, 0.458 * 0.0254, 0.032 * 0.0254) * 1e3, 2)
    17.32
    """
    within("the ring size", size, 0.0, 20.0)
    above_zero("the bore of size 0", bore_at_zero, "m")
    above_zero("the step of a size", step, "m")
    return bore_at_zero + size * step
