"""Every quantity has a page that tells how it is measured, by which formula, how surely, on what source."""

import re
from pathlib import Path

import pytest

from inspect_report.cli import main
from inspect_report.knowledge.shelf import load
from inspect_report.measure.formulas import FORMULAS
from inspect_report.measure.measuring import measure
from inspect_report.measure.ways import WAYS
from inspect_report.places import methods_dir
from inspect_report.report.methodbook import INDEX, METHODS, files
from inspect_report.report.methods import UnknownMethod, method_list, method_page
from tests.samples import SAMPLES, sample_inspections

HEADS = ("How it is measured", "Formula", "Range of validity", "Uncertainty", "Source")
MADE = files()
QUANTITIES = sorted(name.removesuffix(".md") for name in MADE if name != INDEX and name[:-3] not in METHODS)


def test_pages_are_fresh() -> None:
    """The folder holds what checklists, catalogue and docstrings give, no page more and none less."""
    found = {path.name: path.read_text(encoding="utf-8") for path in methods_dir().glob("*.md")}
    assert found == MADE, "run python -m inspect_report.report.methodbook"


def test_every_way_of_measuring_has_its_formulas() -> None:
    """A characteristic that is made by a formula names it for its page."""
    assert set(FORMULAS) == set(WAYS)


@pytest.mark.parametrize("path", sample_inspections(), ids=lambda p: str(p.relative_to(SAMPLES)))
def test_formula_of_a_result_is_one_its_page_tells(path: Path) -> None:
    """What a sample's quantity names as its formula stands on the page of that quantity."""
    computed = [q for q in measure(load(path)).quantities if q.formula != "reading"]
    assert computed
    for derived in computed:
        assert f"(`{derived.formula}`)" in MADE[f"{derived.characteristic}.md"], derived.id


@pytest.mark.parametrize("name", QUANTITIES)
def test_page_has_all_its_parts(name: str) -> None:
    """Title, how it is measured, formula, range, uncertainty and source, each with something below it."""
    parts = re.split(r"^## (.*)$", MADE[f"{name}.md"], flags=re.MULTILINE)
    assert parts[0].startswith("# ")
    assert parts[1::2] == list(HEADS)
    assert all(text.strip() for text in (parts[0], *parts[2::2]))
    assert f"`{name}`:" in parts[0]


@pytest.mark.parametrize("name", QUANTITIES)
def test_page_names_the_readings_it_is_made_from(name: str) -> None:
    """Each page lists at least one reading with its unit or as a count."""
    measured = MADE[f"{name}.md"].split("## How it is measured")[1].split("## Formula")[0]
    assert re.search(r"^- `[a-z-]+`( in \S+|, a count)", measured, re.MULTILINE), name


def test_page_on_the_terminal() -> None:
    """No marks, no typeset source, no line wider than a hundred columns; the plain formula is there."""
    told = method_page("bore-taper")
    assert told.startswith("Bore taper\n")
    assert "    t = max_a (max_h d_ha - min_h d_ha)" in told
    assert not re.search(r"[`$]|\*\*|^#", told, re.MULTILINE)
    for name in QUANTITIES:
        assert all(len(li) <= 100 or li.startswith("    ") for li in method_page(name).splitlines()), name


def test_finding_leads_to_its_quantity() -> None:
    """The id of a finding with its place will do."""
    assert method_page("leak-down.3") == method_page("leak-down")


@pytest.mark.parametrize(
    ("asked", "told"),
    [
        ("bore-tapr", "no quantity 'bore-tapr'; did you mean 'bore-taper'?"),
        ("leak-down-supply", "is a reading for: leak-down, leak-bore"),
        ("zzz", "without a name lists them all"),
        ("../README", "without a name lists them all"),
        ("README", "without a name lists them all"),
    ],
)
def test_a_name_that_is_none(asked: str, told: str) -> None:
    """The nearest page, the pages a reading serves, or how to see them all; never a file beside them."""
    with pytest.raises(UnknownMethod, match=re.escape(told)):
        method_page(asked)


def test_list_names_every_page() -> None:
    """One line a page, in the order of the characteristics book."""
    names = [line.split()[0] for line in method_list().splitlines()]
    assert sorted(names) == sorted([*QUANTITIES, *METHODS])
    assert names[0] == "leak-down"


def test_command_prints_page_list_and_refusal(capsys: pytest.CaptureFixture[str]) -> None:
    """`method` lists, `method NAME` tells, and a slip ends with 2 and an offer."""
    assert main(["method"]) == 0
    assert capsys.readouterr().out.startswith("leak-down ")
    assert main(["method", "uncertainty"]) == 0
    assert "ν = u⁴ / Σ (u_i⁴ / ν_i)" in capsys.readouterr().out
    assert main(["method", "squish-gab"]) == 2
    assert "did you mean 'squish-gap'" in capsys.readouterr().err
