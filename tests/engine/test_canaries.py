"""Faults of the engine that the wall is built around; if one of these is gone, the engine has changed.

None of this is used by the program. A failing test here means: read the wall's reasons again before trusting
the new engine. Where a fault takes the process down, it is shown in a process of its own.
"""

from __future__ import annotations

import json
from importlib.metadata import version

import durable_rules_engine as engine
import pytest

from tests.engine.conftest import Child


def pattern(alias: str, key: str) -> dict[str, object]:
    return {alias: {"$and": [{"k": key}, {"v": 1}]}}


def fired(rules: dict[str, object], keys: str) -> list[str]:
    """Return the rules that fire for one fact a letter, told in this order in one batch."""
    handle = engine.create_ruleset("canary", json.dumps(rules))
    _, place = engine.assert_facts(handle, json.dumps([{"k": key, "v": 1, "sid": "0"} for key in keys]))
    found, started = [], engine.start_action_for_state(handle, place)
    match = started[1] if started else None
    while match is not None:
        found.extend(json.loads(match))
        match = engine.complete_and_start_action(handle, place)
    engine.delete_state(handle, "0")
    return found


def test_the_engine_is_the_one_that_was_measured() -> None:
    assert version("durable-rules") == "2.0.28"


def test_native_negation_depends_on_the_order_of_facts() -> None:
    rules = {"r": {"all": [pattern("a", "a"), pattern("n$not", "n")]}, "z": {"all": [pattern("q", "z")]}}

    assert fired(rules, "zan") == ["r", "z"]  # wrong: n is there
    assert fired(rules, "zna") == ["z"]


def test_a_native_any_turns_the_all_after_it_into_another_any() -> None:
    rules = {
        "r": {
            "all": [
                {"x$any": [pattern("p", "a"), pattern("q", "b")]},
                {"y$all": [pattern("s", "c"), pattern("t", "d")]},
            ]
        }
    }

    assert fired(rules, "ac") == ["r"]  # wrong: d is missing


def test_a_number_with_a_bare_exponent_is_refused_alone_and_cuts_a_batch_short() -> None:
    rules = {key: {"all": [{"m": {"k": key}}]} for key in "ac"}
    handle = engine.create_ruleset("canary", json.dumps(rules))

    with pytest.raises(Exception, match="204"):
        engine.assert_fact(handle, '{"k":"b","v":1e-07,"sid":"0"}')
    code, place = engine.assert_facts(handle, '[{"k":"a","sid":"1"},{"k":"b","v":1e-07,"sid":"1"},{"k":"c","sid":"1"}]')
    assert code == 0
    assert '"a"' in engine.start_action_for_state(handle, place)[1]
    assert engine.complete_and_start_action(handle, place) is None  # wrong: c is lost


PRELUDE = "import json, durable_rules_engine as e\nP = lambda a, k: {a: {'$and': [{'k': k}, {'v': 1}]}}\n"


def test_deleting_a_state_in_which_nothing_fired_takes_the_process_down(child: Child) -> None:
    code, _ = child(
        PRELUDE
        + "h = e.create_ruleset('c', json.dumps({'r': {'all': [P('m', 'x')]}}))\n"
        + 'e.assert_fact(h, \'{"k":"y","sid":"0"}\'); e.delete_state(h, \'0\')\n',
        MALLOC_PERTURB_="165",
    )

    assert code < 0


def test_256_rules_on_one_condition_take_the_process_down(child: Child) -> None:
    code, _ = child(
        PRELUDE
        + "h = e.create_ruleset('c', json.dumps({f'r{i}': {'all': [P('m', 'x')]} for i in range(256)}))\n"
        + 'e.start_action_for_state(h, e.assert_fact(h, \'{"k":"x","v":1,"sid":"0"}\')[1])\n'
    )

    assert code < 0


def test_65_conditions_true_at_once_are_refused() -> None:
    rules = {f"r{i}": {"all": [{"m": {"$and": [{"k": "t"}, {"$gt": {"v": i}}]}}]} for i in range(65)}
    handle = engine.create_ruleset("canary", json.dumps(rules))

    with pytest.raises(Exception, match="303"):
        engine.assert_fact(handle, '{"k":"t","v":99,"sid":"0"}')


def test_property_names_of_one_hash_are_taken_for_each_other() -> None:
    handle = engine.create_ruleset("canary", '{"r":{"all":[{"m":{"key.zwyasicq":1}}]}}')
    _, place = engine.assert_fact(handle, '{"key.qmbfiuls":1,"sid":"0"}')

    assert engine.start_action_for_state(handle, place) is not None  # wrong: another name
