"""A platen seen from above, with what the probe read at each point."""

from __future__ import annotations

from diagnose import units
from diagnose.consult.show import Shower
from diagnose.derive.calculator import Facts, number
from diagnose.derive.mold_inputs import known
from diagnose.derive.told import listed
from diagnose.report.pictures.panels import Map, Spot
from diagnose.report.pictures.picture import Picture
from diagnose.report.pictures.scale import scale_of

RIM = 0.14  # how far from the edge the outer points are drawn
PLACED = "seen from above, front edge below; points counted as they were read"


def platen_picture(show: Shower, recorded: Facts, revised: Facts | None = None) -> Picture:
    """Return the map of a platen; the facts are those that the calculator `platen survey` needs and gives."""
    del revised  # readings are what they were
    readings = listed(recorded, "platen readings")
    heat = scale_of(show, "platen readings")
    shown = known(recorded, "press display")
    shown = known(recorded, "platen temperature") if shown is None else shown
    factors = listed(recorded, "platen cure factors") if "platen cure factors" in recorded else ()
    spots, rows = [], []
    for n, (kelvin, (x, y, where)) in enumerate(zip(readings, places(len(readings)), strict=True), 1):
        words = [f"{n}: {heat.text(kelvin)}"]
        if shown is not None:
            words.append(f"{_signed(show, kelvin - shown)} off")
        if factors:
            words.append(f"pace {factors[n - 1]:.2f}")
        spots.append(Spot(x, y, kelvin, tuple(words)))
        rows.append(
            (str(n), where, *(word.split(": ")[-1].removeprefix("pace ").removesuffix(" off") for word in words))
        )
    header = ["point", "place", "reading", *(["off the display"] if shown is not None else [])]
    header += ["pace of cure"] if factors else []
    return Picture(
        name="platens",
        title="Readings over the platen",
        alt=_alt(show, recorded, readings, shown),
        header=tuple(header),
        rows=tuple(rows),
        panels=(Map(tuple(spots), PLACED),),
    )


def places(count: int) -> tuple[tuple[float, float, str], ...]:
    """Return where points lie that were read from the middle, then clockwise near the edge from the front left."""
    found = [(0.5, 0.5, "middle")]
    for n in range(count - 1):
        side, along = divmod(4.0 * n / (count - 1), 1.0)
        low, high = RIM, 1.0 - RIM
        walk = low + (high - low) * along
        x, y = ((low, walk), (walk, high), (high, 1.0 - walk), (1.0 - walk, low))[int(side)]
        found.append((x, y, _named(x, y)))
    return tuple(found)


def _named(x: float, y: float) -> str:
    across = "left" if x < 0.4 else "right" if x > 0.6 else "middle"
    along = "front" if y < 0.4 else "back" if y > 0.6 else "middle"
    return along if across == "middle" else across if along == "middle" else f"{along} {across}"


def _signed(show: Shower, change: float) -> str:
    unit = show.unit("platen temperature")[1]
    text = units.show(change, "temperature change", unit, 2)  # a probe knows no more
    return text if text.startswith("-") else f"+{text}"


def _alt(show: Shower, facts: Facts, readings: tuple[float, ...], shown: float | None) -> str:
    heat = scale_of(show, "platen readings")
    hot, cold = readings.index(max(readings)), readings.index(min(readings))
    where = [place for _, _, place in places(len(readings))]
    text = (
        f"{len(readings)} readings over the platen, from {heat.text(readings[cold])} (point {cold + 1}, {where[cold]}) "
        f"to {heat.text(readings[hot])} (point {hot + 1}, {where[hot]}): "
        f"{_signed(show, readings[hot] - readings[cold]).lstrip('+')} apart."
    )
    if shown is not None:
        text += f" The press showed {heat.text(shown)}."
    if "slowest platen factor" in facts:
        text += (
            f" Rubber cures at {number(facts, 'slowest platen factor'):.2f} of the pace at the coldest point and "
            f"{number(facts, 'fastest platen factor'):.2f} at the hottest."
        )
    return text
