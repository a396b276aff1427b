"""
The list of published blocks and the tests that hold them, kept true in both directions.

Each line says source with edition, place in it, how sure we are of it, tolerance and its reason. Blocks go by
subject: L leak-down and flow, O orifices in series, A atmosphere, P compression, R ratio and squish, S shims,
K camshafts, C chains, B bores, T rules of thumb, W wear limits, U uncertainty, G outliers, N trends, D words
for damage, E contents of a report, X clutch and oil pump, Q weight of evidence, Y further libraries and
geometry.
"""

import ast
from pathlib import Path

import pytest

from tests.published.figures import rows

HERE = Path(__file__).parent
LIST = rows("coverage.csv")
COUNTED = {
    "L": 13, "O": 14, "A": 8, "P": 11, "R": 7, "S": 10, "K": 8,
    "C": 12, "B": 7, "T": 9, "U": 11, "G": 6, "N": 9, "X": 8, "Q": 4,
}  # fmt: skip
"""How many numbered blocks each subject has at least."""
SURE = ("seen", "computed", "from memory", "worked by hand")


def named_in(path: Path) -> set[str]:
    """Names of the tests of a file."""
    tree = ast.parse(path.read_text(encoding="utf-8"))
    return {
        f"{path.name}::{n.name}"
        for n in tree.body
        if isinstance(n, ast.FunctionDef) and n.name[:5] == "test_"
    }


WRITTEN = {
    name for path in HERE.glob("test_*.py") if path.name != Path(__file__).name for name in named_in(path)
}


@pytest.mark.parametrize("row", LIST, ids=lambda r: r["block"])
def test_every_block_names_source_and_tolerance_and_is_tested(row: dict[str, str]) -> None:
    """No field is empty, the certainty is one of our words, and each test named is there."""
    assert all(row.values()), row
    assert any(word in row["how_sure"] for word in SURE)
    assert [name for name in row["tests"].split() if name not in WRITTEN] == []


def test_no_block_stands_twice() -> None:
    """A block has one line."""
    blocks = [row["block"] for row in LIST]
    assert len(blocks) == len(set(blocks))


@pytest.mark.parametrize(("subject", "count"), COUNTED.items())
def test_no_number_of_a_subject_is_left_out(subject: str, count: int) -> None:
    """Blocks of a subject are numbered without a gap."""
    blocks = {row["block"] for row in LIST}
    assert [f"{subject}{n}" for n in range(1, count + 1) if f"{subject}{n}" not in blocks] == []


def test_every_published_test_stands_in_the_list() -> None:
    """A test that rests on a source outside has its line, so that the list can be read in its place."""
    named = {name for row in LIST for name in row["tests"].split()}
    assert sorted(WRITTEN - named) == []
