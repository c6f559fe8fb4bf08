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
# Three shops that between them record what every calculator needs.
SILVER = """
rubber=natural rubber; model metal=brass; platen temperature=153 C; cure time=60 min; rubber thickness=25.4 mm
frame length=73 mm; frame width=48 mm; frame depth=25 mm; sheets=8; flash mass=9 g; model mass=6 g; pack mass=100 g
block cooled=flat between plates; platen readings=153 C, 151 C, 154 C, 156 C, 149 C; press display=153 C
pressure on the rubber=1 MPa; storage time=14 months; storage temperature=27 C; warm-up time=6 min
heat barrier thickness=0.8 mm; model size=18 mm; cavity size=17.6 mm; wax size=17.4 mm; cast size=17.1 mm
wanted finished size=17.5 mm; ring bore=17.3 mm; injection pressure=0.55 bar; cavity area=2 cm2; clamp force=45 N
cavity width=2 mm; wax=injection wax; wax temperature=70 C; wax congealing point=62 C; mold temperature=25 C
wax gate diameter=2.5 mm; heaviest section=3 mm; heaviest section width=5 mm; thinnest section=1 mm; hold time=8 s
time in the mold=2 min; wax shot weight=1.8 g; wax room temperature=22 C; time between shots=60 s; shot interval=3 min
pot temperature=72 C; marked pot pressure=2 bar; wax level over the nozzle=75 mm; pot lid diameter=150 mm
mold vacuum=75 kPa; pot vacuum=80 kPa; thinnest section that filled=1.2 mm; pressure that filled=0.55 bar
part volume=1.9 cm3; wax weights=1.80 g, 1.81 g, 1.79 g, 1.80 g, 1.83 g; altitude=180 m; gate diameter=3 mm
trunk diameter=8 mm; button diameter=25 mm; button weight=30 g; tree diameter=57 mm; tree height=75 mm; part width=22 mm
part circle=45 mm; part height=8 mm; trunk length=60 mm; number of parts=12; trunk wax weight=4 g; tree wax weight=25 g
row sections=3 mm, 2.5 mm, 2 mm; metal=sterling; metal head=50 mm; gate legs=2; leg diameter=2.5 mm
investment=gypsum investment; flask diameter=76 mm; flask height=101 mm; water ratio=40 ml/100 g; powder weight=640 g
water weight=256 g; mixing time=3 min; bowl vacuum time=90 s; pouring time=60 s; flask vacuum time=90 s
gloss-off time=11 min; investing vacuum=91 kPa; slurry temperature=22 C; density cup weight=170 g; rest before heat=2 h
powder in the flask=560 g; empty flask weight=400 g; fired flask weight=950 g; filled flask weight=1210 g
wax in the flask=25 g; end cover=13 mm; burnout hold temperatures=150 C, 370 C, 732 C, 540 C
burnout hold times=2 h, 1 h, 3 h, 1 h; burnout ramps=2 C/min, 2 C/min, 4 C/min, 4 C/min; pour clock time=10 h
kiln to pour time=45 s; flask temperature=540 C; kiln volume=28 l; vent height=400 mm; vent area=6 cm2
core half time=20 min; pour hold temperature=540 C; pour soak time=45 min; flasks in the kiln=4; kiln offset=5 C
burnout top temperature=732 C; burnout top hold=3 h; pour temperature=970 C; casting method=vacuum casting
vacuum at pour=88 kPa; metal weight=320 g; melting power=2 kW; melt time=6 min; stock fineness=92 %
fresh metal share=50 %; quench delay=10 min; mass in air=10 g; mass in water=9.02 g; mass in water after soak=9.03 g
sound density=10.36 g/cm3; water left in the mold=2 g; second metal share=7.5 %; wanted fineness=92.5 %
stock weight=100 g; addition fineness=100 %; karat=18; marked fineness=92.5 %; weight lost=0.1 g
alloy shares=92.5 %, 7.5 %; alloy densities=10.5 g/cm3, 8.96 g/cm3; spin speed=400 rpm; arm radius=250 mm
metal surface radius=180 mm; time under force=60 s; fixed point reading=960 C; parting gap=0.1 mm
wanted parting gap=0.05 mm; wanted injection pressure=0.4 bar; fin length=6 mm; oxygen above the melt=21 %
"""
OTHERWISE = (
    "rubber=peroxide silicone; own t90=8 min; own t90 temperature=165 C; rubber scorch time=2 min;"
    "gel temperature=165 C; measured rubber shrinkage=3 %; ring circumference size=54; hands-off time=9 min;"
    "barometer=100 kPa;"
    "top platen temperature=165 C; bottom platen temperature=160 C; metal=fine silver; casting method=spin casting",
    "ring inch size=7; heaviest section width=20 mm; metal=silver-copper mix; casting method=gravity pouring",
)
TYPED = ("0", "-7", "1e-12", "1e12", "nan", "inf", "1/0")


def typed(*texts: str) -> dict[str, str]:
    pairs = (pair for text in texts for line in text.strip().splitlines() for pair in line.split(";"))
    return dict(tuple(map(str.strip, pair.split("=", 1))) for pair in pairs if pair.strip())  # type: ignore[misc]


@pytest.fixture(scope="module")
def runs(of: Consultant) -> dict[str, Computed]:
    """A sound run of every calculator."""
    found: dict[str, Computed] = {}
    for text in (SILVER, *(f"{SILVER};{more}" for more in OTHERWISE)):
        told = told_on_the_line(of, [f"{name}={value}" for name, value in typed(text).items()])
        for name, done in of.resolver.resolve(told).done.items():
            found.setdefault(name, done)
    found["melting range"] = of.resolver.run_one("melting range", {"metal": "sterling"})  # from the alloy alone
    return found


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
    of: Consultant, runs: dict[str, Computed], calculator: Calculator
) -> None:
    done = runs[calculator.name]
    assert all(finite(v) for v in done.results.values())
    for name, value in done.inputs.items():
        for text in absurd(of, name) if not isinstance(value, str) else ():
            line = f"{name}={text}"
            told = without_advice(partial(told_on_the_line, of, [line]))
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
        ("melting range", {"metal liquidus": 1050.0, "metal solidus": 1100.0}, "solid up to 827 °C"),
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
