"""`fixturegen calc`: quick bench answers without a sheet."""

from __future__ import annotations

from collections.abc import Mapping
from difflib import get_close_matches
from typing import Any

import click

from fixturegen.calc import Columns, Option, Reply, Topic, ask, topic, topic_names, topics
from fixturegen.cli.console import envelope, say, say_json
from fixturegen.errors import EXIT_OK, Fault, InputFault
from fixturegen.units import Dimension, Measure, as_shop

_WIDTH = 10


def _usage_fault(error: click.UsageError, name: str, options: tuple[Option, ...]) -> InputFault:
    """A fault in our words for what click says about the command line."""
    allowed = ", ".join(f"--{option.name}" for option in options) or "no options"
    if isinstance(error, click.NoSuchOption):
        given = error.option_name
        near = get_close_matches(given, [f"--{o.name}" for o in options], n=1)
        remedy = f"did you mean {near[0]}" if near else f"see `fixturegen calc {name} --help`"
        return InputFault(Fault(given, "an option that is not known", allowed, remedy))
    remedy = f"{error.format_message().rstrip('.')}; see `fixturegen calc {name} --help`"
    return InputFault(Fault(f"calc {name}", "", allowed, remedy))


class _TopicCommand(click.Command):
    """A topic as a sub-command; whatever is wrong with its line comes out as one fault."""

    def __init__(self, found: Topic) -> None:
        self.found = found
        options: list[click.Parameter] = [
            click.Option([f"--{o.name}", o.parameter], multiple=True, help=_help(o), metavar="TEXT")
            for o in found.options
        ]
        options.append(click.Option(["--json", "as_json"], is_flag=True, help="one JSON object"))
        super().__init__(
            found.name,
            params=options,
            callback=self.answer,
            help=found.summary + ".",
            epilog=f"Example: fixturegen calc {found.name} {found.example}",
        )

    def parse_args(self, ctx: click.Context, args: list[str]) -> list[str]:
        """The command line read, or refused in our words."""
        try:
            return super().parse_args(ctx, args)
        except click.UsageError as error:
            raise _usage_fault(error, self.found.name, self.found.options) from error

    def answer(self, as_json: bool, **texts: tuple[str, ...]) -> None:
        """Ask the topic and print what it answers.

        Raises:
            InputFault: When an option is wrong, missing or given twice.
        """
        name = {o.parameter: o.name for o in self.found.options}
        twice = [
            Fault(f"--{name[parameter]}", " and ".join(given), "one value", "give it once")
            for parameter, given in texts.items()
            if len(given) > 1
        ]
        if twice:
            raise InputFault(*twice)
        reply = ask(self.found.name, {name[p]: given[0] for p, given in texts.items() if given})
        if as_json or click.get_current_context().obj:
            say_json(reply_json(reply))
        else:
            say(reply_text(reply))


def _help(option: Option) -> str:
    """One option in a line: what it is and what may be given."""
    words = option.help.rstrip(".")
    default = "" if option.default is None else f"; taken as {_shown(option, option.default)}"
    return f"{words}. {option.allowed}{default}"


class _Topics(click.Group):
    """All topics; each is loaded only when it is asked for."""

    def list_commands(self, ctx: click.Context) -> list[str]:
        """Names of the topics."""
        return list(topic_names())

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:
        """The command of one topic."""
        return _TopicCommand(topic(cmd_name)) if cmd_name in topic_names() else None

    def resolve_command(
        self, ctx: click.Context, args: list[str]
    ) -> tuple[str | None, click.Command | None, list[str]]:
        """The topic asked for, or a fault with the names there are."""
        if args and args[0] not in topic_names():
            topic(args[0])
        return super().resolve_command(ctx, args)


@click.group(cls=_Topics, invoke_without_command=True, name="calc")
@click.option("--json", "as_json", is_flag=True, help="one JSON object")
@click.pass_context
def command(ctx: click.Context, as_json: bool) -> None:
    """Quick bench answers without a sheet: without a name, the list of topics.

    Values are written as in the shop, in quotes: "5 1/2 in", "17 deg", "3.500 in".
    """
    ctx.obj = as_json  # `calc --json TOPIC` and `calc TOPIC --json` mean the same
    if ctx.invoked_subcommand is not None:
        return
    found = topics()
    if as_json:
        listed = [
            {
                "name": t.name,
                "summary": t.summary,
                "options": [_option_json(o) for o in t.options],
                "results": {name: _unit(kind) for name, kind in t.results.items()},
            }
            for t in found
        ]
        say_json(envelope("calc", EXIT_OK, topics=listed))
        return
    wide = max(len(t.name) for t in found)
    say("Bench answers; ask one by name, `fixturegen calc NAME --help` says what it takes.\n")
    for t in found:
        say(f"  {t.name:{wide}}  {t.summary}")
        say(f"  {'':{wide}}  {' '.join(f'--{o.name}' for o in t.options)}")


def _option_json(option: Option) -> dict[str, Any]:
    """One option as JSON."""
    return {
        "name": option.name,
        "help": option.help,
        "allowed": option.allowed,
        "unit": option.dimension.unit if option.dimension else "",
        "required": option.default is None,
    }


def _unit(kind: Dimension | Columns | None) -> Any:
    """The unit of a result; a table has one for each column, a text none."""
    if isinstance(kind, Columns):
        return dict(kind.columns)
    return kind.unit if kind else ""


def reply_json(reply: Reply) -> dict[str, Any]:
    """A reply as the one object of `--json`."""
    dimension = {o.name: o.dimension for o in reply.topic.options}
    inputs = {}
    for name, value in reply.inputs.items():
        inputs[name] = {
            "value": float(value) if dimension[name] else value,
            "unit": _unit(dimension[name]),
            "given": value.text if isinstance(value, Measure) else str(value),
            "assumed": name in reply.assumed,
        }
    results = {
        name: {"value": _value(getattr(reply.answer, name), kind), "unit": _unit(kind)}
        for name, kind in reply.topic.results.items()
    }
    return envelope(
        "calc",
        EXIT_OK,
        topic=reply.topic.name,
        inputs=inputs,
        results=results,
        formula=reply.answer.formula,
        source=reply.answer.source,
        trust=str(reply.trust),
        warnings=list(reply.warnings),
    )


def _value(value: Any, kind: Dimension | Columns | None) -> Any:
    """A result as JSON takes it; a table becomes a list of objects."""
    if isinstance(kind, Columns):
        names = [name for name, _ in kind.columns]
        return [dict(zip(names, row, strict=True)) for row in value]
    return float(value) if kind else value


def _shown(option: Option, value: Any) -> str:
    """An input in the person's own words, or a default in the shop's."""
    if isinstance(value, Measure) or option.dimension is None:
        return value.text if isinstance(value, Measure) else str(value)
    return as_shop(float(value), option.dimension.kind)


def _result_lines(name: str, value: Any, kind: Dimension | Columns | None) -> list[str]:
    """A result in words; a table in lines of its own."""
    words = name.replace("_", " ")
    if isinstance(kind, Columns):
        heads = [f"{column} [{unit}]" if unit else column for column, unit in kind.columns]
        rows = [[_cell(v) for v in row] for row in value]
        wide = [max(len(r[i]) for r in [heads, *rows]) for i in range(len(heads))]
        return [
            f"{words}:",
            *("  " + "  ".join(f"{c:>{w}}" for c, w in zip(r, wide, strict=True)) for r in [heads, *rows]),
        ]
    return [f"{words}: {as_shop(float(value), kind.kind) if kind else value}"]


def _cell(value: object) -> str:
    """One cell of a table."""
    return f"{value:.6g}" if isinstance(value, float) else str(value)


def reply_text(reply: Reply) -> str:
    """A reply in the words of the shop."""
    options: Mapping[str, Option] = {o.name: o for o in reply.topic.options}
    given = [
        f"{name.replace('-', ' ')}: {_shown(options[name], value)}"
        + (" (assumed, not given)" if name in reply.assumed else "")
        for name, value in reply.inputs.items()
    ]
    answers = [
        line
        for name, kind in reply.topic.results.items()
        for line in _result_lines(name, getattr(reply.answer, name), kind)
    ]
    blocks = [
        ("given", given),
        ("answer", answers),
        ("formula", reply.answer.formula.split("; ")),
        ("source", reply.answer.source.split("; ")),
        ("trust", [str(reply.trust).replace("_", " ")]),
        ("note", list(reply.warnings)),
    ]
    lines = [f"{reply.topic.summary}."]
    for head, body in blocks:
        for i, line in enumerate(body):
            lines.append(f"  {head if i == 0 else '':{_WIDTH}}{line}")
    return "\n".join(lines)
