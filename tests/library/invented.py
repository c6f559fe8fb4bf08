"""Invented cases for the tests: any text, any number, any mix of what a case can hold."""

from __future__ import annotations

from hypothesis import strategies as st

from diagnose.library.kept import Chance, Kept, Moved, Photo, Said, Set, Spoke, Tried

# What every database and every file can hold: no zero byte, no half of a surrogate pair.
SIGNS = st.characters(exclude_characters="\0", exclude_categories=("Cs",))
TEXT = st.text(SIGNS, max_size=30)
NAME = st.text(SIGNS, min_size=1, max_size=20)
NUMBER = st.floats(allow_nan=False, allow_infinity=False)
SOME_NAMES = st.sampled_from(("rubber", "cure time", "squeeze-out", "platen readings", "not known", "a: b", "'=x"))
FACT = SOME_NAMES | NAME
DEFECTS = ("", "mold.visible-seam", "mold.voids", "wax.incomplete-fill", "nobody.knows-this")
CAUSES = ("mold.pack-too-empty", "mold.dirty-layers", "unlisted")
DATES = st.sampled_from(("", "2026-01-12", "2026-02", "last week", "2026-13-40"))
DIGEST = st.sampled_from(("", "ab" * 32))


def settings() -> st.SearchStrategy[Set]:
    readings = st.lists(NUMBER, max_size=4).map(tuple)
    return st.builds(Set, typed=TEXT, value=NUMBER | readings)


def trials() -> st.SearchStrategy[Tried]:
    moves = st.lists(
        st.builds(Moved, setting=FACT, before=TEXT, after=TEXT, before_si=st.none() | NUMBER, after_si=NUMBER),
        max_size=2,
    ).map(tuple)
    return st.builds(
        Tried, changed=TEXT, outcome=TEXT, date=DATES, cause=st.sampled_from(("", *CAUSES)), author=TEXT, moves=moves,
        result=st.sampled_from(("", "cured", "better", "same", "worse")),
    )  # fmt: skip


def said() -> st.SearchStrategy[Said]:
    causes = st.lists(st.builds(Chance, cause=NAME, chance=st.floats(0, 1)), max_size=3).map(tuple)
    spoke = st.builds(Spoke, rule=NAME, cause=NAME, speaks=st.sampled_from(("for", "against")), counted=st.booleans())
    return st.builds(
        Said, at=st.sampled_from(("", "2026-01-01T00:00:00Z")), verdict=st.sampled_from(("one cause", "")),
        causes=causes, evidence=st.lists(spoke, max_size=4).map(tuple),
    )  # fmt: skip


def kepts() -> st.SearchStrategy[Kept]:
    """Any case that the library can hold, without a name and a number of its own."""
    return st.builds(
        Kept, shop=st.sampled_from(("", "the other bench")), author=TEXT, opened_at=st.just("2026-01-01T00:00:00Z"),
        closed_at=st.sampled_from(("", "2026-02-01T00:00:00Z")), part=TEXT, defect=st.sampled_from(DEFECTS), date=DATES,
        materials=st.dictionaries(FACT, NAME, max_size=2), settings=st.dictionaries(FACT, settings(), max_size=3),
        observations=st.dictionaries(FACT, SOME_NAMES | NAME, max_size=3), notes=TEXT, said=st.none() | said(),
        trials=st.lists(trials(), max_size=2).map(tuple), other_cause=TEXT, currency=TEXT,
        confirmed=st.lists(st.sampled_from(CAUSES), max_size=2, unique=True).map(tuple),
        cost=st.none() | st.integers(0, 10**15),
        photos=st.lists(st.builds(Photo, path=TEXT, digest=DIGEST), max_size=2).map(tuple),
    )  # fmt: skip


def a_case(**fields: object) -> Kept:
    """A plain case: a visible seam, thin squeeze-out."""
    plain: dict[str, object] = {
        "part": "oak leaf", "defect": "mold.visible-seam", "date": "2026-01-12", "notes": "the new frames",
        "materials": {"rubber": "natural rubber"}, "observations": {"squeeze-out": "none"},
        "settings": {"cure time": Set(typed="60 min", value=3600.0)},
        "said": Said(
            at="2026-01-12T09:00:00Z", verdict="one cause",
            causes=(Chance(cause="mold.pack-too-empty", chance=0.9), Chance(cause="mold.dirty-layers", chance=0.1)),
            evidence=(Spoke(rule="seam/empty/none", cause="mold.pack-too-empty", speaks="for", counted=True),),
        ),
    }  # fmt: skip
    return Kept.model_validate({**plain, **fields})
