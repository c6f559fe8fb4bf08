"""A rules folder small enough to read at a glance, and ways to spoil it."""

from __future__ import annotations

from pathlib import Path

OBSERVATIONS = """
observations:
  leak sound:
    ask: Does it hiss when the pump runs?
    why: Air that comes in hisses.
    about: leak
    answers: {hisses: It hisses., silent: Nothing is heard.}
  pump oil:
    ask: What does the oil look like?
    why: Water turns oil milky.
    about: oil
    answers: {clear: Clear., milky: Like milk., dark: Brown or black.}
  gauge check:
    ask: What does a second gauge show?
    why: A gauge can be wrong.
    about: gauge
    answers: {agrees: The same., differs: Something else.}
"""
CAUSES = """
causes:
  investment.hose-leaks:
    name: A hose leaks
    how: Air comes in as fast as the pump takes it out.
    corrections: [{do: Replace the hose., how to tell: It no longer hisses., source: common practice}]
  investment.oil-wet:
    name: Water is in the pump oil
    how: Water boils in the pump and its steam is what the gauge shows.
    corrections: [{do: Change the oil., how to tell: The oil stays clear., source: common practice}]
  investment.gauge-wrong:
    name: The gauge is wrong
    how: The vacuum is there and the gauge does not show it.
    corrections: [{do: Replace the gauge., how to tell: Both gauges agree., source: common practice}]
"""
DEFECT = """
defect: investment.weak-vacuum
name: The vacuum is weak
looks: The gauge stays high and the slurry does not rise.
words: [pump does not pull, no boil under the jar, low vacuum, slurry will not rise]
causes:
  - cause: investment.hose-leaks
    often: common
    rules:
      - {for: strong, when: {leak sound: hisses}, because: Air comes in., source: common practice}
      - {against: strong, when: {leak sound: silent}, because: No air comes in., source: common practice}
  - cause: investment.oil-wet
    often: occasional
    rules:
      - {for: strong, when: {pump oil: milky}, because: Water makes oil milky., source: common practice}
      - {against: positive, when: {pump oil: clear}, because: Dry oil is clear., source: common practice}
  - cause: investment.gauge-wrong
    often: rare
    rules:
      - {for: strong, when: {gauge check: differs}, because: One of them is wrong., source: common practice}
      - {against: strong, when: {gauge check: agrees}, because: Two gauges agree., source: common practice}
examples:
  - {name: it hisses, facts: {leak sound: hisses}, expect: {first: investment.hose-leaks}}
"""
SOUND = {
    "_observations.yaml": OBSERVATIONS, "_causes.yaml": CAUSES, "weak-vacuum.yaml": DEFECT,
}  # fmt: skip


def small_folder(at: Path, changes: dict[str, tuple[str, str]] | None = None, **more: str) -> Path:
    """Write the small rules base below a folder, with a text replaced in some of its files; return its path.

    `more` adds files to the stage's folder: `_settings=...` becomes `_settings.yaml`.
    """
    stage = at / "rules" / "investment"
    stage.mkdir(parents=True)
    for name, text in SOUND.items():
        old, new = (changes or {}).get(name, ("", ""))
        assert old in text, f"{old!r} is not in {name}"
        (stage / name).write_text(text.replace(old, new) if old else text)
    for name, text in more.items():
        (stage / f"{name.replace('__', '-')}.yaml").write_text(text)
    return at / "rules"
