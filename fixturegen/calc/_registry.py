"""Finding topics by their files, reading their options, asking them."""

from __future__ import annotations

import inspect
import pkgutil
import re
import shlex
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, fields
from difflib import get_close_matches
from functools import cache
from importlib import import_module
from types import MappingProxyType, ModuleType
from typing import Annotated, Any, Literal, get_args, get_origin, get_type_hints

from fixturegen.calc._answer import Answer, Columns
from fixturegen.errors import Fault, InputFault, ProgramFault
from fixturegen.findings import Trust, weakest
from fixturegen.units import BadQuantity, Count, Dimension, as_text, limits, parse

_PACKAGE = "fixturegen.calc"


@dataclass(frozen=True)
class Option:
    """One parameter of a topic, as it is asked for.

    Attributes:
        name: On the command line, without the dashes.
        parameter: In the function.
        dimension: What it measures; None for a text or a choice.
        choices: What may be chosen; empty when it is no choice.
        default: Value when it is not given; None when it must be given.
        help: In words.
        sample: Something that may be given.
    """

    name: str
    parameter: str
    dimension: Dimension | None
    choices: tuple[str, ...]
    default: Any
    help: str
    sample: str

    @property
    def allowed(self) -> str:
        """What may be given, in words."""
        if self.dimension is not None:
            return self.dimension.allowed()
        return " or ".join(self.choices) or "a text"


@dataclass(frozen=True)
class Topic:
    """One bench answer that can be asked for.

    Attributes:
        name: On the command line.
        summary: What comes back, in one line.
        options: What must or may be given.
        example: Options and values that can be typed as they stand.
        results: Names of the results, with dimension or table columns (None for a text).
        function: The formula itself.
    """

    name: str
    summary: str
    options: tuple[Option, ...]
    example: str
    results: Mapping[str, Dimension | Columns | None]
    function: Callable[..., Answer]


@dataclass(frozen=True)
class Reply:
    """A topic, what it was given and what it answered.

    Attributes:
        topic: The topic.
        inputs: By option name; a `Measure`, a text or a default.
        assumed: Names of the options that took part and were not given.
        answer: The result.
        trust: Of the answer, ASSUMED when a default went in.
        warnings: Of the answer, and a line for every default.
    """

    topic: Topic
    inputs: Mapping[str, Any]
    assumed: tuple[str, ...]
    answer: Answer
    trust: Trust
    warnings: tuple[str, ...]


def topic_names() -> tuple[str, ...]:
    """The names of all topics, in alphabetical order, without loading any."""
    folder = import_module(_PACKAGE).__path__
    names = (m.name for m in pkgutil.iter_modules(folder) if not m.name.startswith("_"))
    return tuple(sorted(name.replace("_", "-") for name in names))


def topics() -> tuple[Topic, ...]:
    """All topics, in alphabetical order."""
    return tuple(topic(name) for name in topic_names())


def topic(name: str) -> Topic:
    """One topic.

    Raises:
        InputFault: When there is none of that name.
        ProgramFault: When its file does not hold a topic.
    """
    names = topic_names()
    if name not in names:
        near = get_close_matches(name, names, n=1)
        remedy = f"did you mean {near[0]}" if near else "see `fixturegen calc`"
        raise InputFault(Fault("calc", name, ", ".join(names), remedy))
    return _topic_of(import_module(f"{_PACKAGE}.{name.replace('-', '_')}"))


def ask(name: str, given: Mapping[str, str]) -> Reply:
    """What a topic answers to texts as people write them.

    Args:
        name: Name of the topic.
        given: Text by option name, without the dashes.

    Raises:
        InputFault: With every option that is wrong, missing or unknown.
    """
    found = topic(name)
    known = {option.name: option for option in found.options}
    faults: list[Fault] = []
    values: dict[str, Any] = {}
    for extra in sorted(set(given) - set(known)):
        near = get_close_matches(extra, known, n=1)
        remedy = f"did you mean --{near[0]}" if near else f"see `fixturegen calc {name} --help`"
        faults.append(Fault(f"--{extra}", given[extra], _dashed(known), remedy))
    for option in found.options:
        if option.name in given:
            _take(option, given[option.name], values, faults)
        elif option.default is not None:
            values[option.name] = option.default
        else:
            remedy = f'give it, like --{option.name} "{option.sample}"'
            faults.append(Fault(f"--{option.name}", "nothing", option.allowed, remedy))
    if faults:
        raise InputFault(*faults)
    answer = found.function(**{known[key].parameter: value for key, value in values.items()})
    _check(found, answer)
    left_out = [option.name for option in found.options if option.name not in given]
    assumed = tuple(name for name in left_out if name not in answer.unused)
    used = {key: value for key, value in values.items() if key in given or key in assumed}
    trust = weakest(answer.trust, *((Trust.ASSUMED,) if assumed else ()))
    said = [f"--{key} was not given: taken as {_default(known[key])}" for key in assumed]
    said += [f"--{key} takes no part in this answer" for key in answer.unused if key in given]
    return Reply(found, MappingProxyType(used), assumed, answer, trust, (*said, *answer.warnings))


def _default(option: Option) -> str:
    """The default of an option in words."""
    if option.dimension is None:
        return str(option.default)
    return as_text(float(option.default), option.dimension.kind, option.dimension.unit)


def _dashed(names: Iterable[str]) -> str:
    """Option names as they are typed."""
    return ", ".join(f"--{name}" for name in names)


def _take(option: Option, text: str, values: dict[str, Any], faults: list[Fault]) -> None:
    """Put the value of one option among the values, or its fault among the faults."""
    key = f"--{option.name}"
    if option.dimension is not None:
        try:
            values[option.name] = parse(text, option.dimension)
        except BadQuantity as bad:
            faults.append(Fault(key, bad.given, bad.allowed, bad.remedy))
    elif option.choices and text not in option.choices:
        near = get_close_matches(text.strip().lower(), option.choices, n=1)
        remedy = f"did you mean {near[0]}" if near else "choose one of these"
        faults.append(Fault(key, text.strip() or "nothing", option.allowed, remedy))
    elif not text.strip():
        faults.append(Fault(key, "an empty text", option.allowed, "write it out"))
    else:
        values[option.name] = text


def _check(found: Topic, answer: Answer) -> None:
    """Refuse an answer outside the range in which the formula is meant.

    Raises:
        InputFault: When a result leaves its range.
    """
    faults = []
    for name, dimension in found.results.items():
        if not isinstance(dimension, Dimension):
            continue
        value, (low, high) = float(getattr(answer, name)), limits(dimension)
        if not low <= value <= high:
            shown = f"{name} of {as_text(value, dimension.kind, dimension.unit)}"
            remedy = "the answer leaves the range this is meant for: check what was given"
            faults.append(Fault(found.name, shown, dimension.allowed(), remedy))
    if faults:
        raise InputFault(*faults)


@cache
def _topic_of(module: ModuleType) -> Topic:
    """The topic a module holds.

    Raises:
        ProgramFault: When it holds none, or more than one.
    """
    public = [
        thing
        for name, thing in vars(module).items()
        if inspect.isfunction(thing) and thing.__module__ == module.__name__ and not name.startswith("_")
    ]
    if len(public) != 1:
        raise ProgramFault(f"{module.__name__} must hold one public function, not {len(public)}")
    function = public[0]
    hints = get_type_hints(function, include_extras=True)
    result = hints.pop("return", None)
    if not (inspect.isclass(result) and issubclass(result, Answer)):
        raise ProgramFault(f"{function.__name__} must return an Answer")
    words, example = _arguments(function), _example(function)
    typed = shlex.split(example)
    samples = dict(zip(typed[::2], typed[1::2], strict=False))
    options = tuple(
        _option(parameter, hints[parameter.name], words.get(parameter.name, ""), samples)
        for parameter in inspect.signature(function).parameters.values()
    )
    kept = {field.name for field in fields(Answer)}
    results = {
        name: _marker(hint) for name, hint in get_type_hints(result, include_extras=True).items() if name not in kept
    }
    summary = (inspect.getdoc(function) or "").partition("\n")[0].rstrip(".")
    name = module.__name__.rpartition(".")[2].replace("_", "-")
    return Topic(name, summary, options, example, MappingProxyType(results), function)


def _marker(hint: Any) -> Dimension | Columns | None:
    """The dimension or the columns an annotation carries; None for a plain text."""
    for extra in get_args(hint)[1:] if get_origin(hint) is Annotated else ():
        if isinstance(extra, Dimension | Columns):
            return extra
    return None


def _option(parameter: inspect.Parameter, hint: Any, words: str, samples: Mapping[str, str]) -> Option:
    """The option a parameter is asked for by."""
    marker = _marker(hint)
    bare = get_args(hint)[0] if get_origin(hint) is Annotated else hint
    if bare is int and not isinstance(marker, Count):
        raise ProgramFault(f"{parameter.name}: a whole number is marked Count")
    name = parameter.name.removesuffix("_").replace("_", "-")
    return Option(
        name=name,
        parameter=parameter.name,
        dimension=marker if isinstance(marker, Dimension) else None,
        choices=tuple(str(c) for c in get_args(bare)) if get_origin(bare) is Literal else (),
        default=None if parameter.default is parameter.empty else parameter.default,
        help=words,
        sample=samples.get(f"--{name}", marker.example if isinstance(marker, Dimension) else "..."),
    )


def _example(function: Callable[..., Any]) -> str:
    """What the docstring gives as an example, in one line."""
    text = inspect.getdoc(function) or ""
    found = re.search(r"^Example: (.*(?:\n[ ]{4}.*)*)", text, re.MULTILINE)
    return re.sub(r"\s*\n\s*", " ", found.group(1).strip()) if found else ""


def _arguments(function: Callable[..., Any]) -> dict[str, str]:
    """What the docstring says about each argument."""
    text = inspect.getdoc(function) or ""
    block = re.search(r"^Args:\n((?:[ ]+.*\n?|\n)+)", text, re.MULTILINE)
    found: dict[str, str] = {}
    name = ""
    for line in block.group(1).splitlines() if block else ():
        if start := re.match(r" {4}(\w+): (.*)", line):
            name = start.group(1)
            found[name] = start.group(2).strip()
        elif name and line.strip():
            found[name] += " " + line.strip()
    return found
