"""The shop picture as lines for a terminal of any width."""

from __future__ import annotations

from typing import TYPE_CHECKING

from diagnose.report import shop_words as words
from diagnose.report.pictures.shop_runs import spreads_picture
from diagnose.report.screen_lines import Line, Page
from diagnose.report.text import bar

if TYPE_CHECKING:
    from diagnose.consult.show import Shower
    from diagnose.model.shop_picture import Counted, SettingRuns, ShopPicture

SHOWN, MONTHS, RUNS = 8, 13, 3
"""How many rows of a list, months, and settings are shown; JSON and HTML have all."""


def shop_lines(show: Shower, picture: ShopPicture, width: int) -> list[Line]:
    """Return the shop picture as lines."""
    page, picture = Page(width), words.safe(picture)
    page.head("The shop's cases")
    page.say(intro(picture))
    if picture.defects:
        _counted(page, "Which faults", [words.defect_words(show.base, d.id) for d in picture.defects], picture.defects)
    if picture.causes:
        _counted(
            page, "What they turned out to be", [show.says(show.cause(c.id)) for c in picture.causes], picture.causes
        )
    _months(page, picture)
    for runs in picture.settings[:RUNS]:
        _runs(page, show, runs)
    _corrections(page, picture)
    _costs(page, show, picture)
    _chances(page, picture)
    return page.lines


def intro(picture: ShopPicture) -> str:
    """Return in a sentence how many cases this is about."""
    if not picture.cases:
        return f"There are no cases{f' {picture.about}' if picture.about else ''} yet."
    when = f", from {picture.first_month} to {picture.last_month}" if picture.first_month else ""
    about = f" {picture.about}" if picture.about else ""
    return f"{picture.cases} cases{about}{when}; {picture.confirmed} of them confirmed."


def _counted(page: Page, title: str, names: list[str], found: tuple[Counted, ...]) -> None:
    page.head(title)
    most = found[0].cases
    for name, one in list(zip(names, found, strict=True))[:SHOWN]:
        page.say(name, 0, 3, "strong")
        page.say(f"{bar(one.cases / most)} {words.count_words(one.cases)} ({one.share:.0%})", 3)
    if len(found) > SHOWN:
        page.say(f"... and {len(found) - SHOWN} more, {1 - found[SHOWN - 1].so_far:.0%} of all.")


def _months(page: Page, picture: ShopPicture) -> None:
    if not picture.months:
        return
    page.head("Month by month")
    last = picture.months[-MONTHS:]
    most = max(m.cases for m in last) or 1
    for m in last:
        page.say(f"{m.month} {bar(m.cases / most)} {m.cases}, {m.confirmed} confirmed")


def _runs(page: Page, show: Shower, runs: SettingRuns) -> None:
    page.head(f"{runs.setting}: {words.defect_words(show.base, runs.defect)}")
    window = words.window_words(show, runs)
    page.item(f"{words.FAULTY}: {words.spread_words(show, runs.setting, runs.bad)}")
    page.item(f"{words.CURED}: {words.spread_words(show, runs.setting, runs.good)}")
    if window:
        page.item(f"window: {window} ({runs.window_source})")
    page.lines += [Line(text) for text in spreads_picture(show, runs).characters(page.width)]


def _corrections(page: Page, picture: ShopPicture) -> None:
    if not picture.corrections:
        return
    page.head("What was tried, and what worked")
    for c in picture.corrections[:SHOWN]:
        page.say(c.changed, 0, 3, "strong")
        worked = words.interval_words(c.worked, c.worked_low, c.worked_high)
        page.say(f"{bar(c.worked)} worked {c.cured + c.better} of {c.tried} times: {worked}", 3)


def _costs(page: Page, show: Shower, picture: ShopPicture) -> None:
    if not picture.costs:
        return
    page.head("What the scrap cost")
    for currency in dict.fromkeys(c.currency for c in picture.costs):
        these = [c for c in picture.costs if c.currency == currency]
        total = words.amount(sum(c.hundredths for c in these))
        page.say(f"{total} {currency} in {sum(c.cases for c in these)} cases".strip(), style="strong")
        for c in these[:SHOWN]:
            page.item(f"{words.defect_words(show.base, c.defect)}: {words.amount(c.hundredths)} ({c.cases} cases)")


def _chances(page: Page, picture: ShopPicture) -> None:
    if not picture.calibration:
        return
    page.head("Do the chances come true?")
    for t in picture.calibration:
        right = words.interval_words(t.share, t.share_low, t.share_high)
        page.item(f"said {t.low:.0%} to {t.high:.0%}: was right {t.right} of {t.said} times, {right}")
    if picture.calibration_error is not None:
        page.say(f"On average {100 * picture.calibration_error:.0f} percent points off.")
