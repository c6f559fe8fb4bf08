"""A browser for the tests of a page: one for each file of tests, as two at once do not get on."""

from __future__ import annotations

from collections.abc import Iterator

import pytest

from tests.report.browser import Browser, launched


@pytest.fixture(scope="module")
def browser() -> Iterator[Browser]:
    with launched() as found:
        yield found
