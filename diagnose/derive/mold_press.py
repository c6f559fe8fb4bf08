"""Calculators for the press: true platen temperatures, and what probe readings over a platen say."""

from __future__ import annotations

from collections.abc import Sequence

from diagnose.calc.platens import survey, trimmed_setting
from diagnose.calc.water_vapour import boiling_pressure
from diagnose.derive.calculator import Calculator, Facts, Value, number
from diagnose.derive.mold_inputs import known

ROOM_AIR = 101325.0  # [Pa]


def _faces(facts: Facts) -> dict[str, Value]:
    both = known(facts, "platen temperature")
    true = None if both is None else both + (known(facts, "platen error") or 0.0)
    found = {
        "top face temperature": known(facts, "top platen temperature") or true,
        "bottom face temperature": known(facts, "bottom platen temperature") or true,
    }
    top, bottom = found["top face temperature"], found["bottom face temperature"]
    faces: dict[str, Value] = {name: value for name, value in found.items() if value is not None}
    apart = known(facts, "top platen temperature") or known(facts, "bottom platen temperature")
    if apart and top is not None and bottom is not None:
        faces["platen difference"] = abs(top - bottom)
    return faces


def _say_faces(facts: Facts) -> Sequence[str]:
    lines = ["The top platen was at {top face temperature}, the bottom at {bottom face temperature}."]
    if "platen error" in facts and "platen temperature" in facts:
        lines.append("The probe's correction of {platen error} is counted in.")
    if (known(facts, "platen difference") or 0.0) >= 5.0:
        lines.append("They differ by {platen difference}: balance them, and until then turn the mold over half-way.")
    return lines


def _survey(facts: Facts) -> dict[str, Value]:
    readings = facts["platen readings"]
    if not isinstance(readings, tuple):
        raise TypeError(f"platen readings are no list: {readings!r}")
    shown = known(facts, "press display")
    if shown is None:
        shown = known(facts, "platen temperature")
    if shown is None:
        return {"platen spread": max(readings) - min(readings)}
    off = [kelvin - shown for kelvin in readings]
    error = sum(off) / len(off)
    found: dict[str, Value] = {
        "platen error": error,
        "platen spread": max(off) - min(off),
        "platen most over": max(0.0, *off),
        "platen most under": max(0.0, *(-o for o in off)),
        **_pace(readings, shown, known(facts, "rubber activation energy")),
    }
    wanted = known(facts, "platen temperature")
    trimmed = trimmed_setting(shown if wanted is None else wanted, error, number(facts, "most platen trim"))
    if trimmed is not None:
        found["needed platen setting"] = trimmed
    return found


def _pace(readings: tuple[float, ...], shown: float, activation: float | None) -> dict[str, Value]:
    if activation is None:
        return {}
    seen = survey(readings, shown, activation)
    return {
        "platen cure factors": seen.factors,
        "slowest platen factor": min(seen.factors),
        "fastest platen factor": max(seen.factors),
        "platen evenness": seen.evenness,
    }


_VERDICTS = {
    "even": "The platen is even: every point within 3 °C (5 °F) of what the press showed.",
    "fair": "The platen is fairly even: every point within 5 °C (9 °F) of what the press showed.",
    "uneven yet usable": "The platen is uneven yet usable: up to {platen most over} over and "
    "{platen most under} under what the press showed, {platen spread} from coldest to hottest.",
    "not usable": "The platen is too uneven to use as it is: up to {platen most over} over and "
    "{platen most under} under what the press showed. Have the heater or its contact repaired.",
}


def _say_survey(facts: Facts) -> Sequence[str]:
    if "platen error" not in facts:
        return ["From coldest to hottest point: {platen spread}. Tell what the press showed to learn more."]
    evenness = facts.get("platen evenness")
    if evenness is None:
        lines = ["Up to {platen most over} over and {platen most under} under what the press showed."]
    else:
        lines = [
            _VERDICTS[str(evenness)],
            "Rubber cures at {slowest platen factor} of the pace at its coldest point and "
            "{fastest platen factor} at its hottest.",
        ]
    if evenness == "uneven yet usable":
        lines += _places(facts)
    if "needed platen setting" not in facts:
        lines.append(
            "Its mean is off by {platen error}: too much to trim at the dial. Check with a second thermometer, "
            "then have it repaired."
        )
    elif abs(number(facts, "platen error")) >= 3.0:
        lines.append(
            "Its mean is off by {platen error}: set {needed platen setting}, after a check with a second thermometer."
        )
    return lines


def _places(facts: Facts) -> list[str]:
    readings, factors = facts["platen readings"], facts["platen cure factors"]
    if not isinstance(readings, tuple) or not isinstance(factors, tuple):
        return []
    shown = known(facts, "press display") or number(facts, "platen temperature")
    good = [str(i) for i, kelvin in enumerate(readings, start=1) if abs(kelvin - shown) <= 5.0]
    hot = str(1 + factors.index(max(factors)))
    cold = str(1 + factors.index(min(factors)))
    lines = [f"Hottest is point {hot}, coldest point {cold}, counted as they were read."]
    if good:
        return [*lines, f"Put molds at point {', '.join(good)}: within 5 °C (9 °F) of what the press showed."]
    return [*lines, "No point is within 5 °C (9 °F): choose one place for molds and find its own cure time."]


def _steam(facts: Facts) -> dict[str, Value]:
    hottest = max(number(facts, "top face temperature"), number(facts, "bottom face temperature"))
    steam = boiling_pressure(hottest) - ROOM_AIR
    found: dict[str, Value] = {"steam pressure": steam}
    given = known(facts, "pressure on the rubber")
    if given is not None and steam > 0.0:
        found["pressure over steam"] = given / steam
    return found


def _say_steam(facts: Facts) -> Sequence[str]:
    lines = [
        "Damp in the rubber boils unless it is pressed with more than {steam pressure} above room air, until it has "
        "set."
    ]
    if "pressure over steam" in facts:
        lines.append("The press gave {pressure over steam} times that.")
    lines.append("The same pressure may still be in a hot block: cool it, then open in small steps.")
    return lines


CALCULATORS = (
    Calculator(
        name="steam in the rubber",
        title="Pressure that keeps damp rubber from foaming",
        stage="mold",
        needs=("top face temperature", "bottom face temperature"),
        takes=("pressure on the rubber",),
        gives=("steam pressure", "pressure over steam"),
        formula=(
            "{steam pressure} = pressure at which water boils at the hotter of {top face temperature} and {bottom "
            "face temperature}, less 101.3 kPa of room air",
            "{pressure over steam} = {pressure on the rubber} / {steam pressure}",
        ),
        run=_steam,
        says=_say_steam,
        sources=("common practice",),
    ),
    Calculator(
        name="platen survey",
        title="What probe readings over a platen say",
        stage="mold",
        needs=("platen readings", "most platen trim"),
        takes=("press display", "platen temperature", "rubber activation energy"),
        gives=(
            "platen error",
            "platen spread",
            "platen most over",
            "platen most under",
            "platen cure factors",
            "slowest platen factor",
            "fastest platen factor",
            "platen evenness",
            "needed platen setting",
        ),
        formula=(
            "{platen error} = mean of {platen readings} - {press display}; where no display was noted, {platen "
            "temperature} stands for it",
            "{platen spread} = highest - lowest of {platen readings}",
            "{platen most over}, {platen most under} = the most by which a reading lies over, and under, {press "
            "display}",
            "{platen cure factors} = exp({rubber activation energy} / R x (1 / {press display} - 1 / reading)), in "
            "kelvin, for each of {platen readings}",
            "{slowest platen factor}, {fastest platen factor} = least and largest of {platen cure factors}",
            "{platen evenness} = judged by how far readings lie from {press display}, then by {slowest platen "
            "factor} and {fastest platen factor}",
            "{needed platen setting} = {platen temperature} - {platen error}, as long as that error is no more than "
            "{most platen trim}",
        ),
        run=_survey,
        says=_say_survey,
        sources=("common practice", "astm-d3182-2016, 8.3.1"),
        drawing="platens",
    ),
    Calculator(
        name="platen faces",
        title="True temperature of each platen",
        stage="mold",
        needs=("platen temperature",),
        takes=("top platen temperature", "bottom platen temperature", "platen error"),
        gives=("top face temperature", "bottom face temperature", "platen difference"),
        formula=(
            "{top face temperature} = {top platen temperature}, else {platen temperature} + {platen error}",
            "{bottom face temperature} = {bottom platen temperature}, else {platen temperature} + {platen error}",
            "{platen difference} = the difference of {top face temperature} and {bottom face temperature}, where one "
            "was read by itself",
        ),
        run=_faces,
        says=_say_faces,
        sources=("common practice",),
    ),
    Calculator(
        name="platens read apart",
        title="True temperature of each platen, from a reading of each",
        stage="mold",
        needs=("top platen temperature", "bottom platen temperature"),
        gives=("top face temperature", "bottom face temperature", "platen difference"),
        formula=(
            "{top face temperature} = {top platen temperature}",
            "{bottom face temperature} = {bottom platen temperature}",
            "{platen difference} = the difference of {top face temperature} and {bottom face temperature}",
        ),
        run=_faces,
        says=_say_faces,
        sources=("common practice",),
    ),
)
