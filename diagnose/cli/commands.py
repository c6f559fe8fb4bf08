"""The subcommands, each: parse, one call, show. Their code is imported when they run."""

from __future__ import annotations

import importlib
from types import MappingProxyType

import click


class Lazy(click.Group):
    """A group whose commands live in modules that are imported when named."""

    homes = MappingProxyType(
        {
            "case": "case",
            "calc": "calc",
            "help": "help",
            "library": "library",
            "rules": "rules",
            "schema": "schema",
            "teach": "teach",
            "where": "library",
        }
    )

    def list_commands(self, ctx: click.Context) -> list[str]:
        """Return the command names."""
        return sorted(self.homes)

    def get_command(self, ctx: click.Context, name: str) -> click.Command | None:
        """Return a command by name, importing its module."""
        if name not in self.homes:
            return None
        module = importlib.import_module(f"diagnose.cli.{self.homes[name]}")
        command: click.Command = getattr(module, f"{name}_command")
        return command

    def resolve_command(
        self, ctx: click.Context, args: list[str]
    ) -> tuple[str | None, click.Command | None, list[str]]:
        """Resolve a command, suggesting the nearest name for a mistyped one."""
        if args and args[0] not in self.homes:
            from diagnose.rulebase.cursor import suggest

            hint = suggest(args[0], self.homes) or f"There are: {', '.join(sorted(self.homes))}."
            ctx.fail(f"there is no command '{args[0]}'. {hint}")
        return super().resolve_command(ctx, args)


@click.group(cls=Lazy, invoke_without_command=True, context_settings={"help_option_names": ["-h", "--help"]})
@click.option("--units", type=click.Choice(["us", "metric"]), help="Units of the output; else those you write in.")
@click.option("--rules", type=click.Path(), help="Another rules folder than the one that came with the program.")
@click.option("--library", type=click.Path(), help="The folder where cases are kept.")
@click.option("--without-shop", is_flag=True, help="Leave out what this shop's confirmed cases taught.")
@click.version_option(package_name="second-pour", prog_name="diagnose")
@click.pass_context
def cli(ctx: click.Context, units: str | None, rules: str | None, library: str | None, without_shop: bool) -> None:
    """Find out what went wrong with a rubber mold, a wax or a casting, and what to set next time.

    \b
    diagnose                                   asks you about a bad part
    diagnose case bad-ring.yaml                diagnoses a recorded case
    diagnose calc cure rubber-thickness=1in cure-time=45min platen-temperature=307F
    diagnose library list                      the cases kept so far
    """
    given = {
        "--units": units or "",
        **({"--rules": rules} if rules else {}),
        **({"--library": library} if library else {}),
    }
    if without_shop:
        given["--without-shop"] = "yes"
    ctx.obj = given
    if ctx.invoked_subcommand is None:
        from diagnose.cli.talk import talk

        ctx.exit(talk(given))


def run(arguments: list[str]) -> int:
    """Run the command line and return its exit code; usage errors are one message and code 2."""
    from diagnose.cli.wrap import tell

    try:
        result = cli.main(args=arguments, prog_name="diagnose", standalone_mode=False)
    except click.exceptions.Exit as exit_:
        return exit_.exit_code
    except click.exceptions.Abort:
        return 130
    except click.ClickException as error:
        tell(f"diagnose: {error.format_message()}")
        return 2
    return result if isinstance(result, int) else 0
