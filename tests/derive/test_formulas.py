"""The formula that a person is shown is the one that is computed.

Every calculator says its formula in words. Where such a line is arithmetic, it is worked out here from the inputs
of real runs and must give what the calculator gave: words and code cannot drift apart.
"""

from __future__ import annotations

import ast
import math
import re
from collections.abc import Iterator

import pytest

from diagnose.consult import Consultant
from diagnose.consult.proof import example_case
from diagnose.derive.all import all_calculators
from diagnose.derive.calculator import Calculator, Value
from diagnose.derive.resolve import Computed
from diagnose.errors import OutOfRange

FACT = re.compile(r"\{([^{}]+)\}")
# Constants as a person reads them, in SI: standard gravity, air pressure, gas constant and molar masses (CODATA).
CONSTANTS = {
    "9.81 m/s2": "9.80665", "101325 Pa": "101325", "100 mm": "0.1", "62.5 mm": "0.0625", "293.15 K": "293.15",
    "273.15 K": "273.15", "288.15 K": "288.15", "0.0065 K/m": "0.0065", "0.018015 kg/mol": "0.018015",
    "0.031998 kg/mol": "0.031998", "1.673 m3/kg": "1.673",
}  # fmt: skip
REMARKS = (", in kelvin", "; where", "; one flask", ": the standard atmosphere")
ALLOWED = (
    ast.Expression,
    ast.BinOp,
    ast.UnaryOp,
    ast.Call,
    ast.Name,
    ast.Constant,
    ast.Load,
    ast.operator,
    ast.unaryop,
)
KNOWN = {"pi": math.pi, "sqrt": math.sqrt, "exp": math.exp, "R": 8.314462618}


def arithmetic(line: str) -> tuple[str, ast.Expression, list[str]] | None:
    """Return the fact on the left, the sum on the right and its facts; None for a line that is told in words."""
    left, _, right = line.partition(" = ")
    names = FACT.findall(left)
    if not line.startswith("{") or len(names) != 1:
        return None
    for remark in REMARKS:
        right = right.split(remark)[0]
    for shown, number in CONSTANTS.items():
        right = right.replace(shown, number)
    facts = FACT.findall(right)
    for n, fact in enumerate(dict.fromkeys(facts)):
        right = right.replace(f"{{{fact}}}", f"fact{n}")
    try:
        tree = ast.parse(right.replace(" x ", " * ").replace("^", "**"), mode="eval")
    except SyntaxError:
        return None
    if not all(isinstance(node, ALLOWED) for node in ast.walk(tree)):
        return None
    used = {node.id for node in ast.walk(tree) if isinstance(node, ast.Name)}
    if not all(name in KNOWN or name.startswith("fact") for name in used):
        return None
    return names[0], tree, list(dict.fromkeys(facts))


def worked_out(tree: ast.Expression, facts: list[str], known: dict[str, Value]) -> float | None:
    """Return the value of a sum on known facts; None when one of them is not a known number."""
    values = [known.get(fact) for fact in facts]
    if not all(isinstance(v, float) for v in values):
        return None
    names = {f"fact{n}": v for n, v in enumerate(values)}
    return float(eval(compile(tree, "formula", "eval"), {"__builtins__": {}}, {**KNOWN, **names}))


def between(low: float, high: float, share: float, dimension: str) -> float:
    value = low * (high / low) ** share if low > 0.0 else low + share * (high - low)
    return float(round(value)) if dimension == "number" and value > 3.0 else value  # a count


def middling(of: Consultant, names: tuple[str, ...], seen: dict[str, Value], share: float) -> dict[str, Value]:
    """Return a usable value of everything a calculator can use: seen in a run, of a material, or inside its range."""
    words, found = of.base.words, {}
    for name in names:
        setting, thing = words.settings.get(name), words.property_of(name)
        if setting is not None and not setting.many:
            found[name] = between(setting.plausible_low, setting.plausible_high, share, setting.dimension)
        elif thing is not None:
            slot = next(s for s in words.slots.values() if name == f"{s.name} {thing.name}")
            known = [m.properties[thing.name].value for m in slot.materials.values() if thing.name in m.properties]
            found |= {name: known[0]} if known else {}
        elif name in seen:
            found[name] = seen[name]
    return found


def runs(of: Consultant) -> Iterator[Computed]:
    """Yield the runs of every worked example, then each calculator with all that it can use."""
    seen: dict[str, Value] = {}
    for defect in of.base.all_defects():
        for example in defect.examples:
            for done in of.resolver.resolve(example_case(of, defect, example).known()).done.values():
                seen |= done.results
                yield done
    for _ in range(2):  # a second round has what the first one found
        for c in of.resolver.calculators:
            for share in (0.5, 0.35, 0.65, 0.2, 0.8):
                inputs = middling(of, (*c.needs, *c.takes), seen, share)
                if not set(c.needs) <= set(inputs):
                    break
                try:
                    results = c.run(inputs)
                except OutOfRange:
                    continue
                seen |= {n: v for n, v in results.items() if n not in seen}
                yield Computed(c, inputs, {}, results)


@pytest.fixture(scope="module")
def done(of: Consultant) -> list[Computed]:
    return list(runs(of))


@pytest.mark.parametrize("calculator", all_calculators(), ids=lambda c: c.name)
def test_a_calculator_says_how_each_of_its_results_comes_about_from_facts_it_knows(calculator: Calculator) -> None:
    facts = {*calculator.needs, *calculator.takes, *calculator.gives}
    assert {name for line in calculator.formula for name in FACT.findall(line)} <= facts
    told = {
        name
        for line in calculator.formula if line.startswith("{")
        for name in FACT.findall(line.split(" = ")[0])
    }  # fmt: skip
    assert set(calculator.gives) <= told


def test_a_formula_that_is_arithmetic_gives_what_the_calculator_gives(done: list[Computed]) -> None:
    compared: set[tuple[str, str]] = set()
    for run in done:
        known = {**run.inputs, **run.results}
        for line in run.calculator.formula:
            found = arithmetic(line)
            if found is None or not isinstance(run.results.get(found[0]), float):
                continue
            value = worked_out(found[1], found[2], known)
            if value is not None:
                assert value == pytest.approx(run.results[found[0]], rel=3e-3, abs=1e-9), (
                    f"{run.calculator.name}: {line}"
                )
                compared.add((run.calculator.name, found[0]))
    lines = {(c.name, f[0]) for c in all_calculators() for line in c.formula if (f := arithmetic(line))}
    assert len(compared) >= 0.85 * len(lines), sorted(lines - compared)
