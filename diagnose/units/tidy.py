"""Brings typed text into one plain form before it is read; nothing here knows about units."""

from __future__ import annotations

import re
import unicodedata

from diagnose.units.result import Refused

LONGEST = 80

# Applied before and after Unicode's own folding, which turns some of these signs into letters.
_SAME = str.maketrans(
    {
        **dict.fromkeys("º˚", "°"),
        **dict.fromkeys("‐‑‒–—―−﹣－", "-"),
        **dict.fromkeys("‘’‛′´`ʹ", "'"),
        **dict.fromkeys("“”‟″ʺ", '"'),
        **dict.fromkeys("⁄∕", "/"),
        **dict.fromkeys("∶：", ":"),
        "±": "+/-",
        "µ": "u",
        "μ": "u",
    }
)
_BEFORE_VULGAR = re.compile(r"(?<=\d)(?=[¼-¾⅐-⅞])")
# Ten to the fifth would become one hundred and five.
_RAISED = re.compile(r"(?<=\d)(?=[⁰¹²³⁴-⁹⁺⁻])")
_ABOUT_BEFORE = re.compile(r"(?:[~≈∼]|(?:about|around|approximately|approx|roughly|circa|ca|maybe)\b\.?) *")
_ABOUT_AFTER = re.compile(r" ?(?:-?ish|or so|approx\.?|roughly)$")


def cut(text: str) -> str:
    """Return typed text fit to be quoted in a message: short, and only what can be seen."""
    seen = "".join(one if one.isprintable() and unicodedata.category(one) != "Zs" else " " for one in text[:LONGEST])
    seen = re.sub(r" +", " ", seen).strip()
    return seen if len(seen) <= 40 else seen[:37] + "..."


def tidy(text: str, longest: int = LONGEST) -> str:
    """Return typed text in plain characters and lower case; refuse what is too long or hidden."""
    if len(text) > longest:
        raise Refused(f"That is longer than {longest} characters.")
    text = text.strip(" \t\r\n")
    if any(unicodedata.category(one).startswith("C") for one in text):
        raise Refused("There is a control character or a hidden character in that.")
    text = _RAISED.sub("^", _BEFORE_VULGAR.sub(" ", text.translate(_SAME)))
    text = unicodedata.normalize("NFKC", text).translate(_SAME).casefold()
    text = "".join(str(unicodedata.decimal(one)) if one.isdecimal() else one for one in text)
    text = " ".join(text.replace("''", '"').replace("+-", "+/-").split())
    if not text:
        raise Refused("Nothing was typed.")
    if len(text) > 2 * longest:
        raise Refused(f"That is longer than {longest} characters.")
    return text


def without_about(text: str) -> tuple[str, bool]:
    """Take away the words that say a number is only about right; tell whether there were any."""
    if match := _ABOUT_BEFORE.match(text):
        return text[match.end() :], True
    if match := _ABOUT_AFTER.search(text):
        return text[: match.start()], True
    return text, False
