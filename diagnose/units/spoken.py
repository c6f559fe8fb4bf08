"""Numbers said in words, and words that are no number though people use them for one."""

from __future__ import annotations

import re

from diagnose.units.result import Refused

_COUNTS = {
    word: str(number)
    for number, word in enumerate(
        ("zero", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve")
    )
} | {"a": "1", "an": "1"}
_PARTS = {
    "half": "1/2", "quarter": "1/4", "three quarters": "3/4", "third": "1/3", "two thirds": "2/3", "eighth": "1/8",
}  # fmt: skip
_PART = rf"(?:an? )?(?P<part>{'|'.join(sorted(_PARTS, key=len, reverse=True))})"
_PART_OF = re.compile(rf"{_PART}(?: of)?(?: an?)? (?P<rest>[a-z].*)")
_COUNT = rf"(?P<count>{'|'.join(_COUNTS)}|\d{{1,4}})"
_AND_A_PART = re.compile(rf"{_COUNT} and {_PART} (?P<rest>[a-z].*)")
_AND_A_PART_AFTER = re.compile(rf"{_COUNT} (?P<rest>[a-z]+) and {_PART}")
_COUNT_OF = re.compile(rf"(?P<count>{'|'.join(_COUNTS)}) (?P<rest>[a-z].*)")
_FRACTION_AFTER_AND = re.compile(r"^(\d{1,4}) and (?=\d{1,4}/)")

_NOTHING = re.compile(r"none|nothing|nil|no (?:vacuum|pressure)|(?:vacuum |pressure )?off")
_NEVER_NOTHING = ("length", "temperature")  # nobody means 0 ft by "altitude = none", and no temperature is nothing

_VAGUE = {
    "temperature": (
        (r"(?:at )?(?:the )?(?:room|shop|ambient)(?: temp(?:erature)?\.?)?|rt|ambient",
         "Rooms differ: read a thermometer in this one."),
        (r"(?:(?:dull|dark|low|cherry|bright) )?(?:red|orange|yellow|white)(?:[ -]?hot| heat)?|glowing",
         "A color of heat is no number, and looks brighter in a dark shop: read a pyrometer."),
        (r"(?:at )?(?:the )?boil(?:ing)?(?: point| water)?",
         "Water boils colder the higher the place: measure it."),
        (r"(?:hand|luke|body)[ -]?(?:warm|hot|heat)|body temperature|(?:ice |stone )?(?:cold|cool|warm|hot)(?: water)?",
         "What is warm to one hand is cool to another: measure it."),
    ),
    "pressure": (
        (r"(?:full|deep|best|max(?:imum)?)(?: vacuum| pressure)?|all (?:the way|it has)|wide open",
         "How far that goes depends on the pump and the place: read the gauge."),
        (r"atmospheric(?: pressure)?|(?:at )?sea level",
         "The air weighs less the higher the place: read a barometer."),
    ),
    "time": (
        (r"over ?night|all (?:day|night)|a while|(?:a )?(?:few|couple)\b.*", "Count it: two nights are not the same."),
        (r"until .+", "Look at a clock when that is so."),
    ),
    "percent": (
        (r"\d{1,2} ?(?:k|kt|karat|carat)\.?",
         "The mark of a karat can stand a little over its twenty-fourths: write the fineness, such as 58.5 %."),
        (r"pure|fine", "No metal is sold quite pure: write how fine the maker says it is."),
    ),
}  # fmt: skip


def in_digits(text: str, dimension: str) -> str:
    """Return tidied text with a number said in words put in digits: half an hour as 1/2 hour; other text as it is.

    >>> in_digits("half an hour", "time"), in_digits("an inch and a half", "length"), in_digits("no vacuum", "pressure")
    ('1/2 hour', '1 1/2 inch', '0')
    """
    if dimension not in _NEVER_NOTHING and _NOTHING.fullmatch(text):
        return "0"
    if found := _AND_A_PART.fullmatch(text) or _AND_A_PART_AFTER.fullmatch(text):
        return f"{_COUNTS.get(found['count'], found['count'])} {_PARTS[found['part']]} {found['rest']}"
    if found := _PART_OF.fullmatch(text):
        return f"{_PARTS[found['part']]} {found['rest']}"
    if found := _COUNT_OF.fullmatch(text):
        return f"{_COUNTS[found['count']]} {found['rest']}"
    return _COUNTS.get(text, _FRACTION_AFTER_AND.sub(r"\1 ", text)) if text not in ("a", "an") else text


def refuse_vague(text: str, dimension: str) -> None:
    """Raise Refused for words that stand for no number, and say how to come by one."""
    for words, instead in _VAGUE.get(dimension, ()):
        if re.fullmatch(words, text):
            raise Refused(f'"{text}" is no number. {instead}')
