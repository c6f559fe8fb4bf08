"""`diagnose library list`, `find` and `show`."""

from __future__ import annotations

import json
from collections.abc import Callable
from typing import TYPE_CHECKING, Any

import click

from diagnose.cli.wrap import say, tell

if TYPE_CHECKING:
    from collections.abc import Iterator

    from diagnose.library.find import Line, Wanted
    from diagnose.library.history import Change
    from diagnose.library.kept import Kept
    from diagnose.rulebase.load import RuleBase

SHOWN = 50
EMPTY = "None yet. `diagnose` keeps one at the end; `diagnose library add FILE` takes a recorded one."

FILTERS = (
    click.option("--defect", default="", metavar="ID|NAME", help="What was wrong."),
    click.option("--cause", default="", metavar="ID|NAME", help="What it turned out to be."),
    click.option("--said", default="", metavar="ID|NAME", help="The cause that was named first."),
    click.option("--stage", default="", help="model, mold, wax, tree, investment, burnout or casting."),
    click.option("--material", default="", help="A rubber, wax, metal ... by name."),
    click.option("--state", default="", help="opened, diagnosed, tried, confirmed or closed."),
    click.option("--from-shop", "shop", default="", help="The shop it came from."),
    click.option("--opened-by", "author", default="", metavar="INITIALS", help="Who opened it."),
    click.option("--since", default="", metavar="DATE", help="2026-11-25, 2026-11 or 2026."),
    click.option("--until", default="", metavar="DATE", help="The last day, month or year that counts."),
)


def filters(command: Callable[..., Any]) -> Callable[..., Any]:
    """Give a command the options that say which cases are meant."""
    for option in reversed(FILTERS):
        command = option(command)
    return command


def wanted(words: tuple[str, ...], given: dict[str, str], options: dict[str, Any]) -> Wanted:
    """Return what is looked for; a misspelt defect, cause, stage or state is named with the nearest."""
    from diagnose.cli.names import one_of
    from diagnose.cli.shop import rules_base
    from diagnose.library.find import Wanted
    from diagnose.library.tables import STATES
    from diagnose.model.vocabulary import STAGES

    named = {k: v for k, v in options.items() if v and k in Wanted.__dataclass_fields__}
    if "stage" in named:
        named["stage"] = one_of("stage", named["stage"], STAGES)
    if "state" in named:
        named["state"] = one_of("state", named["state"], STATES)
    if named.keys() & {"defect", "cause", "said", "material"}:
        base = rules_base(given)
        _by_the_rules(named, base)
    return Wanted(words=words, **named)


def _by_the_rules(named: dict[str, str], base: RuleBase) -> None:
    from diagnose.cli.names import cause_named, defect_named, one_of
    from diagnose.library.kept import UNLISTED

    if "defect" in named:
        named["defect"] = defect_named(named["defect"], base)
    for key in named.keys() & {"cause", "said"}:
        named[key] = cause_named(named[key], base, UNLISTED)
    if "material" in named:
        known = [m for slot in base.words.slots.values() for m in slot.materials]
        named["material"] = one_of("material", named["material"], known)


@click.command("list")
@filters
@click.option("--all", "every", is_flag=True, help=f"Show all, not the last {SHOWN}.")
@click.option("--json", "as_json", is_flag=True, help="Write one JSON object a case.")
@click.pass_obj
def list_command(given: dict[str, str], /, every: bool, as_json: bool, **options: Any) -> int:
    """List the cases, the last one first: name, defect, part, what it turned out to be."""
    return _listed(given, (), every, as_json, options)


@click.command("find")
@click.argument("words", nargs=-1)
@filters
@click.option("--all", "every", is_flag=True, help=f"Show all, not the last {SHOWN}.")
@click.option("--json", "as_json", is_flag=True, help="Write one JSON object a case.")
@click.pass_obj
def find_command(given: dict[str, str], /, words: tuple[str, ...], every: bool, as_json: bool, **options: Any) -> int:
    """Find cases by words in part, notes and trials, and by defect, cause, stage, material, date."""
    return _listed(given, words, every, as_json, options)


def _listed(given: dict[str, str], words: tuple[str, ...], every: bool, as_json: bool, options: dict[str, Any]) -> int:
    from diagnose.cli.shop import open_library, rules_base

    library = open_library(given)
    what = wanted(words, given, options)
    lines, many = library.find(what, None if every else SHOWN)
    if as_json:
        for line in lines:
            click.echo(json.dumps(vars(line)))
        if many > len(lines):
            tell(f"... and {many - len(lines)} earlier ones; --all writes them too.")
        return 0
    say(f"Cases in {library.shown}:")
    base = rules_base(given) if lines else None
    for line in lines:
        assert base is not None
        say(_line(line, base))
    if not lines:
        say(EMPTY if not words and not any(options.values()) else "None that match.")
    elif many > len(lines):
        say(f"... and {many - len(lines)} earlier ones; --all shows them.")
    return 0


def _line(line: Line, base: RuleBase) -> str:
    defect = base.defect(line.defect).name if line.defect in base.defect_files else line.defect or "?"
    causes = [*(base.cause_name(c) for c in line.causes), *([line.other_cause] if line.other_cause else [])]
    return f"{line.name}: {defect}; {line.part or '-'}; {', '.join(causes) or f'not confirmed yet ({line.state})'}"


@click.command("show")
@click.argument("name")
@click.option("--json", "as_json", is_flag=True, help="Write everything the library holds of it.")
@click.option("--history", is_flag=True, help="Show what was done to it, by whom and when.")
@click.pass_obj
def show_command(given: dict[str, str], name: str, as_json: bool, history: bool) -> int:
    """Show a case, what came of it, and its diagnosis by today's rules."""
    from diagnose.cli.screen import put
    from diagnose.cli.shop import open_library
    from diagnose.cli.taught import taught
    from diagnose.consult.worded import worded
    from diagnose.library.store import known
    from diagnose.model.clean import clean
    from diagnose.report.text import diagnosis_lines
    from diagnose.rulebase.cases import case_to_text

    library = open_library(given)
    kept = library.kept(name)
    if as_json:
        click.echo(kept.to_json())
        return 0
    of = taught(given).of
    for line in _about(kept, of.base):
        say(line)
    click.echo(clean(case_to_text(kept.case(), of.base.words.settings), keep_lines=True))
    if history:
        for line in _history(library.revisions(name), kept):
            say(line)
        return 0
    case = known(kept.case(), of.base)
    if case.defect:
        put(lambda width: diagnosis_lines(worded(of.diagnose(case), of.show.system), width, case.part))
    return 0


def _history(revisions: list[tuple[Change, str | None]], now: Kept) -> Iterator[str]:
    """Yield what was done to a case, by whom and when, and what each change made different."""
    from itertools import pairwise

    from diagnose.library.differs import differences
    from diagnose.library.kept import from_json

    states = [*(from_json(text) if text else None for _, text in revisions), now]
    for (change, _), (before, after) in zip(revisions, pairwise(states), strict=True):
        undone = " (undone)" if change.undone else ""
        yield f"{change.id}: {change.what}{undone} by {change.author or 'nobody named'}, {change.at}"
        if before and after:
            yield from (f"  {difference}" for difference in differences(before, after))


def _about(kept: Kept, base: RuleBase) -> list[str]:
    """Return what the library knows beyond the case itself."""
    from diagnose.library.differs import trial_words

    lines = [f"{kept.name}: {kept.state}, opened {kept.opened_at} by {kept.author or 'nobody named'}"]
    if kept.shop:
        lines.append(f"from the shop: {kept.shop}")
    if kept.said and kept.said.causes:
        first = kept.said.causes[0]
        lines.append(f"said then: {base.cause_name(first.cause)} ({first.chance:.0%})")
    for number, trial in enumerate(kept.trials, 1):
        meant = f"for {base.cause_name(trial.cause)}" if trial.cause else ""
        about = ", ".join(part for part in (trial.date, trial.author, meant) if part)
        lines.append(f"trial {number}{f' ({about})' if about else ''}: {trial_words(trial)}")
    if kept.other_cause:
        lines.append(f"turned out to be: {kept.other_cause}")
    if kept.cost is not None:
        lines.append(f"scrap: {kept.cost / 100:.2f} {kept.currency}".rstrip())
    lines += [f"photo: {p.path}{' (copied)' if p.digest else ''}" for p in kept.photos]
    return lines
