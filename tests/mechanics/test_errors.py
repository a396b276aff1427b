"""The error a formula raises: its fields, its words, and that it survives a trip between processes."""

import math
import pickle

import numpy as np
import pytest

from inspect_report.mechanics.errors import OutOfRange, require


def test_fields_tell_what_was_found_and_allowed() -> None:
    """Every part of the message can be had as a field."""
    with pytest.raises(OutOfRange, match="bore") as caught:
        require("bore", -1.0, "m", above=0.0, at_most=2.0)
    error = caught.value
    assert (error.name, error.value, error.low, error.high, error.unit) == ("bore", -1.0, 0.0, 2.0, "m")
    assert (error.low_open, error.high_open) == (True, False)


@pytest.mark.parametrize(
    ("error", "words"),
    [
        (
            OutOfRange("p", 7e5, 0.0, 6e5, "Pa"),
            "p: found 700000 Pa, allowed at least 0 Pa and at most 600000 Pa",
        ),
        (OutOfRange("n", 2.0, 3.0, None, "1"), "n: found 2, allowed at least 3"),
        (OutOfRange("u", 1.0, None, 1.0, "1", high_open=True), "u: found 1, allowed below 1"),
        (OutOfRange("x", math.nan, None, None, "m"), "x: found nan m, allowed a finite number"),
    ],
)
def test_message_reads_as_a_sentence(error: OutOfRange, words: str) -> None:
    """The message names the argument, the number with its unit, and the range."""
    assert str(error) == words


def test_error_survives_pickling() -> None:
    """A worker process hands the error over with all its fields."""
    error = OutOfRange("n", 2.0, 3.0, None, "1", low_open=True)
    copy = pickle.loads(pickle.dumps(error))  # noqa: S301
    assert (str(copy), copy.low_open) == (str(error), True)


@pytest.mark.parametrize("number", [math.nan, math.inf, -math.inf])
def test_only_finite_numbers_pass(number: float) -> None:
    """No range at all still refuses what is no finite number."""
    with pytest.raises(OutOfRange, match="allowed a finite number"):
        require("x", number, "m")


def test_first_fault_of_an_array_is_told() -> None:
    """Bounds go element by element, and the first element outside is the one named."""
    with pytest.raises(OutOfRange, match="found 3 Pa, allowed at most 2 Pa"):
        require("p", np.array([1.0, 3.0, 9.0]), "Pa", at_most=np.array([2.0, 2.0, 2.0]))


def test_closed_bounds_are_allowed_and_open_ones_are_not() -> None:
    """A bound itself passes where it is closed."""
    require("x", 1.0, "m", at_least=1.0, at_most=1.0)
    with pytest.raises(OutOfRange, match="allowed above 1 m"):
        require("x", 1.0, "m", at_least=1.0, above=1.0)
    with pytest.raises(OutOfRange, match="allowed below 1 m"):
        require("x", 1.0, "m", below=1.0)
