"""The file reader: what YAML silently changes elsewhere stays as typed here, and every value has a place."""

import pickle

import pytest

from inspect_report.records.problem import InvalidInput
from inspect_report.records.typed import Figures
from inspect_report.records.yaml import MOST_CHARACTERS, MOST_PROBLEMS, read_yaml


def fault(text: str) -> tuple[str, int, int]:
    """Code, line and column of the one fault of a text."""
    with pytest.raises(InvalidInput, match=r"made\.yaml") as caught:
        read_yaml(text, "made.yaml")
    (problem,) = caught.value.problems
    return problem.code, problem.place.line, problem.place.column


@pytest.mark.parametrize(
    "word", ["no", "off", "yes", "on", "NO", "y", "012", "1_000", "12:30", "190:20:30", "08"]
)
def test_traps_of_older_yaml_stay_text(word: str) -> None:
    """Words and figures that YAML 1.1 turns into truth, octal, thousands or clock times are text."""
    assert read_yaml(f"a: {word}", "made.yaml").data == {"a": word}


@pytest.mark.parametrize(
    "word", ["2026-11-25", "2026-11-25T10:00:00", "0x1F", "0o17", "1e", ".", "+", "3,5", ".inf", ".nan"]
)
def test_dates_and_odd_figures_stay_text(word: str) -> None:
    """Dates, hexadecimal, octal, infinite and half-written numbers are text."""
    assert read_yaml(f"a: {word}", "made.yaml").data == {"a": word}


@pytest.mark.parametrize(
    ("word", "value"),
    [
        ("12", 12),
        ("-3", -3),
        ("0.16", 0.16),
        (".5", 0.5),
        ("1e3", 1000.0),
        ("true", True),
        ("~", None),
        ("", None),
    ],
)
def test_plain_numbers_truth_and_nothing(word: str, value: object) -> None:
    """Decimal numbers, true, false and nothing are the only plain values."""
    assert read_yaml(f"a: {word}", "made.yaml").data == {"a": value}


def test_a_number_remembers_how_it_was_typed() -> None:
    """A zero at the end is kept as text, for names that look like numbers and for the report."""
    document = read_yaml("a: 67.010", "made.yaml")
    value = document.data["a"] if isinstance(document.data, dict) else None
    assert (value, str(value), document.text(("a",))) == (67.01, "67.010", "67.010")


def test_a_number_as_typed_survives_a_trip_to_another_process() -> None:
    """Figures keep their text when they are pickled."""
    assert str(pickle.loads(pickle.dumps(Figures("1.50")))) == "1.50"  # noqa: S301


def test_more_figures_than_a_float_holds_are_a_name() -> None:
    """A whole number of twenty figures stays text, and one of five thousand does no harm."""
    assert read_yaml("a: " + "9" * 20, "made.yaml").data == {"a": "9" * 20}
    assert read_yaml("a: " + "9" * 5000, "made.yaml").data == {"a": "9" * 5000}


@pytest.mark.parametrize(
    ("text", "code", "line", "column"),
    [
        ("a: 1\nb: 2\na: 3", "Y102", 3, 1),
        ("a: &x 1", "Y103", 1, 4),
        ("a: *x", "Y103", 1, 4),
        ("a: !!python/object:os.system x", "Y104", 1, 4),
        ("a: !x 1", "Y104", 1, 4),
        ("{a: {[1]: 2}}", "Y105", 1, 6),
        ("a: 1\n---\nb: 2", "Y106", 2, 1),
        ("a:\n\tb: 1", "Y101", 2, 1),
        ("a: b: c", "Y101", 1, 5),
        ("a: [1", "Y101", 1, 4),
        ("[" * 60 + "]" * 60, "Y107", 1, 42),
        ("a: {b: 0,16}", "Y112", 1, 8),
        ("a: [0,16]", "Y112", 1, 5),
        ("a: \x00", "Y109", 1, 4),
        ("a: x\u202ey", "Y113", 1, 4),
        ('a: "x\\u202ey"', "Y113", 1, 4),
        ("a: x\ue000y", "Y113", 1, 4),
        ("a: x\ufffdy", "Y113", 1, 4),
    ],
)
def test_what_is_refused_has_its_place(text: str, code: str, line: int, column: int) -> None:
    """Doubled keys, references, tags, second documents, tabs, split commas are refused where they stand."""
    assert fault(text) == (code, line, column)


def test_faults_that_leave_the_rest_readable_are_told_together() -> None:
    """Doubled keys and split numbers are told all at once, and what was most likely meant is read on."""
    with pytest.raises(InvalidInput, match="Y102") as caught:
        read_yaml("a: 1\na: 2\nb: {x: 0,16, y: 1}\nc: [3,5]\n", "made.yaml")
    assert [p.code for p in caught.value.problems] == ["Y102", "Y112", "Y112"]
    document = caught.value.document
    assert document is not None
    assert document.data == {"a": 1, "b": {"x": 0.16, "y": 1}, "c": [3.5]}


def test_faults_without_end_are_told_to_a_number() -> None:
    """A file with hundreds of doubled keys is not the file meant: the reading ends early."""
    with pytest.raises(InvalidInput, match="Y102") as caught:
        read_yaml("a: 1\n" * 5000, "made.yaml")
    assert len(caught.value.problems) == MOST_PROBLEMS


def test_a_comma_with_a_blank_parts_two_values() -> None:
    """Inside brackets a comma followed by a blank is a list, as everywhere."""
    assert read_yaml("a: [0, 16]", "made.yaml").data == {"a": [0, 16]}


def test_too_long_a_file_is_refused_unread() -> None:
    """A file of more characters than an inspection can have is refused before it is parsed."""
    assert fault("#" * (MOST_CHARACTERS + 1))[0] == "Y108"


def test_a_fault_inside_a_block_is_told_at_its_key() -> None:
    """A value that starts on the line below its key is told at the key."""
    document = read_yaml("a:\n  b:\n    c: 1\n", "made.yaml")
    assert (document.told_at(("a", "b")).line, document.place(("a", "b")).line) == (2, 3)


def test_the_place_of_what_is_missing_is_that_of_its_parent() -> None:
    """A path that is not written has the place of the nearest one that is."""
    place = read_yaml("a:\n  b: 1\n", "made.yaml").place(("a", "x", 0, "y"))
    assert (place.line, place.path) == (2, "a")


def test_control_characters_that_cannot_be_printed_are_dropped() -> None:
    """An escape in quotes does not bring control characters into the report; line ends stay."""
    assert read_yaml('a: "x\\u0007y\\nz"', "made.yaml").data == {"a": "xy\nz"}


def test_an_empty_file_holds_nothing() -> None:
    """A file of comments alone is no fault of the reader."""
    assert read_yaml("# nothing yet\n", "made.yaml").data is None
