"""`diagnose help`: the help pages, and what a word means."""

from __future__ import annotations

import click


@click.command("help")
@click.argument("words", nargs=-1, metavar="[PAGE or WORD]")
@click.pass_obj
def help_command(given: dict[str, str], words: tuple[str, ...]) -> int:
    """Show a help page, or say what a word of the trade means."""
    from diagnose.cli.screen import put
    from diagnose.report.topics import contents_lines, topic_lines, topics

    asked = " ".join(words)
    if not asked:
        put(contents_lines)
    elif asked.casefold() in topics():
        put(lambda width: topic_lines(asked.casefold(), width))
    else:
        return _word(given, asked)
    return 0


def _word(given: dict[str, str], asked: str) -> int:

    from diagnose.cli.base import rules_base
    from diagnose.cli.screen import put
    from diagnose.consult.meaning import Meanings
    from diagnose.consult.show import Shower
    from diagnose.errors import BadInput
    from diagnose.report.topics import topics
    from diagnose.report.words import meaning_lines

    base = rules_base(given.get("--rules"))
    meanings = Meanings(base)
    found = meanings.of(asked)
    if not found:
        near = meanings.like(asked)
        pages = f"Help pages: {', '.join(topics())}."
        raise BadInput(
            f"'{asked:.40}' is neither a help page nor a word that is explained.",
            next_step=f"Near it: {', '.join(near)}. {pages}" if near else pages,
        )
    put(lambda width: meaning_lines(found, width, Shower(base, given["--units"]).says))
    return 0
