"""Reads what a person typed, given the dimension expected: a value, a question back, or a refusal."""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from typing import Literal

from diagnose.errors import BadInput
from diagnose.units.convert import into_si, out_of_si, plain, rounded
from diagnose.units.dimension import Dimension, Unit
from diagnose.units.parse import Amount, typed
from diagnose.units.ratio import ratio_amount
from diagnose.units.result import Ask, Refused, Reject, Value
from diagnose.units.show import ends, show_time, span
from diagnose.units.spoken import in_digits, refuse_vague
from diagnose.units.table import dimension_named, unit_named
from diagnose.units.tidy import cut, tidy, without_about

Span = tuple[float, float]
Bare = Literal["ask", "refuse"]

_CHANGE_BEFORE = re.compile(
    r"(?:(raise|increase|up|higher|hotter|warmer)|(lower|decrease|reduce|down|drop|cooler|colder))\b"
    r"(?: it)?(?: by)? *"
)
_CHANGE_AFTER = re.compile(r" (?:(higher|hotter|up|more|warmer)|(lower|cooler|down|less|colder))$")


@dataclass(frozen=True)
class Wanted:
    """What the asker expects: kind, usual unit, plausible range in SI, and what it is called."""

    dimension: Dimension
    usual: Unit | None
    plausible: Span | None
    name: str

    def needs(self) -> str:
        """Say what is asked for."""
        return f"{self.name} needs {self.dimension.says}" if self.name else f"This asks for {self.dimension.says}"

    def fits(self, value: Value) -> bool:
        """Tell whether a value lies in the plausible range, give or take the rounding."""
        if self.plausible is None:
            return True
        low, high = self.plausible
        slack = 2e-6 * max(abs(low), abs(high))
        top = value.si if value.to_si is None else value.to_si
        return low - slack <= value.si and top <= high + slack

    def signed_scale(self) -> bool:
        """Tell whether pressures are asked for on a scale that goes below zero, as -0.9 bar does."""
        return self.plausible is not None and self.plausible[0] < 0.0

    def others(self) -> list[Unit]:
        """Return the common units besides the usual one."""
        common = (unit_named(symbol, self.dimension.name) for symbol in self.dimension.common)
        return [unit for unit in common if unit is not self.usual]

    def range_text(self, typed: str = "") -> str:
        """Write the plausible range in the unit typed, or the usual one, and in another common one."""
        low, high = self.plausible or (0.0, 0.0)
        if self.dimension.name == "time":
            return f"{show_time(low)} to {show_time(high)}"
        first_of_all = [unit for unit in self.dimension.units if unit.symbol == typed]
        units = list(dict.fromkeys([*first_of_all, *([self.usual] if self.usual else []), *self.others()]))[:2]
        first, *second = (span(low, high, self.dimension, unit) for unit in units)
        return f"{first} ({second[0]})" if second else first


def read(
    text: str,
    dimension: str,
    unit: str | None,
    plausible: Span | None = None,
    ranges: bool = False,
    *,
    bare: Bare = "ask",
    name: str = "",
) -> Value | Ask | Reject:
    """Read what a person typed where a quantity of a dimension is expected.

    `unit` is the usual one, None when no habit is known yet; `plausible` is in SI. `bare="refuse"` is for
    files and command lines, where nobody can be asked back: a number without a unit, a doubtful or an absurd
    one is rejected.

    >>> read("307F", "temperature", "F").si
    425.928
    """
    kind = dimension_named(dimension)
    wanted = Wanted(kind, None if unit is None else unit_named(unit, dimension), plausible, name)
    try:
        found, about = _found(text, wanted)
        if found.uppers and not ranges:
            raise Refused("Give one value, not a range.")
        if bare == "refuse" and not found.units and not _needs_no_unit(found, kind):
            return Reject(_what(text, found, wanted))
        values = [replace(one, about=about, typed=text.strip()) for one in _sensible(found, wanted)]
        answer = _judged(values, found, wanted)
    except Refused as refused:
        reason = refused.reason or f'I can\'t read "{cut(text)}" as {kind.says}.'
        return Reject(f"{reason} {wanted.needs()}, such as {kind.examples}.")
    if isinstance(answer, Ask) and bare == "refuse":
        return Reject(_as_refusal(answer, wanted))
    return answer


def must_read(
    text: str,
    dimension: str,
    unit: str | None,
    plausible: Span | None = None,
    ranges: bool = False,
    *,
    name: str = "",
    where: str = "",
) -> Value:
    """Read a quantity from a file or a command line, where nobody can be asked back; raise BadInput."""
    answer = read(text, dimension, unit, plausible, ranges, bare="refuse", name=name)
    if isinstance(answer, Value):
        return answer
    raise BadInput(answer.reason if isinstance(answer, Reject) else answer.question, where=where)


def _needs_no_unit(found: Amount, kind: Dimension) -> bool:
    """Say whether an amount means the same in every unit: a plain number, or nothing where nothing is zero."""
    return kind.name == "number" or (not any(found.numbers) and not found.uppers and kind.name != "temperature")


def _found(text: str, wanted: Wanted) -> tuple[Amount, bool]:
    """Return the amounts the text can mean, and whether it was called about right."""
    tidied, about = without_about(tidy(text))
    refuse_vague(tidied, wanted.dimension.name)
    tidied = in_digits(tidied, wanted.dimension.name)
    if wanted.dimension.name == "ratio":
        return ratio_amount(tidied, wanted.dimension), about
    if not wanted.dimension.name.startswith("temperature"):
        return typed(tidied, wanted.dimension, wanted.usual), about
    before, after = _CHANGE_BEFORE.match(tidied), _CHANGE_AFTER.search(tidied)
    change = before or after
    if change is None:
        return typed(tidied, wanted.dimension, wanted.usual), about
    if wanted.dimension.name == "temperature":
        raise Refused("That is a change of temperature.")
    found = typed(tidied[before.end() :] if before else tidied[: change.start()], wanted.dimension, wanted.usual)
    if change[2]:
        if found.uppers:
            raise Refused("Give one value, not a range.")
        found = replace(found, numbers=tuple(-abs(one) for one in found.numbers))
    return found, about


def _values(found: Amount, units: list[Unit], wanted: Wanted) -> list[Value]:
    """Return every value that the numbers can mean in these units, each once."""
    kind = wanted.dimension
    values: dict[tuple[float, float | None], Value] = {}
    for unit in units:
        basis, vacuum = found.basis, found.vacuum
        if not found.units and unit.reading:
            basis, vacuum = ("gauge", True) if unit.reading == "vacuum" else ("absolute", False)
        for at, low in enumerate(found.numbers):
            high = found.uppers[at] if found.uppers else None
            number, upper = _counted(low, high, wanted) if vacuum else (low, high)
            si = rounded(into_si(number, unit, kind))
            to_si = None if upper is None else rounded(into_si(upper, unit, kind))
            down = vacuum and not wanted.signed_scale()
            value = Value(kind.name, number, unit.symbol, si, upper, to_si, basis=basis, vacuum=down)
            values.setdefault((si, to_si), value)
    return list(values.values())


def _counted(low: float, high: float | None, wanted: Wanted) -> tuple[float, float | None]:
    """Give a vacuum the sign of the asker's scale: people write 28 inHg and -28 inHg for the same vacuum."""
    ends_of_it = sorted(abs(end) for end in (low, high) if end is not None)
    if wanted.signed_scale():
        ends_of_it = sorted(-end for end in ends_of_it)
    return ends_of_it[0], ends_of_it[1] if high is not None else None


def _sensible(found: Amount, wanted: Wanted) -> list[Value]:
    """Return the values that can exist at all; refuse when there is none."""
    kind = wanted.dimension
    units = list(found.units) or ([wanted.usual] if wanted.usual else wanted.others())
    values = _values(found, units, wanted)
    sensible = [value for value in values if not _nonsense(value, kind)]
    if not sensible:
        raise Refused(_nonsense(values[0], kind))
    return sensible


def _nonsense(value: Value, kind: Dimension) -> str:
    """Say why a value cannot exist, or return nothing."""
    if kind.name == "temperature" and value.si < 0:
        return f"{ends(value)} is below absolute zero."
    if value.si < 0 and value.basis == "absolute":
        return "An absolute pressure cannot be negative."
    if value.si < 0 and not kind.signed:
        return f"{kind.says.capitalize()} cannot be negative."
    return ""


def _judged(values: list[Value], found: Amount, wanted: Wanted) -> Value | Ask:
    """Take the one value that is plausible, or ask."""
    fitting = [value for value in values if wanted.fits(value)]
    bare = not found.units and wanted.usual is None
    if len(fitting) == 1 and (not bare or len(values) == 1):
        return fitting[0]
    if bare and len(values) > 1:
        return _ask(fitting or values, "unit", wanted)
    if fitting:
        return _ask(fitting, "word" if len(found.units) > 1 else found.doubt, wanted)
    if not found.units and (other := _in_other_units(found, wanted)):
        return _ask(
            [values[0], *(replace(one, about=values[0].about, typed=values[0].typed) for one in other)],
            "unit",
            wanted,
        )
    if found.doubt == "spaced":
        raise Refused("That looks like two numbers.")
    return _ask(_below_ambient(values, wanted) or values, "unusual", wanted)


def _in_other_units(found: Amount, wanted: Wanted) -> list[Value]:
    """Return what a bare number would mean in the other common units, where that is plausible."""
    values = _values(found, wanted.others(), wanted)
    return [value for value in values if wanted.fits(value) and not _nonsense(value, wanted.dimension)]


def _below_ambient(values: list[Value], wanted: Wanted) -> list[Value]:
    """Read a negative pressure as a vacuum where the asker expects vacuum as a positive number."""
    if wanted.dimension.name != "pressure" or values[0].si >= 0 or values[0].to_si is not None:
        return []
    first = values[0]
    turned = replace(first, number=-first.number, si=-first.si, basis="gauge", vacuum=True)
    return [turned] if wanted.fits(turned) else []


def _ask(values: list[Value], why: str, wanted: Wanted) -> Ask:
    """Put the question that lets the person choose between readings, or say that the only one is unusual."""
    if why == "unusual":
        if values[0].vacuum and wanted.fits(values[0]):
            return Ask(f"{ends(values[0])} below the air pressure around?", tuple(values), why)
        question = f"{_listed(values, wanted, why)} {_beside(values[0], wanted)}."
    else:
        question = f"{_listed(values, wanted, why)}?"
    return Ask(question, tuple(values), why)


def _listed(values: list[Value], wanted: Wanted, why: str) -> str:
    """Write the readings side by side; words that mean several units need a common yardstick."""
    if why != "word":
        return " or ".join(ends(value) for value in values)
    yardstick = unit_named(wanted.dimension.common[0], wanted.dimension.name)
    return " or ".join(
        ends(value)
        if value.unit == yardstick.symbol
        else f"{ends(value)} ({span(value.si, value.to_si, wanted.dimension, yardstick)})"
        for value in values
    )


def _beside(value: Value, wanted: Wanted) -> str:
    low, _ = wanted.plausible or (0.0, 0.0)
    side = "below" if value.si < low else "above"
    whose = f" for {wanted.name}" if wanted.name else ""
    return f"is {side} what is usual{whose}: {wanted.range_text(value.unit)}"


def _as_refusal(ask: Ask, wanted: Wanted) -> str:
    """Turn a question into the refusal a file or a command line gets."""
    listed = _listed(list(ask.candidates), wanted, ask.why)
    if ask.why != "unusual":
        return f"That can be {listed}. Write one of them."
    expected = wanted.range_text(ask.candidates[0].unit) if wanted.plausible else "something else"
    return f"{listed} is not plausible{f' for {wanted.name}' if wanted.name else ''}: expected {expected}."


def _what(text: str, found: Amount, wanted: Wanted) -> str:
    """Ask in a refusal which unit a bare number has, and show how it would be written."""
    kind = wanted.dimension
    number = found.numbers[0]
    if wanted.usual is None:
        would_do = [f"{plain(number)} {unit.symbol}" for unit in wanted.others()]
    else:
        si = into_si(number, wanted.usual, kind)
        would_do = [f"{plain(number)} {wanted.usual.symbol}"]
        would_do += [f"{plain(out_of_si(si, unit, kind), 2)} {unit.symbol}" for unit in wanted.others()]
    return f"{cut(text)} what? {wanted.needs()}: {', '.join(would_do[:3])}."
