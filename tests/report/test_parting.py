"""A page is cut at the marks of its template, and the parts are shared out by their length."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from inspect_report.report.parting import FEW, MARK, parted, shares

HEAD, FOOT = "<html><body><main>", "</main></body></html>"


def test_each_part_is_a_whole_page() -> None:
    """Every part has the head and the foot of the page; an empty one is not a page."""
    long = [f"<p>{name * FEW}" for name in "abc"]
    html = f"{HEAD}{long[0]}{MARK}{long[1]}{MARK}\n \n{MARK}{long[2]}{FOOT}"
    assert parted(html) == tuple(f"{HEAD}{part}{FOOT}" for part in long)


def test_short_parts_run_on() -> None:
    """No fresh sheet is begun between parts that are short together; a picture makes none longer."""
    long, picture = "a" * FEW, f'<img src="data:image/png;base64,{"x" * FEW}">'
    assert parted(f"{HEAD}b{MARK}{picture}{MARK}{long}{MARK}c{MARK}d{FOOT}") == tuple(
        f"{HEAD}{part}{FOOT}" for part in (f"b{picture}", long, "cd")
    )


@pytest.mark.parametrize("html", [f"{HEAD}<p>one{FOOT}", "<p>own template without main", f"{HEAD}{FOOT}"])
def test_a_page_without_marks_is_one_part(html: str) -> None:
    """A workshop's own template need not know of parts."""
    assert parted(html) == (html,)


def test_longest_first() -> None:
    """The two shares take about as long."""
    assert shares([30, 50, 10, 20]) == ((1, 2), (0, 3))
    assert shares([30, 50, 10, 20], behind=45) == ((1, 2, 3), (0,))


@given(st.lists(st.integers(1, 10_000), min_size=1, max_size=12), st.integers(0, 20_000))
def test_every_part_is_printed_once(lengths: list[int], behind: int) -> None:
    """No part is left out or given out twice, and neither share is longer than it need be."""
    first, second = shares(lengths, behind)
    assert sorted((*first, *second)) == list(range(len(lengths)))
    loads = sum(lengths[n] for n in first), behind + sum(lengths[n] for n in second)
    assert max(loads) <= max(min(loads) + max(lengths), behind)
