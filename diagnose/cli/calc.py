"""`diagnose calc NAME key=value...`: one calculator."""

from __future__ import annotations

import json
import sys
from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from diagnose.model.vocabulary import STAGES

if TYPE_CHECKING:
    from diagnose.consult import Consultant
    from diagnose.derive.resolve import Computed
    from diagnose.errors import OutOfRange
    from diagnose.report.pictures import Picture


@click.command()
@click.argument("name", required=False)
@click.argument("inputs", nargs=-1)
@click.option("--json", "as_json", is_flag=True, help="Write inputs, assumptions and results as JSON.")
@click.option("--plot", type=click.Path(path_type=Path), help="Draw it into a file that ends in .svg, .png or .html.")
@click.pass_obj
def calc_command(
    given: dict[str, str], name: str | None, inputs: tuple[str, ...], as_json: bool, plot: Path | None
) -> int:
    """Run one calculator; without a name, list them. Inputs are setting names: cure-time=60min."""
    from diagnose.cli import plot as plots
    from diagnose.cli.setup import consultant
    from diagnose.derive.all import TOGETHER

    of = consultant(given.get("--rules"), given["--units"])
    if name is None:
        _list(of)
        return 0
    plain = name.replace("-", " ").casefold()
    named = {c.name.replace("-", " "): c.name for c in of.resolver.calculators}
    asked = TOGETHER.get(plain) or (named.get(plain, plain),)
    if plot is not None:
        plots.check(plot, [of.resolver.by_name(n) for n in asked], of)
    told = told_on_the_line(of, inputs)
    found, refused = _run(of, asked, told)
    found = _with_results(of, found)
    drawn = {} if as_json and plot is None else plots.pictures(of, told, found)
    # The file comes first: a reader that goes away while the text is shown does not lose it.
    written = plots.write(drawn, found, plot) if plot is not None and found else ""
    if as_json:
        whole = [_as_json(of, done) for done in found]
        sys.stdout.write(json.dumps(whole[0] if len(whole) == 1 else whole, ensure_ascii=False, indent=1) + "\n")
    else:
        _show_all(of, found, drawn)
    for calculator, why in refused.items():
        click.echo(f"{calculator}: {of.show.refusal(why).message()}", err=True)
    if written:
        click.echo(written, err=as_json)
    return 0 if found else 2


def _run(of: Consultant, asked: Sequence[str], told: Mapping[str, Any]) -> tuple[list[Computed], dict[str, OutOfRange]]:
    """Return what some calculators find and what others refuse; raise why when none can, in the person's units."""
    from diagnose.errors import OutOfRange

    try:
        return of.resolver.run_together(asked, told)
    except OutOfRange as error:
        raise of.show.refusal(error) from error


def _show_all(of: Consultant, found: Sequence[Computed], drawn: Mapping[str, Picture]) -> None:
    left = dict(drawn)
    for n, done in enumerate(found):
        if n:
            click.echo()
        _show(of, done, left.pop(done.calculator.drawing, None))


def _with_results(of: Consultant, found: Sequence[Computed]) -> list[Computed]:
    """Leave out those that found nothing; raise BadInput with what they say when nothing else is left."""
    from diagnose.errors import BadInput

    empty = [done for done in found if not done.results]
    if empty and len(empty) == len(found):
        name = empty[0].calculator.name
        raise BadInput("nothing could be computed.", where=f"calc {name}", next_step=" ".join(sentences(of, empty[0])))
    return [done for done in found if done.results]


def _list(of: Consultant) -> None:
    from diagnose.derive.all import TOGETHER

    click.echo("Together: " + ", ".join(f"{name} ({len(parts)} calculators)" for name, parts in TOGETHER.items()))
    for c in sorted(of.resolver.calculators, key=lambda c: STAGES.index(c.stage)):
        click.echo(f"{c.stage:11} {c.name.replace(' ', '-'):36} {c.title}")


def told_on_the_line(of: Consultant, inputs: Sequence[str]) -> dict[str, Any]:
    """Return the facts that `name=value` pairs tell, and show from now on in the units most of them are written in.

    Raises BadInput for what cannot be meant.
    """
    from diagnose.errors import BadInput
    from diagnose.model.case import Case, Recorded
    from diagnose.rulebase.cases import fact_value

    told: dict[str, Any] = {}
    written: dict[str, Recorded] = {}
    for pair in inputs:
        key, sep, value = pair.partition("=")
        if not sep:
            raise BadInput(f"'{pair}' is not name=value.", where="calc", next_step="For example: cure-time=60min")
        name = of.base.words.named(key)
        told[name] = _any_fact(of, name, value)
        if told[name] is None:
            found = fact_value(of.base, name, value)
            told[name] = found.value if isinstance(found, Recorded) else found
            if isinstance(found, Recorded):
                written[name] = found
    of.show.follow(Case(settings=written))
    return told


def _any_fact(of: Consultant, name: str, value: str) -> Any:
    """Return a derived fact or a material property given by hand, or None for anything else."""
    from diagnose import units

    thing = of.base.words.derived.get(name) or of.base.words.property_of(name)
    if thing is None:
        return None
    if thing.dimension == "answer":
        return value
    unit = thing.unit_us if of.show.system == "us" else thing.unit_metric
    return units.must_read(value, thing.dimension, unit, _believable(of, name), name=name).si


def _believable(of: Consultant, name: str) -> tuple[float, float] | None:
    """Return the range in which a material property typed by hand is believed: far wider than any known material."""
    for slot in of.base.words.slots.values():
        known = slot.span(name[len(slot.name) + 1 :]) if name.startswith(f"{slot.name} ") else None
        if known is not None and of.base.words.property_of(name) is not None:
            low, high = known
            reach = max(high - low, 0.5 * max(abs(low), abs(high)))
            # What is above zero in every material stays above zero.
            return (low / 20.0 if low > 0.0 else low - reach, high + 20.0 * reach)
    return None


def _spread(of: Consultant, done: Computed) -> dict[str, tuple[str, str]]:
    """Return the ends of each result's range in words, where they differ."""
    found = done.spread if done.assumed else {}
    digits = _digits(done)
    ends = {n: (of.show.value(n, a, digits[n]), of.show.value(n, b, digits[n])) for n, (a, b) in found.items() if a < b}
    return {n: (a, b) for n, (a, b) in ends.items() if a != b}


def _digits(done: Computed) -> dict[str, int]:
    """Return how many digits of each result mean something, given what the assumed inputs leave open."""
    from diagnose.consult.show import digits_known

    return {n: digits_known(a, b) for n, (a, b) in done.spread.items()} if done.assumed else {}


def _show(of: Consultant, done: Computed, picture: Picture | None) -> None:
    from diagnose.cli.plot import beside
    from diagnose.cli.screen import put
    from diagnose.consult.present import source_words
    from diagnose.report.screen_lines import Line, Page

    digits = _digits(done)

    def lines(width: int) -> list[Line]:
        page, spread = Page(width), _spread(of, done)
        page.head(done.calculator.title)
        for name in done.inputs:
            if name in done.assumed:
                continue
            page.item(f"{name}: {of.show.value(name, done.inputs[name])}")
        for name, a in done.assumed.items():
            bounds = f", bounds {of.show.value(name, a.low)} to {of.show.value(name, a.high)}" if a.low < a.high else ""
            page.item(f"assumed {name}: {of.show.value(name, a.value)}{bounds} ({source_words(of, a.source)})")
        page.head("Result")
        for name, value in done.results.items():
            span = f"   ({spread[name][0]} to {spread[name][1]} with the assumed bounds)" if name in spread else ""
            page.say(f"{name}: {of.show.value(name, value, digits.get(name, 3))}{span}", 0, 3)
        for text in sentences(of, done):
            page.say(text)
        if picture is not None:
            page.head(picture.title)
            page.lines += [Line(text) for text in beside(picture, page.width)]
        page.say("Sources: " + "; ".join(source_words(of, s) for s in done.calculator.sources), style="faint")
        return page.lines

    put(lines)


def sentences(of: Consultant, done: Computed) -> list[str]:
    """Return the calculator's plain sentences with each fact's value put in."""
    facts = {**done.inputs, **done.results}
    return [of.show.filled(text, facts, _digits(done)) for text in done.calculator.says(facts)]


def _as_json(of: Consultant, done: Computed) -> dict[str, Any]:
    spread, digits = _spread(of, done), _digits(done)
    return {
        "schema_version": 1, "calculator": done.calculator.name,
        "inputs": {n: {"value": of.show.value(n, v), "si": v} for n, v in done.inputs.items() if n not in done.assumed},
        "assumed": {
            n: {"value": of.show.value(n, a.value), "si": a.value, "low": a.low, "high": a.high, "source": a.source}
            for n, a in done.assumed.items()
        },
        "results": {
            n: {"value": of.show.value(n, v, digits.get(n, 3)), "si": v, "range": list(spread.get(n, ()))}
            for n, v in done.results.items()
        },
        "says": sentences(of, done), "sources": list(done.calculator.sources),
    }  # fmt: skip
