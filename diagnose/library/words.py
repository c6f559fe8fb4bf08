"""Names as numbers: every name stands once in the table `words`; word 0 is the empty text."""

from __future__ import annotations

from collections.abc import Iterable

from sqlalchemy import Connection, insert, select

from diagnose.library import tables as t
from diagnose.library.numbers import take

AT_ONCE = 500


class WordBook:
    """Names to numbers and back, remembered; forgets on `forget` what a transaction that failed had added."""

    def __init__(self) -> None:
        self.ids: dict[str, int] = {"": t.NOTHING}
        """The numbers of the names that `learn` or `known` has met."""
        self._texts: dict[int, str] = {t.NOTHING: ""}

    def forget(self) -> None:
        """Forget everything, to read it again."""
        # In place: whoever holds the numbers sees that they are gone.
        self.ids.clear()
        self._texts.clear()
        self._remember([(t.NOTHING, "")])

    def look_up(self, conn: Connection, names: Iterable[str]) -> None:
        """Meet many names at once, so that `known` has them at hand."""
        self._read(conn, names)

    def known(self, conn: Connection, text: str) -> int | None:
        """Return the number of a name, or None when no case has it."""
        self._read(conn, [text])
        return self.ids.get(text)

    def learn(self, conn: Connection, names: Iterable[str]) -> None:
        """Make sure that every name has a number. Only inside a writing transaction."""
        wanted = set(names).difference(self.ids)
        if not wanted:
            return
        self._read(conn, wanted)
        new = sorted(wanted - self.ids.keys())
        if new:
            first = take(conn, "word", len(new))
            conn.execute(insert(t.words), [{"id": first + i, "text": n} for i, n in enumerate(new)])
            self._remember((first + i, n) for i, n in enumerate(new))

    def text(self, conn: Connection, number: int) -> str:
        """Return the name that a number stands for."""
        if number not in self._texts:
            self.texts(conn, [number])
        return self._texts[number]

    def texts(self, conn: Connection, numbers: Iterable[int]) -> dict[int, str]:
        """Return the names of many numbers; a number that stands for nothing is shown as such."""
        wanted = set(numbers)
        missing = sorted(n for n in wanted if n not in self._texts)
        for i in range(0, len(missing), AT_ONCE):
            part = missing[i : i + AT_ONCE]
            self._remember(conn.execute(select(t.words.c.id, t.words.c.text).where(t.words.c.id.in_(part))))
        return {n: self._texts.get(n, f"(lost name {n})") for n in wanted}

    def _read(self, conn: Connection, names: Iterable[str]) -> None:
        missing = sorted(n for n in names if n not in self.ids)
        for i in range(0, len(missing), AT_ONCE):
            part = missing[i : i + AT_ONCE]
            self._remember(conn.execute(select(t.words.c.id, t.words.c.text).where(t.words.c.text.in_(part))))

    def _remember(self, rows: Iterable[tuple[int, str]]) -> None:
        for number, text in rows:
            self.ids[text], self._texts[number] = number, text
