"""The tables of the case library, the same on SQLite and PostgreSQL; laid out for a million cases.

What is repeated a million times is a number: every name (fact, answer, defect, cause, rule, setting) stands once in
`words`, and word 0 is the empty text. What belongs to one case lies together, keyed by the case.

meta          the schema version, who made the library, what was taken over from a folder
counters      the next number of a case, a change, a word; taking a change number is also the one lock of all writers
words         every name once
shops         whose cases these are: this shop is 1, others come in by merging and importing
cases         one row for each case: what it is, where it stands, and the columns that searches and summaries use
facts         what was told of a case: materials and settings, indexed by defect, to sum up; what was observed is only
              ever read with its case, and packed in `cases`
features      all facts packed for reading thousands at once, clustered by defect (see `features.py`)
diagnoses     what was said of a case when it was last diagnosed: verdict, first cause and its chance; every cause named
              then, and every rule that spoke, are packed (see `features.py`)
trials        what was changed and what came of it: cured, better, same, worse, or not said
moves         the settings of a trial, recorded -> revised
confirmed     what it turned out to be, one row for each cause; "none of these" is the free text `cases.other_cause`
photos        pictures of a case by path; `digest` names the copy in `pictures` when one was taken
pictures      the copies, named by the SHA-256 of their content
changes       one row for each thing a person did, in the order it was done: numbers, not clocks, keep the order
revisions     which cases a change touched, and each case as it was before (JSON of the exchange; empty for a new case)
mappings      how the columns of a shop's spreadsheet were read, remembered by its header
case_counts   by defect, month and currency: cases, confirmed ones, and what the scrap cost
cause_counts  by defect and month: how often a cause was confirmed; several causes of one case share one count
trial_counts  by defect and month: how often something was tried for a cause, with which result
calibration   by defect and month: how often a chance in this tenth was said, how often that cause was confirmed
to_learn      learning: this shop's confirmed cases that were not learned from yet
outcomes      learning: what each rule of a defect says of a confirmed case, packed; what the two below add up
shares        learning: how often a candidate of a defect was confirmed; several causes of one case share one count
rule_counts   learning: for each candidate confirmed, in how many cases what a rule looks at was told, and it spoke

The four count tables (case, cause, trial, calibration) follow from the others (`counts.recount`); they are kept up to
date in the transaction of each change, so that it touches some dozens of rows, and a summary reads some thousands, at
any size. A case confirmed as "none of these" counts for `unlisted`. The last four belong to `learning.py`: what the
rules say of a case is worked out by the consultant soon after the confirmation, which only puts the case into
`to_learn`; whatever changes or removes a case calls `outcomes.take_back` in the same transaction first.
Forgotten cases leave every table but `changes` and `revisions`; erased ones leave those too.
"""

from __future__ import annotations

from sqlalchemy import (
    BigInteger,
    Boolean,
    CheckConstraint,
    Column,
    Float,
    ForeignKey,
    Index,
    Integer,
    LargeBinary,
    MetaData,
    SmallInteger,
    String,
    Table,
    Text,
)

SCHEMA_VERSION = 3
"""Of these tables. A library of a higher version is refused, one of a lower version is upgraded after a backup."""

STATES = ("opened", "diagnosed", "tried", "confirmed", "closed")
RESULTS = ("", "cured", "better", "same", "worse")
OWN_SHOP = 1
NOTHING = 0
"""The word that is the empty text."""

metadata = MetaData()
_Number = BigInteger().with_variant(Integer, "sqlite")


def _of_case(key: bool = True) -> Column[int]:
    return Column("case_id", _Number, ForeignKey("cases.id", ondelete="CASCADE"), primary_key=key, nullable=False)


def _word(name: str, key: bool = False) -> Column[int]:
    return Column(name, Integer, primary_key=key, autoincrement=False, nullable=False)


def _of_month() -> tuple[Column[int], ...]:
    """Return the columns by which everything that is summed up can be looked at: shop, defect, month."""
    shop = Column("shop_id", Integer, primary_key=True, autoincrement=False)
    month = Column("month", Integer, primary_key=True, autoincrement=False)
    return shop, _word("defect_id", key=True), month


meta = Table(
    "meta", metadata,
    Column("name", String(40), primary_key=True),
    Column("value", Text, nullable=False),
)  # fmt: skip

counters = Table(
    "counters", metadata,
    Column("name", String(20), primary_key=True),
    Column("next", _Number, nullable=False),
)  # fmt: skip

words = Table(
    "words", metadata,
    Column("id", Integer, primary_key=True, autoincrement=False),
    Column("text", Text, nullable=False, unique=True),
)  # fmt: skip

shops = Table(
    "shops", metadata,
    Column("id", Integer, primary_key=True, autoincrement=False),
    Column("uid", String(32), nullable=False, unique=True),
    Column("name", Text, nullable=False),
)  # fmt: skip

cases = Table(
    "cases", metadata,
    Column("id", _Number, primary_key=True, autoincrement=False),  # also the number a person may type
    Column("uid", String(32), nullable=False, unique=True),  # the same in every library the case travels to
    Column("name", Text, nullable=False, unique=True),
    Column("shop_id", Integer, ForeignKey("shops.id"), nullable=False),
    _word("defect_id"),
    Column("stage", String(12), nullable=False),
    Column("state", String(10), nullable=False),
    Column("date", Text, nullable=False),  # as written in the case
    Column("month", Integer, nullable=False),  # 202611, from the date; 0 when it is no date
    Column("opened_at", String(32), nullable=False),  # UTC, for people; the order is the number's
    Column("closed_at", String(32), nullable=False),
    Column("author", Text, nullable=False),  # initials of who opened it
    Column("part", Text, nullable=False),
    Column("notes", Text, nullable=False),
    Column("search", Text, nullable=False),  # part, notes and trials, casefolded
    Column("other_cause", Text, nullable=False),
    Column("causes", SmallInteger, nullable=False),  # how many causes are confirmed, "none of these" being one
    Column("cost", BigInteger, nullable=True),  # of the scrap, in hundredths of the currency; NULL when not told
    Column("currency", Text, nullable=False),
    Column("revision", Integer, nullable=False),  # 1, 2, ...: an update names the one it saw
    Column("fingerprint", String(32), nullable=False),  # of what was told; duplicates share it
    Column("observed", LargeBinary, nullable=False),  # names and answers of observations: see `features.py`
    CheckConstraint(f"state IN {STATES}", name="state_is_known"),
    Index("cases_by_defect", "defect_id", "month"),
    Index("cases_by_fingerprint", "fingerprint"),
)  # fmt: skip

facts = Table(
    "facts", metadata,
    _of_case(),
    _word("name_id", key=True),
    _word("defect_id"),
    Column("kind", SmallInteger, primary_key=True, autoincrement=False),  # MATERIAL, SETTING
    Column("number", Float, nullable=True),  # SI; NULL for answers and for lists of readings
    Column("readings", Text, nullable=True),  # JSON list of SI numbers where a setting is a list of readings
    _word("answer_id"),  # of materials; 0 for settings
    Column("typed", Text, nullable=False),  # as the person wrote it
    Index("facts_by_defect", "defect_id", "name_id", "answer_id", "number"),
    sqlite_with_rowid=False,
)  # fmt: skip

features = Table(
    "features", metadata,
    _word("defect_id", key=True),
    _of_case(),
    Column("packed", LargeBinary, nullable=False),
    Index("features_by_case", "case_id"),
    sqlite_with_rowid=False,
)  # fmt: skip

diagnoses = Table(
    "diagnoses", metadata,
    _of_case(),
    Column("at", String(32), nullable=False),
    Column("verdict", String(24), nullable=False),
    _word("first_cause_id"),
    Column("first_chance", Float, nullable=False),
    Column("ranked", LargeBinary, nullable=False),
    Column("evidence", LargeBinary, nullable=False),
    sqlite_with_rowid=False,
)  # fmt: skip

trials = Table(
    "trials", metadata,
    _of_case(),
    Column("number", SmallInteger, primary_key=True, autoincrement=False),  # 1 is the first
    Column("date", Text, nullable=False),
    Column("changed", Text, nullable=False),
    Column("outcome", Text, nullable=False),
    Column("result", String(8), nullable=False),
    _word("cause_id"),  # the cause that the correction was for; 0 when not said
    _word("defect_id"),
    Column("author", Text, nullable=False),
    Index("trials_by_defect", "defect_id", "result"),
    sqlite_with_rowid=False,
)  # fmt: skip

moves = Table(
    "moves", metadata,
    _of_case(),
    Column("trial", SmallInteger, primary_key=True, autoincrement=False),
    _word("name_id", key=True),
    Column("before", Text, nullable=False),  # as typed; empty when it was not recorded
    Column("before_number", Float, nullable=True),  # SI
    Column("after", Text, nullable=False),
    Column("after_number", Float, nullable=True),
    sqlite_with_rowid=False,
)  # fmt: skip

confirmed = Table(
    "confirmed", metadata,
    _of_case(),
    Column("place", SmallInteger, primary_key=True, autoincrement=False),
    _word("cause_id"),
    _word("defect_id"),
    Index("confirmed_by_cause", "defect_id", "cause_id"),
    sqlite_with_rowid=False,
)  # fmt: skip

photos = Table(
    "photos", metadata,
    _of_case(),
    Column("place", SmallInteger, primary_key=True, autoincrement=False),
    Column("path", Text, nullable=False),
    Column("digest", String(64), nullable=False),  # empty when only the path is kept
    sqlite_with_rowid=False,
)  # fmt: skip

pictures = Table(
    "pictures", metadata,
    Column("digest", String(64), primary_key=True),
    Column("suffix", String(16), nullable=False),
    Column("content", LargeBinary, nullable=False),
)  # fmt: skip

changes = Table(
    "changes", metadata,
    Column("id", _Number, primary_key=True, autoincrement=False),
    Column("what", String(20), nullable=False),  # the command: add, trial, confirm, import, undo ...
    Column("author", Text, nullable=False),
    Column("at", String(32), nullable=False),
    Column("undoes", _Number, nullable=True),  # the change that this one took back
    Column("undone", Boolean, nullable=False),
    Column("cases", Integer, nullable=False),  # how many it touched
    Column("program", String(20), nullable=False),
)  # fmt: skip

revisions = Table(
    "revisions", metadata,
    Column("case_id", _Number, primary_key=True, autoincrement=False),  # no foreign key: outlives a forgotten case
    Column("number", Integer, primary_key=True, autoincrement=False),
    Column("change_id", _Number, ForeignKey("changes.id"), nullable=False),
    Column("before", Text, nullable=True),
    Index("revisions_by_change", "change_id"),
    sqlite_with_rowid=False,
)  # fmt: skip

mappings = Table(
    "mappings", metadata,
    Column("header", String(32), primary_key=True),  # fingerprint of the column titles
    Column("body", Text, nullable=False),
)  # fmt: skip

case_counts = Table(
    "case_counts", metadata,
    *_of_month(),
    Column("currency", Text, primary_key=True),
    Column("cases", Integer, nullable=False),
    Column("confirmed", Integer, nullable=False),
    Column("costed", Integer, nullable=False),  # how many say what they cost
    Column("cost", BigInteger, nullable=False),
    sqlite_with_rowid=False,
)  # fmt: skip

cause_counts = Table(
    "cause_counts", metadata,
    *_of_month(),
    _word("cause_id", key=True),
    Column("confirmed", Float, nullable=False),
    sqlite_with_rowid=False,
)  # fmt: skip

trial_counts = Table(
    "trial_counts", metadata,
    *_of_month(),
    _word("cause_id", key=True),
    Column("result", String(8), primary_key=True),
    Column("changed", Text, primary_key=True),  # as written, its beginning
    Column("tried", Integer, nullable=False),
    sqlite_with_rowid=False,
)  # fmt: skip

to_learn = Table(
    "to_learn", metadata,
    _of_case(),
    _word("defect_id"),
    Index("to_learn_by_defect", "defect_id"),
    sqlite_with_rowid=False,
)  # fmt: skip

outcomes = Table(
    "outcomes", metadata,
    _of_case(),
    _word("defect_id", key=True),  # that of the case, and the earlier ones it was handed over to
    Column("causes", Text, nullable=False),  # JSON list of the candidates (words) that it counts for
    Column("packed", LargeBinary, nullable=False),  # what the rules say: see `outcomes.py`
    sqlite_with_rowid=False,
)  # fmt: skip

shares = Table(
    "shares", metadata,
    _word("defect_id", key=True),
    _word("cause_id", key=True),
    Column("cases", Float, nullable=False),
    sqlite_with_rowid=False,
)  # fmt: skip

rule_counts = Table(
    "rule_counts", metadata,
    _word("defect_id", key=True),
    _word("rule_id", key=True),
    _word("cause_id", key=True),  # the candidate that was confirmed, whatever the rule speaks about
    Column("told", Integer, nullable=False),
    Column("spoke", Integer, nullable=False),
    sqlite_with_rowid=False,
)  # fmt: skip

calibration = Table(
    "calibration", metadata,
    *_of_month(),
    Column("first", Boolean, primary_key=True),  # said of the first cause, or of a later one
    Column("tenth", SmallInteger, primary_key=True, autoincrement=False),  # 0: under 10 %, ... 9: 90 % and over
    Column("said", Integer, nullable=False),
    Column("right", Integer, nullable=False),
    Column("chances", Float, nullable=False),  # their sum, for the mean chance said
    sqlite_with_rowid=False,
)  # fmt: skip
