"""The wall holds: no trap of the engine is reached, and none of its words gets out."""

from __future__ import annotations

import ast
import os
import shutil
import subprocess
from pathlib import Path
from types import SimpleNamespace

import durable_rules_engine
import pytest

import diagnose.engine
from diagnose.engine.ruleset import Ruleset
from diagnose.errors import EngineError
from tests.engine.conftest import Child

ROOM = Path(diagnose.engine.__file__).parent
X_IS_1 = ("k1", '{"k1":"1"}')
CASE = (
    "from diagnose.engine import Matcher\n"
    "from diagnose.model.condition import Is, Within\n"
    "rules = [('warm', Within(fact='t', low=0.5)), ('dull', Is(fact='look', answers=('dull',)))]\n"
)


def test_only_the_calls_that_are_safe_are_ever_made() -> None:
    safe = {"create_ruleset", "delete_ruleset", "assert_fact", "start_action_for_state"}
    safe |= {"complete_and_start_action", "delete_state"}
    calls = {name for name in dir(durable_rules_engine) if not name.startswith("__")}
    used = {
        node.attr
        for file in ROOM.glob("*.py")
        for node in ast.walk(ast.parse(file.read_text(encoding="utf-8")))
        if isinstance(node, ast.Attribute) and node.attr in calls
    }

    assert used == safe


def test_the_engine_is_named_in_one_file_of_the_program_only() -> None:
    named = [f.name for f in ROOM.parent.rglob("*.py") if "import durable" in f.read_text(encoding="utf-8")]

    assert named == ["ruleset.py"]


def test_the_engine_is_loaded_late_and_brings_neither_host_nor_threads(child: Child) -> None:
    code, out = child(
        "import sys, threading\n" + CASE + "print('durable_rules_engine' in sys.modules)\n"
        "print([m.rule for m in Matcher(rules).evaluate({'t': 1.0}, {})])\n"
        "print('durable' in sys.modules, threading.active_count())"
    )

    assert (code, out.splitlines()) == (0, ["False", "['warm']", "False 1"])


def test_an_engine_that_cannot_be_loaded_is_reported_with_how_to_install_it(child: Child) -> None:
    code, out = child(
        "import sys; sys.modules['durable_rules_engine'] = None\n" + CASE + "from diagnose.errors import EngineError\n"
        "try: Matcher(rules)\nexcept EngineError as e: print(e)"
    )

    assert code == 0
    assert out.startswith("the rules engine (package durable-rules) is not installed")
    assert "C compiler" in out
    assert "CPPFLAGS=-DPyEval_CallObject=PyObject_CallObject" in out


def test_nothing_known_and_nothing_met_a_thousand_times_is_no_danger(child: Child) -> None:
    code, out = child(
        CASE + "m = Matcher(rules)\nfor i in range(1000):\n"
        "    m.forget(); assert m.evaluate({'t': -float(i)} if i % 2 else {}, {}) == ()\nprint('fine')",
        MALLOC_PERTURB_="165",
    )

    assert (code, out) == (0, "fine")


@pytest.fixture(scope="module")
def comma_locale(tmp_path_factory: pytest.TempPathFactory) -> str:
    """Return a folder that holds a locale with a decimal comma."""
    if shutil.which("localedef") is None:
        pytest.skip("no localedef here")
    folder = tmp_path_factory.mktemp("locales")
    made = subprocess.run(
        ["localedef", "-i", "de_DE", "-f", "UTF-8", str(folder / "de_DE.UTF-8")], capture_output=True, check=False
    )
    if not (folder / "de_DE.UTF-8").exists():
        pytest.skip(f"no locale could be made: {made.stderr!r}")
    return str(folder)


@pytest.mark.parametrize("switch", ["before", "between"])
def test_a_decimal_comma_is_noticed_and_reported_never_misread(child: Child, comma_locale: str, switch: str) -> None:
    comma = "import locale; locale.setlocale(locale.LC_NUMERIC, 'de_DE.UTF-8')\n"
    code, out = child(
        CASE
        + "from diagnose.errors import EngineError\n"
        + (comma if switch == "before" else "")
        + "m = Matcher(rules)\n"
        + (comma if switch == "between" else "")
        + "for _ in range(200):\n"
        + "    try: print(m.evaluate({'t': 0.75}, {}))\n"
        + "    except EngineError as e: said = str(e)\n"
        + "import locale; locale.setlocale(locale.LC_NUMERIC, 'C')\n"
        + "print(said, tuple(x.rule for x in Matcher(rules).evaluate({'t': 0.75}, {})))",
        LOCPATH=comma_locale,
    )

    assert code == 0
    assert "failed its self-check" in out
    assert "decimal comma" in out
    assert out.endswith("('warm',)")


def test_a_failure_inside_is_told_in_our_words_and_leaves_a_usable_engine(monkeypatch: pytest.MonkeyPatch) -> None:
    rules = Ruleset([[X_IS_1]])

    with pytest.raises(EngineError) as failure:
        rules.met(',"k1":1e-07')

    assert not any(word in str(failure.value) for word in ("error code", "204", "assert"))
    assert rules.met(',"k1":"1"') == (0,)


@pytest.mark.parametrize("call", ["assert_fact", "start_action_for_state", "complete_and_start_action"])
@pytest.mark.parametrize("nth", [1, 2])
def test_an_interruption_at_any_moment_leaves_a_usable_engine(call: str, nth: int) -> None:
    rules = Ruleset([[X_IS_1]])
    calls = {name: getattr(durable_rules_engine, name) for name in dir(durable_rules_engine)}
    done = []

    def interrupted(*given: object) -> object:
        result = calls[call](*given)
        done.append(result)
        if len(done) == nth:
            raise KeyboardInterrupt
        return result

    rules._engine = SimpleNamespace(**{**calls, call: interrupted})
    with pytest.raises(KeyboardInterrupt):
        rules.met(',"k1":"1"')

    assert [rules.met(f',"k1":"{n % 2}"') for n in range(100)] == [(0,) if n % 2 else () for n in range(100)]


def test_rules_that_the_engine_refuses_are_told_in_our_words() -> None:
    with pytest.raises(EngineError, match="the rules engine refused the rules"):
        Ruleset([[("k1", '{"$nonsense":{"k1":1}}')]])


@pytest.mark.parametrize(
    "items",
    [
        [[X_IS_1]] * 57,
        [[(f"k{i}", f'{{"k{i}":"1"}}') for i in range(201)]],
        [[("k1", f'{{"$neq":{{"k1":"{i}"}}}}') for i in range(401)]],
        [[]],
    ],
)
def test_what_could_exceed_a_limit_of_the_engine_never_reaches_it(
    items: list[list[tuple[str, str]]], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("diagnose.engine.ruleset.engine", lambda: SimpleNamespace())

    with pytest.raises(EngineError, match="so many rules"):
        Ruleset(items)


def test_the_fullest_ruleset_allowed_works() -> None:
    items = [[(f"k{i * 7 + j}", f'{{"k{(i * 7 + j) % 200}":"1"}}') for j in range(7)] for i in range(56)]
    items = [[(key_test[1].split('"')[1], key_test[1]) for key_test in one] for one in items]

    assert Ruleset(items).met("".join(f',"k{i}":"1"' for i in range(200))) == tuple(range(56))


def test_a_forked_child_can_go_on_with_the_same_rules() -> None:
    rules = Ruleset([[X_IS_1]])
    rules.met(',"k1":"2"')
    pid = os.fork()
    if pid == 0:
        os._exit(0 if rules.met(',"k1":"1"') == (0,) else 9)

    assert os.waitpid(pid, 0)[1] == 0


def test_memory_stays_flat_over_evaluations_and_over_rules_made_and_dropped(child: Child) -> None:
    code, out = child(
        "import psutil\nfrom random import Random\nfrom diagnose.engine import Matcher\n"
        "from tests.bench.engine import rules_like_ours, cases_like_ours\n"
        "held = lambda: psutil.Process().memory_info().rss / 1e6\n"
        "rules, cases = rules_like_ours(Random(1), 60), cases_like_ours(Random(2), 200)\n"
        "m = Matcher(rules)\n"
        "for i in range(3001):\n"
        "    if i == 1000: early = held()\n"
        "    m.evaluate(*cases[i % 200])\n"
        "print(held() - early)\n"
        "for i in range(121):\n"
        "    if i == 40: early = held()\n"
        "    Matcher(rules).evaluate(*cases[i])\n"
        "print(held() - early)\n"
    )

    assert code == 0, out
    assert all(float(grown) < 1.0 for grown in out.splitlines()), out
