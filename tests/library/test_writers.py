"""Several benches at once: nothing lost, nothing twice, nobody hears of a lock (8 x 500: tests.bench.writers)."""

from __future__ import annotations

from pathlib import Path

import pytest

from diagnose.errors import StoreError
from diagnose.library import connect
from diagnose.library.store import Library
from tests.library.invented import a_case
from tests.library.writing import write_together


def test_four_writers_lose_nothing_and_double_nothing(named: str) -> None:
    write_together(named, writers=4, count=12)


def test_who_waits_is_told_and_who_waits_in_vain_too(
    library: Library, named: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(connect, "WAIT", 0.05)
    monkeypatch.setattr(connect, "PATIENCE", 0.2)
    library.add([a_case()])
    told: list[int] = []
    other = Library(named, waiting=lambda: told.append(1))
    other.names()

    def meanwhile(conn: object, change: int) -> None:
        with pytest.raises(StoreError, match="another program has been writing") as caught:
            other.add([a_case()])
        assert "locked" not in caught.value.message()
        assert len(other.names()) == 1  # reading goes on

    library.database.write(meanwhile)
    assert told == [1]
    assert other.add([a_case()])
    assert len(library.names()) == 2
    other.close()


def test_a_reader_sees_one_moment(library: Library, named: str, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("diagnose.library.read.AT_ONCE", 1)
    library.add([a_case(part=str(i)) for i in range(3)])
    other = Library(named, author="JT")
    reading = library.everything()
    first = next(reading)
    other.forget(other.names()[2])
    other.add([a_case(part="later")])
    assert [first.part, *(k.part for k in reading)] == ["0", "1", "2"]
    assert [k.part for k in library.everything()] == ["0", "1", "later"]
    other.close()


def test_two_programs_that_make_the_library_at_once_make_one(tmp_path: Path) -> None:
    one, other = Library(tmp_path / "shop"), Library(tmp_path / "shop")
    assert one.add([a_case(part="a")])
    assert other.add([a_case(part="b")])
    assert len(one.names()) == 2
