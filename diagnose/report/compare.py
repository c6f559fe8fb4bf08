"""What would be if some facts were others, side by side, as lines."""

from __future__ import annotations

import textwrap
from collections.abc import Sequence

from diagnose.model.diagnosis import Diagnosis
from diagnose.model.what_if import WhatIf
from diagnose.report.screen_lines import Line, Page
from diagnose.report.text import bar, with_upstream

LEAST = 0.03  # a cause below this on both sides is left out
NARROW = 60


def comparison_lines(found: WhatIf, width: int) -> list[Line]:
    """Return what some changes would do to the ranking, the computed numbers, the recheck and the advice."""
    page = Page(width)
    page.head("What if")
    for c in found.changes:
        page.say(f"{c.name}: {c.from_} -> {c.to}", 0, 2, "strong")
    page.say("Nothing is recorded by this.", style="faint")
    for before, after in _pairs(found.before, found.after):
        _causes(page, before, after)
    if found.numbers:
        page.head("Computed numbers")
        _table(page, ("", "as recorded", "then"), [(n.name, n.before or "-", n.after or "-") for n in found.numbers])
        for n in (n for n in found.numbers if n.why_not):
            page.item(f"{n.name} cannot be computed then: {n.why_not}")
    page.head("Recheck by the same rules")
    _items(page, "clears", found.cleared or ("nothing",))
    _items(page, "raises", found.raised or ("nothing",))
    _items(page, "would accuse elsewhere", found.elsewhere)
    _advice(page, found)
    _items(page, "Careful", found.cautions)
    return page.lines


def _pairs(before: Diagnosis | None, after: Diagnosis | None) -> list[tuple[Diagnosis | None, Diagnosis | None]]:
    """Return the diagnoses side by side, each with those of the earlier faults that it leads to."""
    if before is None and after is None:
        return []
    further = _pairs(before.upstream if before else None, after.upstream if after else None)
    if before and after and before.defect != after.defect:
        return [(before, None), (None, after), *further]
    return [(before, after), *further]


def _causes(page: Page, before: Diagnosis | None, after: Diagnosis | None) -> None:
    known = before or after
    assert known is not None
    page.head(known.defect_name)
    chances = [{c.id: c.probability for c in d.causes} if d else {} for d in (before, after)]
    names = {c.id: c.name for d in (before, after) if d for c in d.causes}
    rows = [
        (name, _chance(chances[0].get(ident)), _chance(chances[1].get(ident)))
        for ident, name in names.items() if max(one.get(ident, 0.0) for one in chances) >= LEAST
    ]  # fmt: skip
    _table(page, ("", "as recorded", "then"), rows)
    for word, d in (("as recorded", before), ("then", after)):
        page.item(f"{word}: {d.verdict_words if d else 'the inquiry does not lead here.'}")


def _chance(probability: float | None) -> str:
    return "-" if probability is None else f"{bar(probability, 5)} {probability:.0%}"


def _table(page: Page, head: Sequence[str], rows: list[tuple[str, str, str]]) -> None:
    """Write rows of a name and two values: in columns, or on a narrow screen one under the other."""
    if page.width < NARROW:
        for name, before, after in rows:
            page.say(name, 0, 2, "strong")
            page.say(f"{before} -> {after}", 2, 4)
        return
    columns = [max(len(row[i]) for row in (head, *rows)) for i in (1, 2)]
    room = page.width - sum(columns) - 4
    for row in ((head[0], head[1], head[2]), *rows):
        style = "faint" if row[0] == "" else "plain"
        name, *more = textwrap.wrap(row[0], room, subsequent_indent="  ") or [""]
        page.lines.append(Line(f"{name:{room}}  {row[1]:{columns[0]}}  {row[2]:{columns[1]}}".rstrip(), style))
        page.lines += [Line(line, style) for line in more]


def _advice(page: Page, found: WhatIf) -> None:
    ends = [with_upstream(d)[-1] for d in (found.before, found.after)]
    moved = [[f"{r.setting} {r.to}" for r in d.revised_settings] for d in ends]
    if any(moved):
        page.head("Revised settings")
        for word, settings in zip(("as recorded", "then"), moved, strict=True):
            page.item(f"{word}: {', '.join(settings) or 'none'}")


def _items(page: Page, title: str, texts: Sequence[str]) -> None:
    for text in texts:
        page.item(f"{title}: {text}")
