"""Every calculator, fed what nobody can mean: it answers in finite numbers or refuses and says what to do next.

The values are typed as on the command line, so what a person can get past the reading of a value is what counts.
"""

from __future__ import annotations

import ast
import math
import re
from collections.abc import Callable, Iterator, Mapping
from functools import partial
from pathlib import Path

import pytest

from diagnose.cli.calc import told_on_the_line
from diagnose.consult import Consultant
from diagnose.derive.all import all_calculators
from diagnose.derive.calculator import Calculator, Value
from diagnose.derive.resolve import Computed
from diagnose.errors import BadInput, OutOfRange

PACKAGE = Path(__file__).resolve().parent.parent.parent / "diagnose"
TYPED = ("0", "-7", "1e-12", "1e12", "nan", "inf", "1/0")


@pytest.fixture(scope="module")
def read() -> dict[str, str | Mapping[str, Value]]:
    """What each typed line was read as, or why it was refused: many calculators share an input."""
    return {}


def finite(value: Value) -> bool:
    return isinstance(value, str) or all(math.isfinite(v) for v in (value if isinstance(value, tuple) else (value,)))


def absurd(of: Consultant, name: str) -> Iterator[str]:
    """Yield what to type for a fact: numbers that cannot be, with its unit, without one, with another's, and words."""
    unit = of.show.unit(name)[1]
    words = [f"{number} {unit}".strip() for number in TYPED]
    yield from (*words, "1e308", "5 parsec", "-", "very hot", f"{unit} 3", "")
    if of.base.words.settings.get(name) and of.base.words.settings[name].many:
        yield from (", ".join([words[2]] * 2), words[3], ", ".join([words[0]] * 40))


def without_advice(call: Callable[[], Mapping[str, Value]]) -> str | Mapping[str, Value]:
    """Return what a call gives; an empty text for a refusal that says what would do, else its message."""
    try:
        return call()
    except BadInput as error:
        # A refusal of what was typed says in the same breath what would do.
        advised = error.next_step.strip() or re.search("expected|such as|needs a|Write|Type|known", error.what)
        return "" if advised and error.what.strip() else f"no advice: {error}"


@pytest.mark.parametrize("calculator", all_calculators(), ids=lambda c: c.name.replace(" ", "-"))
def test_absurd_input_gives_finite_numbers_or_a_refusal_with_advice(
    of: Consultant, runs: dict[str, Computed], read: dict[str, str | Mapping[str, Value]], calculator: Calculator
) -> None:
    done = runs[calculator.name]
    assert all(finite(v) for v in done.results.values())
    for name, value in done.inputs.items():
        for text in absurd(of, name) if not isinstance(value, str) else ():
            line = f"{name}={text}"
            told = read.get(line)
            if told is None:
                told = read[line] = without_advice(partial(told_on_the_line, of, [line]))
            if isinstance(told, Mapping):
                assert finite(told[name]), f"{line} was read as {told[name]}"
                told = without_advice(partial(calculator.compute, {**done.inputs, **told}))
            if isinstance(told, Mapping):
                assert all(finite(v) for v in told.values()), f"{line}: {told}"
            else:
                assert told == "", line


@pytest.mark.parametrize("calculator", all_calculators(), ids=lambda c: c.name.replace(" ", "-"))
def test_numbers_that_no_reading_lets_through_are_refused_too(
    runs: dict[str, Computed], calculator: Calculator
) -> None:
    done = runs[calculator.name]
    for name, value in done.inputs.items():
        for number in (0.0, -1.0, 1e-15, 1e15, math.nan, math.inf) if not isinstance(value, str) else ():
            told: Value = (number,) * len(value) if isinstance(value, tuple) else number
            found = without_advice(partial(calculator.compute, {**done.inputs, name: told}))
            if isinstance(found, Mapping):
                assert math.isfinite(number)
                assert all(finite(v) for v in found.values()), f"{name}={number}: {found}"
            else:
                assert found == "", f"{name}={number}"


# Contradictions that a shop can really write down; each is refused in words that name both sides.
@pytest.mark.parametrize(
    ("name", "changed", "says"),
    [
        ("melting range", {"metal liquidus": 1050.0, "metal solidus": 1100.0}, "solid up to 1100 K"),
        ("freezing time", {"metal freezing range": -20.0}, "is not a range"),
        ("freezing time", {"pour temperature": 900.0}, "not fully melted"),
        ("flask filling", {"tree wax weight": 2.0}, "wax"),
        ("end cover", {"end cover": 0.11}, "leaves no room for a tree"),
        ("wall gap", {"gap left at the wall": 0.05}, "leaves no tree"),
        ("gap to flask wall", {"tree diameter": 0.08}, "does not go into"),
        ("gap over the tip", {"tree height": 0.12}, "stands out of a flask"),
        ("porosity", {"mass in water": 0.011}, "exchanged"),
        ("wax set time", {"mold temperature": 350.0}, "mold this warm|does not lie between"),
        ("needed flask temperature", {"heaviest section": 0.0005}, "is under the thinnest"),
        ("burnout ramps", {"burnout hold times": (3600.0,)}, "belong together"),
        ("fineness change", {"wanted fineness": 0.99, "addition fineness": 0.5}, "never makes"),
        ("cure", {"rubber start temperature": 700.0}, "starting temperature"),
        ("button", {"button diameter": 0.004}, "wider than"),
        ("packing", {"model volume": 1.0}, "does not go into|no room"),
        ("water in the wax", {"pot vacuum": 105000.0}, "does not fit air"),
    ],
)
def test_contradictions_are_refused_in_words(
    runs: dict[str, Computed], name: str, changed: dict[str, Value], says: str
) -> None:
    done = runs[name]
    with pytest.raises(OutOfRange, match=says) as refusal:
        done.calculator.compute({**done.inputs, **changed})
    assert refusal.value.next_step


def test_every_refusal_in_the_code_says_what_to_do_next() -> None:
    bare = []
    for path in sorted((*(PACKAGE / "calc").glob("*.py"), *(PACKAGE / "derive").glob("*.py"))):
        calls = [node for node in ast.walk(ast.parse(path.read_text())) if isinstance(node, ast.Call)]
        raised = [c for c in calls if isinstance(c.func, ast.Name) and c.func.id in ("OutOfRange", "BadInput")]
        bare += [f"{path.name}:{c.lineno}" for c in raised if "next_step" not in {k.arg for k in c.keywords}]
    assert bare == []


def test_every_input_of_every_calculator_is_tried(runs: dict[str, Computed]) -> None:
    left = {
        (c.name, name) for c in all_calculators() for name in c.needs if name not in runs[c.name].inputs
    }  # fmt: skip
    assert left == set()
