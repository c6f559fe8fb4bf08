"""How full a frame is packed, and how much rubber heat will push out of it."""

from __future__ import annotations

from diagnose.calc.allowed_range import above_zero, within
from diagnose.errors import OutOfRange


def overfill(frame_volume: float, rubber_volume: float, model_volume: float) -> float:
    """Rubber and model over what the frame holds.

    Parameters
    ----------
    frame_volume
        Inner length times width times depth. [m^3]
    rubber_volume
        All rubber in the pack. [m^3]
    model_volume
        Model with its sprue, as far as it lies in the frame. [m^3]

    Returns
    -------
    float
        Share of the frame's volume; below zero when the pack is short. [-]

    Raises
    ------
    OutOfRange
        If a volume is negative, the frame has none, or the model is larger than the frame.

    Notes
    -----
    Solid volumes: air left between the sheets is not counted as rubber.

    Examples
    --------
    A frame of 100 cm3 with 104 cm3 of rubber round a model of 1 cm3 is 5 % over:

    >>> round(overfill(100e-6, 104e-6, 1e-6), 6)
    0.05
    """
    above_zero("the frame's volume", frame_volume, "m3")
    within("the rubber's volume", rubber_volume, 0.0, 1.0, "m3")
    if not 0.0 <= model_volume < frame_volume:
        raise OutOfRange(
            "a model of {model volume:m3} does not go into {frame beside the model volume:m3}.",
            {"model volume": model_volume, "frame beside the model volume": frame_volume},
            next_step="Check the model's mass and density and the frame's inner sizes.",
        )
    return (rubber_volume + model_volume) / frame_volume - 1.0


def heat_squeeze_out(volume_expansion: float, frame_expansion: float, warming: float) -> float:
    r"""Share of a brim-full frame that heat alone pushes out.

    Parameters
    ----------
    volume_expansion
        Volume expansion of the rubber, referred to its cold volume. [1/K]
    frame_expansion
        Linear expansion of the frame. [1/K]
    warming
        From packing to the cure. [K]

    Returns
    -------
    float
        Share of the frame's volume. [-]

    Raises
    ------
    OutOfRange
        If the warming is not between 0 and 300 K, or an expansion is negative or over 1e-3 per kelvin.

    Notes
    -----
    .. math:: \frac{1 + \beta \Delta T}{(1 + \alpha \Delta T)^3} - 1

    The model, which expands less than the rubber it displaces, is taken as rubber.

    Examples
    --------
    Nothing comes out cold:

    >>> heat_squeeze_out(6.6e-4, 23.6e-6, 0.0)
    0.0
    """
    within("the rubber's volume expansion", volume_expansion, 0.0, 1e-3, "1/K")
    within("the frame's linear expansion", frame_expansion, 0.0, 1e-3, "1/K")
    within("the warming", warming, 0.0, 300.0, "K change")
    return (1.0 + volume_expansion * warming) / (1.0 + frame_expansion * warming) ** 3 - 1.0


def needed_rubber(frame_area: float, frame_depth: float, model_volume: float, proud: float) -> float:
    """Volume of rubber for a pack that stands a little above the frame.

    Parameters
    ----------
    frame_area
        Inner length times inner width. [m^2]
    frame_depth
        Depth of the frame. [m]
    model_volume
        Model with its sprue, as far as it lies in the frame. [m^3]
    proud
        How far the pack should stand above the frame. [m]

    Returns
    -------
    float
        Volume of rubber. [m^3]

    Raises
    ------
    OutOfRange
        If a size is not above zero, the pack would stand more than 10 mm proud, or nothing is left to fill.

    Examples
    --------
    10 cm2 by 20 mm, 1 mm proud, without a model:

    >>> round(needed_rubber(10e-4, 0.020, 0.0, 0.001) * 1e6, 6)
    21.0
    """
    above_zero("the frame's inner area", frame_area, "m2")
    above_zero("the frame's depth", frame_depth, "m")
    within("the height above the frame", proud, 0.0, 0.010, "m")
    volume = frame_area * (frame_depth + proud) - model_volume
    if model_volume < 0.0 or volume <= 0.0:
        raise OutOfRange(
            "a model of {model volume:m3} leaves no room for rubber in this frame.",
            {"model volume": model_volume},
            next_step="Check the model's mass and density and the frame's inner sizes.",
        )
    return volume


def proud_height(frame_area: float, frame_depth: float, rubber_volume: float, model_volume: float) -> float:
    """How far the pack would stand above the frame if it were solid and even.

    Parameters
    ----------
    frame_area
        Inner length times inner width. [m^2]
    frame_depth
        Depth of the frame. [m]
    rubber_volume
        All rubber in the pack. [m^3]
    model_volume
        Model with its sprue, as far as it lies in the frame. [m^3]

    Returns
    -------
    float
        Height above the frame; below zero when the pack is short. [m]

    Raises
    ------
    OutOfRange
        As `overfill`.

    Examples
    --------
    >>> round(proud_height(10e-4, 0.020, 21e-6, 0.0) * 1e3, 6)
    1.0
    """
    above_zero("the frame's inner area", frame_area, "m2")
    above_zero("the frame's depth", frame_depth, "m")
    return overfill(frame_area * frame_depth, rubber_volume, model_volume) * frame_depth


def squeezed_out_share(overfill_share: float, heat_share: float, void_share: float) -> float:
    """Share of the pack's rubber that should come out of the frame.

    Parameters
    ----------
    overfill_share
        Rubber and model over what the frame holds. [-]
    heat_share
        Share of the frame that heat pushes out. [-]
    void_share
        Air in the pack that must be filled first, as a share of the frame. [-]

    Returns
    -------
    float
        Share of the pack; 0 when nothing comes out. [-]

    Raises
    ------
    OutOfRange
        If the overfill is not between -50 and 100 %, or another share is not between 0 and 30 %.

    Notes
    -----
    What stands over, plus what heat adds, less what fills the air, over the pack.

    Examples
    --------
    A pack 7 % over, 7.6 % from heat, 3 % air:

    >>> round(squeezed_out_share(0.07, 0.076, 0.03), 3)
    0.108
    """
    within("the overfill", overfill_share, -0.5, 1.0)
    within("the share pushed out by heat", heat_share, 0.0, 0.3)
    within("the air in the pack", void_share, 0.0, 0.3)
    return max(0.0, overfill_share + heat_share - void_share) / (1.0 + overfill_share)
