"""The reasons as pictures: bars as long as the evidence is heavy, boxes in the order of what happened."""

from __future__ import annotations

from math import log10, sqrt

import pytest

from diagnose.model.diagnosis import Evidence
from diagnose.model.explanation import Balance, Link
from diagnose.report.pictures.panels import Bars, Steps
from diagnose.report.pictures.reasons import balance_picture, chain_picture

# Geometric middles of the bands of Bayes factors (Kass & Raftery, J. Am. Stat. Assoc. 90, 773, 1995).
POSITIVE, STRONG = sqrt(3 * 20), sqrt(20 * 150)
FACTORS = {"slight": sqrt(3), "positive": POSITIVE, "strong": STRONG}


def evidence(speaks: str, weight: str) -> Evidence:
    return Evidence(
        rule="r", speaks=speaks, weight=weight, counted=True, about="a", facts=(), because="b",
        source="common practice", factor=FACTORS[weight],
    )  # type: ignore[arg-type]  # fmt: skip


def balance(name: str, chance: float, speaks_for: tuple[str, ...] = (), against: tuple[str, ...] = ()) -> Balance:
    return Balance(
        cause=name, name=name, stage="mold", probability=chance, often="common",
        speaks_for=tuple(evidence("for", w) for w in speaks_for),
        speaks_against=tuple(evidence("against", w) for w in against),
    )  # fmt: skip


LINKS = (
    Link(kind="setting", words="cure time: 45 min", because="Short."),
    Link(kind="setting", words="rubber thickness: 1 in"),
    Link(kind="computed", words="core cure: 0.5"),
    Link(kind="cause", words="Too short", because="Heat comes late.", stage="mold"),
    Link(kind="sign", words="core: soft"),
    Link(kind="defect", words="Soft core", stage="mold"),
)


def test_a_bar_is_as_long_as_its_evidence_is_heavy() -> None:
    found = balance_picture((balance("one", 0.9, ("strong", "positive"), ("positive",)), balance("two", 0.1)))
    (panel,) = found.panels
    assert isinstance(panel, Bars)
    lengths = [(bar.start, bar.end) for bar in panel.bars]
    assert lengths[0] == pytest.approx((0.0, log10(STRONG * POSITIVE)))
    assert lengths[1] == pytest.approx((-log10(POSITIVE), 0.0))
    assert panel.bars[1].kind == "revised"  # told apart by more than its side
    assert found.rows[0][2:6] == ("2 signs", f"{STRONG * POSITIVE:,.0f}", "1 sign", f"{POSITIVE:,.0f}")
    assert "two: none for it, none against" in found.alt


def test_the_chain_has_a_box_for_each_step_and_settings_share_one() -> None:
    found = chain_picture(LINKS)
    (panel,) = found.panels
    assert isinstance(panel, Steps)
    assert [box.lead for box in panel.boxes] == ["Set", "That makes", "So (mold)", "Seen", "And that is (mold)"]
    assert panel.boxes[0].words == "cure time: 45 min; rubber thickness: 1 in"
    assert all(box.words in found.svg().replace("\n", " ") or len(box.words) > 30 for box in panel.boxes)
    assert [row[1] for row in found.rows] == [box.words for box in panel.boxes]


@pytest.mark.parametrize("width", [40, 60, 100])
def test_both_can_be_drawn_in_plain_signs(width: int) -> None:
    for picture in (chain_picture(LINKS), balance_picture((balance("one", 0.9, ("strong",), ("slight",)),))):
        lines = picture.characters(width)
        assert max(map(len, lines)) <= width
        assert all(line.isascii() for line in lines)


def test_a_phone_shows_the_chain_without_scrolling() -> None:
    wide = float(chain_picture(LINKS).svg().split('width="')[1].split("pt")[0]) * 96.0 / 72.0
    assert wide <= 420  # CSS pixels; a drawing is scaled down a little on a phone of 360, and still read
