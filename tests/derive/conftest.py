"""A sound run of every calculator, made once for the tests of this folder."""

from __future__ import annotations

import pytest

from diagnose.consult import Consultant
from diagnose.derive.resolve import Computed
from tests.derive.shops import sound_runs


@pytest.fixture(scope="session")
def runs(of: Consultant) -> dict[str, Computed]:
    return sound_runs(of)
