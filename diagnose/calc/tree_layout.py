"""Where parts stand on a tree and in a flask: gaps, rows, order by thickness, and the wax of the whole tree."""

from __future__ import annotations

from collections.abc import Sequence
from math import asin, floor, isclose, pi

import numpy as np

from diagnose.calc.bounds import require_not_negative, require_positive
from diagnose.errors import OutOfRange


def gap_to_wall(flask_diameter: float, tree_diameter: float) -> float:
    r"""Investment between the widest place of a centred tree and the flask.

    Parameters
    ----------
    flask_diameter
        Inside diameter of the flask. [m]
    tree_diameter
        Diameter of the circle round the widest place of the tree. [m]

    Returns
    -------
    float
        Gap. [m]

    Raises
    ------
    OutOfRange
        If a size is not above zero or the tree does not go into the flask.

    Notes
    -----
    :math:`(D_f - D_t)/2`; a tree off centre has less on one side.

    Examples
    --------
    >>> round(gap_to_wall(0.076, 0.056), 6)
    0.01
    """
    require_positive("m", flask_diameter=flask_diameter, tree_diameter=tree_diameter)
    if tree_diameter >= flask_diameter:
        raise OutOfRange(
            "a tree {tree diameter:m} wide does not go into a flask of {flask diameter:m}.",
            {"tree diameter": tree_diameter, "flask diameter": flask_diameter},
            next_step="Use a wider flask or a slimmer tree.",
        )
    return (flask_diameter - tree_diameter) / 2.0


def gap_over_tip(flask_height: float, tree_height: float, base_rise: float = 0.0) -> float:
    r"""Investment between the tip of the tree and the closed end of the flask.

    Parameters
    ----------
    flask_height
        Inside height of the flask, or the level the investment is filled to. [m]
    tree_height
        Height of the tree over the face of the sprue base. [m]
    base_rise
        How far the dome of the base stands into the flask under the tree. [m]

    Returns
    -------
    float
        Gap. [m]

    Raises
    ------
    OutOfRange
        If a height is not possible or the tree stands out of the flask.

    Notes
    -----
    :math:`H_f - H_t - b`.

    Examples
    --------
    >>> round(gap_over_tip(0.100, 0.075, 0.010), 6)
    0.015
    """
    require_positive("m", flask_height=flask_height, tree_height=tree_height)
    require_not_negative("m", base_rise=base_rise)
    if tree_height + base_rise >= flask_height:
        raise OutOfRange(
            "a tree {tree height:m} high stands out of a flask of {flask height:m}.",
            {"tree height": tree_height + base_rise, "flask height": flask_height},
            next_step="Use a higher flask or a shorter tree.",
        )
    return flask_height - tree_height - base_rise


def parts_in_row(circle: float, part_width: float, gap: float) -> int:
    r"""Most parts that stand side by side in one row round the trunk.

    Parameters
    ----------
    circle
        Diameter of the circle through the narrowest place between them, usually where the parts begin. [m]
    part_width
        Width of a part across the row. [m]
    gap
        Investment wanted between neighbours. [m]

    Returns
    -------
    int
        Number of parts; 1 when no two fit. [-]

    Raises
    ------
    OutOfRange
        If circle or width is not above zero or the gap is below zero.

    Notes
    -----
    Parts as disks of width w with their middles on the circle: neighbours are a chord
    :math:`D \sin(\pi/n)` apart, which must be at least w + g.

    Examples
    --------
    Six coins fit round a seventh, their middles on a circle two coins wide:

    >>> parts_in_row(2.0, 1.0, 0.0)
    6
    """
    require_positive("m", circle=circle, part_width=part_width)
    require_not_negative("m", gap=gap)
    share = (part_width + gap) / circle
    if share > 1.0:
        return 1
    return max(1, floor(pi / asin(share) * (1.0 + 1e-12)))


def rows_on_trunk(length: float, part_height: float, gap: float) -> int:
    r"""Most rows of parts that stand one over the other along the trunk.

    Parameters
    ----------
    length
        Length of trunk that carries parts. [m]
    part_height
        Height of a part along the trunk. [m]
    gap
        Investment wanted between rows. [m]

    Returns
    -------
    int
        Number of rows; 0 when not even one fits. [-]

    Raises
    ------
    OutOfRange
        If length or height is not above zero or the gap is below zero.

    Notes
    -----
    :math:`\lfloor (l + g)/(h + g) \rfloor`: no gap is needed outside the first and last row here; the gaps to
    the ends of the flask are counted on their own.

    Examples
    --------
    >>> rows_on_trunk(0.050, 0.010, 0.010)
    3
    """
    require_positive("m", length=length, part_height=part_height)
    require_not_negative("m", gap=gap)
    return floor((length + gap) / (part_height + gap) * (1.0 + 1e-12))


def tree_wax(parts: int, part_mass: float, trunk_mass: float) -> float:
    r"""Wax of a whole tree that becomes metal.

    Parameters
    ----------
    parts
        Number of parts. [-]
    part_mass
        Mass of one wax with its gate. [kg]
    trunk_mass
        Mass of the trunk, without the rubber base. [kg]

    Returns
    -------
    float
        Mass. [kg]

    Raises
    ------
    OutOfRange
        If there is no part, or a mass is not possible.

    Notes
    -----
    :math:`n m + m_t`. Weighing the finished tree and taking off the base is better: it counts the joints too.

    Examples
    --------
    >>> round(tree_wax(12, 0.0018, 0.004), 6)
    0.0256
    """
    require_positive(number_of_parts=float(parts), part_mass=part_mass)
    require_not_negative("kg", trunk_mass=trunk_mass)
    return parts * part_mass + trunk_mass


def order_by_thickness(from_button: Sequence[float]) -> str:
    """Say which end of the tree carries the heavy parts.

    Parameters
    ----------
    from_button
        Thickest section of each row, from the button to the far tip. [m]

    Returns
    -------
    str
        `even` (all within a tenth of each other), `heavy near the button`, `heavy at the tip`, or `mixed`.

    Raises
    ------
    OutOfRange
        If fewer than two rows are given or a thickness is not above zero.

    Notes
    -----
    Decided by the rank correlation of thickness and place: over 0.5 either way is an order, less is mixed.

    Examples
    --------
    >>> order_by_thickness([0.004, 0.003, 0.003, 0.0015])
    'heavy near the button'
    """
    if len(from_button) < 2:
        raise OutOfRange(f"{len(from_button)} row has no order.", next_step="Give at least two rows.")
    for thickness in from_button:
        require_positive("m", thickness=thickness)
    if max(from_button) <= 1.1 * min(from_button):
        return "even"
    correlation = _rank_correlation(from_button)
    if abs(correlation) <= 0.5:
        return "mixed"
    return "heavy at the tip" if correlation > 0.0 else "heavy near the button"


def _rank_correlation(values: Sequence[float]) -> float:
    """Return Spearman's correlation of values with their place, ties sharing their mean rank."""
    ranks = [
        sum(v < w and not isclose(v, w) for v in values) + (1 + sum(isclose(v, w) for v in values)) / 2.0
        for w in values
    ]
    return float(np.corrcoef(np.arange(len(values)), ranks)[0, 1])
