"""The shipped rules base and a consultant on it, loaded once; a home folder of its own for every test; steady examples.

Property tests draw the same examples on every run, so that what was green stays green; `HYPOTHESIS_PROFILE=search` looks for new
ones.
"""

from __future__ import annotations

import os
from pathlib import Path

import hypothesis
import pytest

from diagnose.consult import Consultant
from diagnose.consult.find import Finder
from diagnose.derive.all import all_calculators
from diagnose.derive.resolve import Resolver
from diagnose.interview.inquiry import Inquiry
from diagnose.rulebase.load import RuleBase

ROOT = Path(__file__).resolve().parent.parent

hypothesis.settings.register_profile("steady", derandomize=True, deadline=None, database=None)
hypothesis.settings.register_profile("search", derandomize=False, deadline=None, max_examples=1000)
hypothesis.settings.load_profile(os.environ.get("HYPOTHESIS_PROFILE", "steady"))


@pytest.fixture(autouse=True)
def _own_home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    for name in ("XDG_DATA_HOME", "XDG_STATE_HOME", "XDG_CONFIG_HOME", "XDG_CACHE_HOME"):
        monkeypatch.setenv(name, str(tmp_path / name.lower()))


@pytest.fixture(scope="session")
def base() -> RuleBase:
    return RuleBase(ROOT / "rules")


@pytest.fixture(scope="session")
def of(base: RuleBase) -> Consultant:
    return Consultant(base, Resolver(all_calculators(), base.words.settings, base.words.slots))


@pytest.fixture(scope="session")
def finder(base: RuleBase) -> Finder:
    return Finder(base.all_defects())


@pytest.fixture
def inquiry(of: Consultant, finder: Finder) -> Inquiry:
    return Inquiry(of, finder, lambda told: None)
