"""Two metals that freeze over a range: how much is still liquid, in balance and as really cast."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from math import exp, fsum

from diagnose.errors import OutOfRange


def lever_rule(whole: float, one: float, other: float) -> float:
    r"""Share of the whole that is in the second of two phases in balance.

    Parameters
    ----------
    whole
        Content of the alloy in the second metal. [-]
    one
        Content of the first phase. [-]
    other
        Content of the second phase. [-]

    Returns
    -------
    float
        Mass share of the second phase. [-]

    Raises
    ------
    OutOfRange
        If a content is not from 0 to 1, the phases have the same content, or the alloy does not lie between
        them (then only one phase is there, and the rule says nothing).

    Notes
    -----
    Mass balance: :math:`f = (c_0 - c_1) / (c_2 - c_1)`, all by mass or all by atoms.

    Examples
    --------
    Half way between the phases there is half of each:

    >>> lever_rule(0.25, 0.0, 0.5)
    0.5
    """
    for name, value in (("alloy", whole), ("first phase", one), ("second phase", other)):
        _check_content(name, value)
    if one == other or not min(one, other) <= whole <= max(one, other):
        raise OutOfRange(
            f"an alloy with {whole:.2%} does not lie between phases with {one:.2%} and {other:.2%}.",
            next_step="There is only one phase; the lever rule does not apply.",
        )
    return (whole - one) / (other - one)


def eutectic_in_balance(content: float, solid_limit: float, eutectic: float) -> float:
    """Share that freezes last, all at once, if everything cooled slowly enough to stay in balance.

    Parameters
    ----------
    content
        Content of the alloy in the second metal. [-]
    solid_limit
        Most that the solid can hold at the eutectic temperature. [-]
    eutectic
        Content of the eutectic liquid. [-]

    Returns
    -------
    float
        Mass share of eutectic; zero when the solid can hold all of the second metal. [-]

    Raises
    ------
    OutOfRange
        If a content is not from 0 to 1, the solid limit is not below the eutectic, or the alloy is richer
        than the eutectic.

    Notes
    -----
    The lever rule just under the eutectic temperature, and zero below the solid limit. Castings never reach
    this balance: see ``scheil_liquid_left``.

    Examples
    --------
    >>> eutectic_in_balance(0.05, 0.08, 0.28)
    0.0
    """
    if not solid_limit < eutectic:
        raise OutOfRange(
            f"the solid limit {solid_limit:.2%} is not below the eutectic {eutectic:.2%}.",
            next_step="Check the diagram: the solid always holds less than the liquid.",
        )
    if content > eutectic:
        raise OutOfRange(
            f"an alloy with {content:.2%} is richer than the eutectic, {eutectic:.2%}.",
            next_step="Ask from the side of the other metal.",
        )
    _check_content("alloy", content)
    return 0.0 if content <= solid_limit else lever_rule(content, solid_limit, eutectic)


def scheil_liquid_left(content: float, partition: float, liquid: float) -> float:
    r"""Share still liquid when the liquid has been enriched to a given content, as cast.

    Parameters
    ----------
    content
        Content of the alloy in the second metal. [-]
    partition
        Content of the solid divided by that of the liquid it freezes from, taken as constant. [-]
    liquid
        Content of the liquid reached, for instance that of the eutectic. [-]

    Returns
    -------
    float
        Mass share still liquid. [-]

    Raises
    ------
    OutOfRange
        If a content is not above 0 and under 1, the partition is not above 0 and under 1, or the liquid is
        poorer than the alloy.

    Notes
    -----
    Scheil and Gulliver: well mixed liquid, no diffusion in the solid:

    .. math:: f_L = (c_L / c_0)^{1/(k - 1)}

    With k from the ends of the tie line at the eutectic the share comes out too high where k falls with
    temperature; ``scheil_along`` uses the real tie lines.

    References
    ----------
    from memory of flemings-1974.

    Examples
    --------
    With k = 0.5 doubling the content of the liquid leaves a quarter:

    >>> scheil_liquid_left(0.05, 0.5, 0.10)
    0.25
    """
    if not 0.0 < content < 1.0 or not content <= liquid < 1.0:
        raise OutOfRange(
            f"liquid with {liquid:.2%} cannot come from an alloy with {content:.2%}.",
            next_step="Check both contents: the liquid gets richer.",
        )
    if not 0.0 < partition < 1.0:
        raise OutOfRange(
            f"a partition of {partition:g} is not above 0 and under 1.",
            next_step="Check it: content of the solid over that of the liquid.",
        )
    return float((liquid / content) ** (1.0 / (partition - 1.0)))


def scheil_along(liquids: Sequence[float], solids: Sequence[float]) -> float:
    r"""Share still liquid after freezing along a path of real tie lines, as cast.

    Parameters
    ----------
    liquids
        Contents of the liquid along the path, rising from that of the alloy. [-]
    solids
        Content of the solid in balance with each of them. [-]

    Returns
    -------
    float
        Mass share still liquid at the end of the path. [-]

    Raises
    ------
    OutOfRange
        If there are fewer than two tie lines, the liquid does not get richer along the path, or a solid is
        not poorer than its liquid.

    Notes
    -----
    Mass balance over a small step of freezing, :math:`(c_L - c_S)\,df_L = -f_L\,dc_L`, summed by the
    trapezoidal rule:

    .. math:: \ln f_L = -\int_{c_0}^{c_L} \frac{dc}{c_L - c_S}

    Diffusion in the solid is left out, so the true share is at most this and at least the one in balance.

    References
    ----------
    from memory of flemings-1974.

    Examples
    --------
    Solid that takes up nothing of the second metal: doubling the content leaves half:

    >>> path = [0.1 * 2 ** (i / 200) for i in range(201)]
    >>> round(scheil_along(path, [0.0] * 201), 4)
    0.5
    """
    if len(liquids) != len(solids) or len(liquids) < 2:
        raise OutOfRange(
            f"{len(liquids)} liquids and {len(solids)} solids are not a path of tie lines.",
            next_step="Give one solid for each liquid.",
        )
    if any(not 0.0 <= s < lq <= 1.0 for lq, s in zip(liquids, solids, strict=True)):
        raise OutOfRange("on some tie line the solid is not poorer than the liquid.", next_step="Check the tie lines.")
    steps = list(pairwise(liquids))
    if any(after <= before for before, after in steps):
        raise OutOfRange(
            "the liquid does not get richer along the path.", next_step="Give the tie lines from hot to cold."
        )
    rates = [1.0 / (lq - s) for lq, s in zip(liquids, solids, strict=True)]
    heights = pairwise(rates)
    areas = [0.5 * (a + b) * (y - x) for (x, y), (a, b) in zip(steps, heights, strict=True)]
    return exp(-fsum(areas))


def _check_content(name: str, value: float) -> None:
    """Refuse a content that is not a share."""
    if not 0.0 <= value <= 1.0:
        raise OutOfRange(
            f"the content of the {name}, {value:g}, is not a share from 0 to 1.",
            next_step="Write it as a share of the mass.",
        )
