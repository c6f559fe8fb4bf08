"""The shipped rules base and a consultant on it, loaded once; and a home folder of its own for every test."""

from __future__ import annotations

from pathlib import Path

import pytest

from diagnose.consult import Consultant
from diagnose.consult.find import Finder
from diagnose.derive.all import all_calculators
from diagnose.derive.resolve import Resolver
from diagnose.interview.inquiry import Inquiry
from diagnose.rulebase.load import RuleBase

ROOT = Path(__file__).resolve().parent.parent


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
