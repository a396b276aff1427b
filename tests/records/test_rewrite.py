"""Writing values into a file that people wrote: comments, order and everything else stay."""

import pytest

from inspect_report.records.rewrite import filled
from inspect_report.records.yaml import read_yaml

TEXT = """# head
a:  # why
  b: 1
  c:

list: [1, 2]
grid: {1: , no: }  # two places
"""


def test_comments_and_order_stay() -> None:
    """Only what is set changes; comments, blank lines and the order of keys stay."""
    assert filled(TEXT, {("a", "c"): 0.16, ("list", 1): 3, ("grid", "1"): "5 thou"}) == (
        "# head\na:  # why\n  b: 1\n  c: 0.16\n\nlist: [1, 3]\ngrid: {1: 5 thou, no: null} # two places\n"
    )


@pytest.mark.parametrize(
    "word", ["no", "012", "12:30", "1_000", "2026-11-25", "true", "~", "a: b", "# x", "5 thou", "-", "x\ny"]
)
def test_text_that_looks_like_something_else_stays_text(word: str) -> None:
    """What is written as text is read back as text."""
    assert read_yaml(filled(TEXT, {("a", "c"): word}), "made.yaml").data["a"]["c"] == word  # type: ignore[index,call-overload]


def test_a_key_that_was_not_there_is_made() -> None:
    """Setting below an empty key begins a new level."""
    written = read_yaml(filled(TEXT, {("a", "c", "d"): 1, ("e",): None}), "made.yaml").data
    assert written == {
        "a": {"b": 1, "c": {"d": 1}},
        "list": [1, 2],
        "grid": {"1": None, "no": None},
        "e": None,
    }


def test_a_path_through_a_value_is_refused() -> None:
    """Nothing can stand below a number."""
    with pytest.raises(KeyError, match=r"a\.b\.c"):
        filled(TEXT, {("a", "b", "c"): 1})
