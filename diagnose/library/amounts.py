"""Amounts of money as people write them, in hundredths; no reading is guessed where two are possible."""

from __future__ import annotations

import re

from diagnose.errors import BadInput

_AMOUNT = re.compile(r"(?P<whole>\d{1,3}(?:(?P<mark>[.,' ])\d{3})*|\d+)(?:[.,](?P<part>\d{1,2}))?")


def amount(text: str) -> int:
    """Return an amount in hundredths: 12.50, 12,50, 1.250,00 or 1,250.00, with or without a currency sign."""
    plain = re.sub(r"[^\d.,' -]", "", text).strip()
    found = _AMOUNT.fullmatch(plain)
    decimal = plain[found.end("whole") : found.end("whole") + 1] if found else ""
    if not found or (decimal and decimal == found["mark"]):
        raise BadInput(f"'{text}' is no amount.", next_step="Write 12.50.")
    whole = int(re.sub(r"\D", "", found["whole"]))
    return whole * 100 + int((found["part"] or "").ljust(2, "0"))
