"""Amounts: what is written comes back whatever the unit, and no text at all makes the reader stumble."""

import math
import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from inspect_report.records.quantity import (
    UNITS,
    QuantityFault,
    difference_from_si,
    from_si,
    number_and_unit,
    read_amount,
    read_difference,
    si,
    unit_named,
    usual_units,
)

SYMBOLS = st.sampled_from(sorted(UNITS))
NUMBERS = st.floats(min_value=-1e6, max_value=1e6).map(lambda x: round(x, 6))
PIECES = st.sampled_from([
    "0", "12", "1234", ",", ".", "-", "−", "+", " ", "\t", "\u00a0", "/", "e", "E", "±", "mm", "MM", "thou",
    "mil", "psi", "°C", "%", '"', "µ", "²", "٣", "in", "lb-ft", "inf", "nan", "_", "'", "1/2", "0x1F",
])  # fmt: skip


@given(SYMBOLS, NUMBERS)
def test_a_number_comes_back_from_si(symbol: str, number: float) -> None:
    """Any number in any unit survives the way to SI and back."""
    assert from_si(si(number, symbol), symbol) == pytest.approx(number, rel=1e-9, abs=1e-9)


@given(SYMBOLS, NUMBERS)
def test_text_reads_like_the_number_and_its_unit(symbol: str, number: float) -> None:
    """A bare number takes the unit asked for; with the unit written, glued or parted, it reads the same."""
    expected = pytest.approx(si(number, symbol), rel=1e-12, abs=1e-15)
    forms = (number, f"{number!r}", f"{number!r} {symbol}") + (
        (f"{number!r}{symbol}",) if symbol != "1" else ()
    )
    assert all(read_amount(form, symbol) == expected for form in forms if not _ends_in_a_figure(form, symbol))


def _ends_in_a_figure(form: object, symbol: str) -> bool:
    """Units that begin with a figure cannot be written behind a number."""
    return symbol[0] == "1" and isinstance(form, str) and form.endswith(symbol)


@given(SYMBOLS, SYMBOLS, NUMBERS)
def test_units_of_one_dimension_agree(given_in: str, asked: str, number: float) -> None:
    """The SI value does not depend on the unit asked for, and another dimension is refused."""
    if given_in[0] == "1" or asked[0] == "1":
        return
    written = f"{number!r} {given_in}"
    if unit_named(given_in).dimension == unit_named(asked).dimension:
        assert read_amount(written, asked) == pytest.approx(si(number, given_in), rel=1e-12, abs=1e-15)
    else:
        with pytest.raises(QuantityFault, match="measures"):
            read_amount(written, asked)


@given(SYMBOLS, st.floats(min_value=-1000, max_value=1000), st.floats(min_value=-1000, max_value=1000))
def test_a_difference_knows_no_zero_of_a_scale(symbol: str, one: float, other: float) -> None:
    """The difference of two amounts is the amount of the difference, in °C and °F too."""
    apart = si(one, symbol) - si(other, symbol)
    assert read_difference(one - other, symbol) == pytest.approx(apart, rel=1e-6, abs=1e-6)
    assert difference_from_si(apart, symbol) == pytest.approx(
        one - other, rel=1e-6, abs=1e-6 / unit_named(symbol).factor
    )


def is_amount_or_told(written: object, symbol: str) -> bool:
    """Whether something is a finite amount, or refused with what is allowed and how to mend it."""
    try:
        return math.isfinite(read_amount(written, symbol))
    except QuantityFault as fault:
        return all((fault.title, fault.allowed, fault.mend))


@given(st.one_of(st.text(), st.lists(PIECES, max_size=8).map("".join)), SYMBOLS)
def test_no_text_makes_the_reader_stumble(text: str, symbol: str) -> None:
    """Whatever is written is a finite amount, or is refused with what is allowed and how to mend it."""
    assert is_amount_or_told(text, symbol)


@given(st.one_of(st.none(), st.booleans(), st.lists(st.integers()), st.floats(), st.integers()), SYMBOLS)
def test_no_value_makes_the_reader_stumble(value: object, symbol: str) -> None:
    """Truth, lists, nothing and numbers that are none are refused."""
    assert is_amount_or_told(value, symbol)


@given(st.integers(0, 999), st.integers(0, 99))
def test_a_decimal_comma_is_understood(whole: int, hundredths: int) -> None:
    """One or two figures behind a comma are a fraction, as most of Europe writes it."""
    assert read_amount(f"{whole},{hundredths:02d} mm", "mm") == pytest.approx(
        (whole + hundredths / 100) / 1000
    )


@given(st.integers(1, 999), st.integers(0, 999))
def test_a_comma_before_three_figures_is_refused(whole: int, rest: int) -> None:
    """``1,234`` is one and a bit to one reader and a thousand to another: both ways out are offered."""
    with pytest.raises(QuantityFault, match=re.escape(f"write {whole}.{rest:03d} if")):
        read_amount(f"{whole},{rest:03d} mm", "mm")


@given(st.integers(0, 999))
def test_a_comma_after_a_nought_is_a_fraction(rest: int) -> None:
    """``0,125`` cannot mark thousands."""
    assert read_amount(f"0,{rest:03d}", "mm") == pytest.approx(rest / 1e6)


@pytest.mark.parametrize(
    ("text", "unit", "metres"),
    [
        ("1 1/2 in", "mm", 0.0381),
        ("3/4 in", "mm", 0.01905),
        ("1\t1/2 in", "mm", 0.0381),
        ('0.004"', "mm", 0.0001016),
        ("41 200 km", "km", 41_200_000),
        ("41\u202f200 km", "km", 41_200_000),
        ("5 THOU", "mm", 0.000127),
        ("−0.02", "mm", -0.00002),
        ("+.5 mm", "mm", 0.0005),
        ("12 µm", "mm", 0.000012),
        ("12 μm", "mm", 0.000012),
        ("1e-2", "mm", 0.00001),
    ],
)
def test_ways_people_write_lengths(text: str, unit: str, metres: float) -> None:
    """Fractions, blanks between thousands, capitals, minus signs of both kinds, both signs for micro."""
    assert read_amount(text, unit) == pytest.approx(metres)


@pytest.mark.parametrize(
    ("text", "unit", "mend"),
    [
        ("0.02 mil", "mm", "write 'thou' for 0.001 in, or 'mm'"),
        ("20 C", "°C", "write '°C'"),
        ("33 ft lb", "N·m", "write 'ft-lb'"),
        ("5 mPa", "bar", "write 'MPa'"),
        ("0.12 ± 0.01 mm", "mm", "leave the ± out"),
        ("1.234,5", "mm", "write thousands without a separator"),
        ("1_000", "mm", "write one number and its unit"),
        ("12:30", "h", "write one number and its unit"),
        ("1/0 in", "mm", "correct the fraction"),
        ("9e999", "mm", "write a plain number"),
        ("5 bar", "mm", "write the reading in mm"),
    ],
)
def test_what_could_be_misread_is_refused(text: str, unit: str, mend: str) -> None:
    """Symbols with two meanings, tolerances, two separators, other dimensions are refused with a way out."""
    with pytest.raises(QuantityFault, match=re.escape(mend)):
        read_amount(text, unit)


@given(SYMBOLS)
def test_units_offered_are_of_the_dimension(symbol: str) -> None:
    """The few units named in messages measure what is asked for."""
    dimension = unit_named(symbol).dimension
    assert {unit_named(u).dimension for u in usual_units(dimension)} == {dimension}


def test_number_and_unit_stay_apart() -> None:
    """For messages, the number is kept as it was in the unit that was written."""
    assert number_and_unit("5 thou", "mm") == (5.0, "thou")
    assert number_and_unit("5", "mm") == number_and_unit(5, "mm") == (5.0, "mm")
