"""Turns promises of DEVELOPERS.md into checks: modules named, functions small, tests told in a sentence."""

import ast
import re
import statistics
from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.agreement.modules import PAGE, ROOT, modules, page_with_list, sentence

LONGEST_FILE, LONGEST_BODY, P90_BODY, MEDIAN_BODY = 400, 40, 20, 6


def functions(path: Path) -> Iterator[ast.FunctionDef]:
    """Every function and method of a module."""
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.FunctionDef):
            yield node


def body_lines(function: ast.FunctionDef) -> int:
    """Lines of a function's body, its docstring left out."""
    body = function.body[1:] if ast.get_docstring(function) is not None else function.body
    return 0 if not body else (body[-1].end_lineno or 0) - body[0].lineno + 1


def test_the_list_of_modules_is_fresh() -> None:
    """The list in DEVELOPERS.md is the one made from the modules' own docstrings."""
    assert page_with_list() == PAGE.read_text(encoding="utf-8")


@pytest.mark.parametrize("path", modules(), ids=lambda p: str(p.relative_to(ROOT)))
def test_a_module_says_what_it_turns_into_what(path: Path) -> None:
    """A module opens by saying what it turns into what, or what it defines."""
    assert re.match(r"(Turns .+ into |Defines )", sentence(path))


def test_no_file_is_long() -> None:
    """A file holds one idea."""
    long = {str(p): n for p in modules() if (n := p.read_text().count("\n")) > LONGEST_FILE}
    assert long == {}


def test_functions_are_small() -> None:
    """Half the bodies fit in a few lines, nine in ten on a short screen, and none goes past one."""
    sizes = {f"{p.name}:{f.name}": body_lines(f) for p in modules() for f in functions(p)}
    ordered = sorted(sizes.values())
    assert statistics.median(ordered) <= MEDIAN_BODY
    assert ordered[int(0.9 * len(ordered))] <= P90_BODY
    assert {name: n for name, n in sizes.items() if n > LONGEST_BODY} == {}


def test_every_file_the_page_names_exists() -> None:
    """A path between backticks in DEVELOPERS.md leads somewhere."""
    text = PAGE.read_text(encoding="utf-8").partition("<!-- modules")[0]
    named = re.findall(r"`((?:[a-z_]+/)*[a-z_]+\.(?:py|yaml|toml|md))`", text)
    homes = (ROOT, ROOT / "inspect_report", ROOT / "inspect_report" / "knowledge")
    assert [n for n in named if not any((home / n).exists() for home in homes)] == []


def test_every_test_has_a_sentence() -> None:
    """A test's docstring says in one sentence what must hold."""
    bare = [
        f"{path.relative_to(ROOT)}:{f.name}"
        for path in sorted((ROOT / "tests").rglob("test_*.py"))
        for f in functions(path)
        if f.name.startswith("test_") and not ast.get_docstring(f)
    ]
    assert bare == []
