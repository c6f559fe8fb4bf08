"""Speed and flow of metal that runs down a full sprue under its own weight."""

from __future__ import annotations

from diagnose.calc.bounds import require_positive


def flow_under_head(head: float, area: float) -> tuple[float, float]:
    r"""Speed and flow of metal at the foot of a sprue that stays full.

    Parameters
    ----------
    head
        Height of metal from the surface in the basin down to the place. [m]
    area
        Section of the stream at the place. [m^2]

    Returns
    -------
    tuple of float
        Speed [m/s] and volume flow [m^3/s].

    Raises
    ------
    OutOfRange
        If a value is not above zero.

    Notes
    -----
    :math:`v = \sqrt{2 g h}`, :math:`Q = A v`: no friction, no back pressure of gas, gravity alone. Both make the
    true speed lower; vacuum and spinning make it higher.

    Examples
    --------
    Free fall over 20 cm (groover-2010, gating example, from memory: 198.1 cm/s):

    >>> round(flow_under_head(0.20, 2.5e-4)[0], 2)
    1.98
    """
    require_positive(head=head, area=area)
    speed = (2.0 * 9.80665 * head) ** 0.5
    return speed, area * speed
