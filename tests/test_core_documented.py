"""A house rule that tests itself: a formula names its arguments, its unit and its source."""

import ast
import re
from collections.abc import Iterator
from pathlib import Path

import pytest

ROOT = Path(__file__).parent.parent
CORES = (ROOT / "properties" / "core", ROOT / "planner" / "core")
SECTIONS = ("Parameters", "Returns", "Raises", "References")

Function = ast.FunctionDef | ast.AsyncFunctionDef


def modules() -> Iterator[tuple[str, ast.Module]]:
    """Every module of both cores, by its path from the root."""
    for core in CORES:
        for path in sorted(core.rglob("*.py")):
            yield str(path.relative_to(ROOT)), ast.parse(path.read_text(encoding="utf-8"))


def public_functions() -> Iterator[tuple[str, Function]]:
    """Every public function that stands by itself in a module."""
    for name, module in modules():
        for node in module.body:
            if isinstance(node, Function) and not node.name.startswith("_"):
                yield f"{name}:{node.name}", node


def sections_of(function: Function) -> list[tuple[str, str]]:
    """The headings of a docstring with the text under each, in order."""
    doc = ast.get_docstring(function) or ""
    return re.findall(r"^(\w+)\n-{3,}\n(.*?)(?=^\w+\n-{3,}\n|\Z)", doc, re.MULTILINE | re.DOTALL)


def taken_by(function: Function) -> list[str]:
    """The names of all arguments in the order of the signature."""
    arguments = function.args
    several = [one for one in (arguments.vararg, arguments.kwarg) if one is not None]
    plain = [*arguments.posonlyargs, *arguments.args]
    ordered = [*plain, *several[: arguments.vararg is not None], *arguments.kwonlyargs]
    last = [] if arguments.kwarg is None else [arguments.kwarg]
    return [argument.arg for argument in [*ordered, *last]]


def told_by(parameters: str) -> list[str]:
    """The names that a section tells of; several may share a line."""
    lines = re.findall(r"^([\w*, ]+?) : ", parameters, re.MULTILINE)
    return [name.strip().lstrip("*") for line in lines for name in line.split(",")]


FUNCTIONS = [pytest.param(function, id=name) for name, function in public_functions()]
MODULES = [pytest.param(module, id=name) for name, module in modules() if module.body]


@pytest.mark.parametrize("function", FUNCTIONS)
def test_a_formula_has_a_sentence_and_every_section_in_order(function: Function) -> None:
    doc = ast.get_docstring(function) or ""
    headings = [heading for heading, _ in sections_of(function)]

    assert re.match(r"[^\n]+[.?]($|\n\n)", doc), "the first line is not a sentence"
    wanted = SECTIONS if taken_by(function) else SECTIONS[1:]
    assert [heading for heading in headings if heading in SECTIONS] == list(wanted)
    assert all(text.strip() for _, text in sections_of(function))


@pytest.mark.parametrize("function", FUNCTIONS)
def test_a_formula_tells_of_each_argument_in_order_with_its_unit(function: Function) -> None:
    parameters = dict(sections_of(function)).get("Parameters", "")

    assert told_by(parameters) == taken_by(function)
    descriptions = re.split(r"^\S.* : .*$", parameters, flags=re.MULTILINE)[1:]
    assert all(re.search(r"\[.+?\]\s*$", text.strip()) for text in descriptions), "no unit"


@pytest.mark.parametrize("function", FUNCTIONS)
def test_the_result_of_a_formula_has_a_unit(function: Function) -> None:
    assert re.search(r"\[.+\]", dict(sections_of(function)).get("Returns", "")), "no unit"


@pytest.mark.parametrize("module", MODULES)
def test_a_module_says_first_what_it_is_for(module: ast.Module) -> None:
    first = (ast.get_docstring(module) or "").splitlines()

    assert first, "no docstring"
    assert re.fullmatch(r"\S.+[.?:]", first[0]), "the first line is not a sentence"


def test_there_are_formulas_to_look_at() -> None:
    assert len(FUNCTIONS) > 50
