"""How much smaller each copy gets: model to rubber to wax to metal to finished piece, and back."""

from __future__ import annotations

from collections.abc import Sequence
from math import cbrt, prod

from diagnose.calc.allowed_range import above_zero, within
from diagnose.errors import OutOfRange


def rubber_shrinkage(volume_expansion: float, model_expansion: float, cooling: float) -> float:
    r"""Linear shrinkage of a cavity that set hot round a model, once both are cold.

    Parameters
    ----------
    volume_expansion
        Volume expansion of the cured rubber, referred to its cold volume. [1/K]
    model_expansion
        Linear expansion of the model. [1/K]
    cooling
        From the temperature at which the rubber set (gelled) to room temperature. [K]

    Returns
    -------
    float
        Share by which the cold cavity is smaller than the cold model; below zero when larger. [-]

    Raises
    ------
    OutOfRange
        If the cooling is not between 0 and 250 K, or an expansion is negative or over 1.5e-3 per kelvin.

    Notes
    -----
    .. math:: s = 1 - \frac{1 + \alpha \Delta T}{(1 + \beta \Delta T)^{1/3}}

    Free and alike in all directions. Volume changes by crosslinking, the rebound from pressure (0.06 % at
    3.5 MPa), grain and flow, and give of the rubber under wax pressure are left out.

    References
    ----------
    Plain thermal expansion; that a mold shrinks by its contraction less the model's growth is trade
    knowledge.

    Examples
    --------
    A rubber that expands like its model makes a true copy:

    >>> abs(rubber_shrinkage((1.0 + 2e-5 * 130.0) ** 3 / 130.0 - 1.0 / 130.0, 2e-5, 130.0)) < 1e-12
    True
    """
    within("the rubber's volume expansion", volume_expansion, 0.0, 1.5e-3, "1/K")
    within("the model's linear expansion", model_expansion, 0.0, 1.5e-3, "1/K")
    within("the cooling from set to room temperature", cooling, 0.0, 250.0, "K change")
    return 1.0 - (1.0 + model_expansion * cooling) / cbrt(1.0 + volume_expansion * cooling)


def measured_shrinkage(before: float, after: float) -> float:
    """Shrinkage from one size to the next, from two measurements of the same dimension.

    Parameters
    ----------
    before
        Size of what was copied. [m]
    after
        Size of the copy. [m]

    Returns
    -------
    float
        Share by which the copy is smaller; below zero when larger. [-]

    Raises
    ------
    OutOfRange
        If a size is not above zero, or they differ by more than 30 %: then it was not the same dimension.

    Examples
    --------
    >>> round(measured_shrinkage(0.020, 0.0195), 6)
    0.025
    """
    above_zero("the size before", before, "m")
    above_zero("the size after", after, "m")
    return within("the shrinkage between the two sizes", 1.0 - after / before, -0.3, 0.3)


def chain_share(shrinkages: Sequence[float]) -> float:
    """Size at the end of a chain of copies over the size at its start.

    Parameters
    ----------
    shrinkages
        Linear shrinkage of each step. [-]

    Returns
    -------
    float
        Product of what each step leaves. [-]

    Raises
    ------
    OutOfRange
        If a step shrinks by more than 15 % or grows by more than 5 %.

    Notes
    -----
    Steps multiply; adding their percentages overstates the whole.

    Examples
    --------
    >>> round(chain_share((0.1, 0.1)), 6)
    0.81
    """
    for share in shrinkages:
        within("the shrinkage of one step", share, -0.05, 0.15)
    return prod(1.0 - share for share in shrinkages)


def finished_size(model: float, shrinkages: Sequence[float], finishing: float) -> float:
    """Size of the finished piece that a model leads to.

    Parameters
    ----------
    model
        Size of the model. [m]
    shrinkages
        Linear shrinkage of each copy: rubber, wax, metal. [-]
    finishing
        What filing and polishing take off this dimension in all; below zero for a bore, which they widen. [m]

    Returns
    -------
    float
        Finished size. [m]

    Raises
    ------
    OutOfRange
        If the model has no size, a step is outside `chain_share`, or finishing leaves nothing.

    Examples
    --------
    >>> round(finished_size(0.020, (0.025,), 0.0001) * 1e3, 6)
    19.4
    """
    above_zero("the model's size", model, "m")
    size = model * chain_share(shrinkages) - finishing
    if not 0.0 < size < 2.0 * model:
        raise OutOfRange(
            "finishing that changes {model size:m} by {finishing loss:m} leaves no usable size.",
            {"model size": model, "finishing loss": finishing},
            next_step="Check what finishing takes off.",
        )
    return size


def model_size(finished: float, shrinkages: Sequence[float], finishing: float) -> float:
    """Size that a model needs so that the finished piece comes out right.

    Parameters
    ----------
    finished
        Wanted size. [m]
    shrinkages
        Linear shrinkage of each copy: rubber, wax, metal. [-]
    finishing
        What filing and polishing take off this dimension in all; below zero for a bore, which they widen. [m]

    Returns
    -------
    float
        Size of the model. [m]

    Raises
    ------
    OutOfRange
        If the wanted size or what is cast is not above zero, or a step is outside `chain_share`.

    Notes
    -----
    `finished_size` backwards: one divides by what the steps leave, one does not multiply by what they take.

    Examples
    --------
    >>> steps = (0.02, 0.015, 0.014)
    >>> round(model_size(finished_size(0.0173, steps, 1e-4), steps, 1e-4) * 1e3, 9)
    17.3
    """
    above_zero("the wanted size", finished, "m")
    above_zero("the size before finishing", finished + finishing, "m")
    return (finished + finishing) / chain_share(shrinkages)
