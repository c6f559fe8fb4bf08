"""The words of the shop picture: names, counts, intervals, amounts."""

from __future__ import annotations

import textwrap
from typing import TYPE_CHECKING, Any

from diagnose.model.clean import clean
from diagnose.model.shop_picture import ShopPicture

if TYPE_CHECKING:
    from diagnose.consult.show import Shower
    from diagnose.model.shop_picture import SettingRuns, Spread
    from diagnose.rulebase.load import RuleBase

FAULTY, CURED = "with the fault", "after a cure"
"""What the two kinds of run are called."""
LABEL = 30


def safe(picture: ShopPicture) -> ShopPicture:
    """Return the picture with every text in it safe to show: names and words come from files of anybody."""
    return ShopPicture.model_validate(_safe(picture.model_dump()))


def _safe(part: Any) -> Any:
    if isinstance(part, str):
        return clean(part)
    if isinstance(part, dict):
        return {key: _safe(value) for key, value in part.items()}
    return tuple(map(_safe, part)) if isinstance(part, (tuple, list)) else part


def defect_words(base: RuleBase, ident: str) -> str:
    """Return the name of a defect with its stage; the id of one that the rules base does not know."""
    if ident not in base.defect_files:
        return ident or "not said"
    return f"{base.defect(ident).name} ({ident.split('.')[0]})"


def count_words(number: float) -> str:
    """Return a number of cases, which is broken where several causes share one."""
    return f"{number:.0f}" if abs(number - round(number)) < 0.05 else f"{number:.1f}"


def interval_words(share: float, low: float, high: float) -> str:
    """Return a share with its interval."""
    return f"{share:.0%} ({low:.0%} to {high:.0%})"


def amount(hundredths: int) -> str:
    """Return an amount of money without its currency."""
    return f"{hundredths / 100:,.2f}".replace(",", " ")


def spread_words(show: Shower, setting: str, spread: Spread) -> str:
    """Return where the middle half of some runs lies."""
    low, middle, high = (show.value(setting, v) for v in (spread.low, spread.middle, spread.high))
    return f"{middle} in the middle, half of {spread.runs} runs between {low} and {high}"


def window_words(show: Shower, runs: SettingRuns) -> str:
    """Return the window of a setting, or nothing where it has none."""
    low, high = (None if end is None else show.value(runs.setting, end) for end in (runs.window_low, runs.window_high))
    if low and high:
        return f"{low} to {high}"
    return f"at least {low}" if low else f"at most {high}" if high else ""


def label(text: str) -> str:
    """Return a text as the label of a row in a picture: two lines at most."""
    return "\n".join(textwrap.wrap(text, LABEL, max_lines=2, placeholder=" ..."))
