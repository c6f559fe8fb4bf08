"""What tests of several commands share."""

from __future__ import annotations

import pytest

from diagnose.consult import Consultant


@pytest.fixture
def loaded_once(of: Consultant, monkeypatch: pytest.MonkeyPatch) -> None:
    """Let commands use the rules base that is loaded already."""
    monkeypatch.setattr("diagnose.cli.taught.consultant", lambda rules, system: of)
