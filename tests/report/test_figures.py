"""Numbers, money and days as people in several countries write them."""

from datetime import date
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from inspect_report.measure.rounding import rounded_up, uncertainty_decimals
from inspect_report.records.problem import CannotRender
from inspect_report.records.quantity import Quantity
from inspect_report.report.figures import Figures, counted, joined

BRITISH, GERMAN, FRENCH = Figures("en_GB", "GBP"), Figures("de_DE", "EUR"), Figures("fr-FR", "EUR")


@pytest.mark.parametrize(
    ("figures", "text"), [(BRITISH, "1,234.50"), (GERMAN, "1.234,50"), (FRENCH, "1\u202f234,50")]
)
def test_numbers_follow_the_country(figures: Figures, text: str) -> None:
    """Grouping and decimal signs as in Unicode CLDR, printed for these locales (values from memory)."""
    assert figures.number(1234.5, 2) == text


def test_minus_is_a_minus_and_zero_has_none() -> None:
    """A negative number carries U+2212; what rounds to zero carries no sign."""
    assert BRITISH.number(-0.12, 2) == "−0.12"
    assert BRITISH.number(-0.0004, 2) == "0.00"


def test_a_measured_value_carries_its_expanded_uncertainty() -> None:
    """Expanded uncertainty is twice the standard one (k = 2, common practice) and rounded up."""
    assert (
        BRITISH.measured(Quantity(0.000096, 0.0000018, "length"), "mm", 3)
        == "0.096\u00a0±\u00a00.004\u00a0mm"
    )


def test_an_uncertainty_too_small_for_the_decimals_gets_one_more() -> None:
    """0.0042 mm at two decimals is not told as ± 0.01 mm, more than twice as much."""
    assert (
        BRITISH.measured(Quantity(0.00012, 0.0000021, "length"), "mm", 2) == "0.120\u00a0±\u00a00.005\u00a0mm"
    )


def test_temperatures_keep_their_zero_point_and_their_uncertainty() -> None:
    """20 °C is 293.15 K; an uncertainty of 0.5 K stays 0.5 °C."""
    text = BRITISH.measured(Quantity(293.15, 0.25, "temperature"), "°C", 1)
    assert text == "20.0\u00a0±\u00a00.5\u00a0°C"


def test_limits_lose_no_decimal() -> None:
    """A limit printed with three decimals is told with three, also where the characteristic has two."""
    assert BRITISH.range(None, 0.000125, "mm", 2) == "at most 0.125\u00a0mm"
    assert BRITISH.range(0.0001, 0.000125, "mm", 2) == "0.100 to 0.125\u00a0mm"
    assert BRITISH.range(0.0001, None, "mm", 2) == "at least 0.10\u00a0mm"
    assert BRITISH.range(None, None, "mm", 2) == ""


def test_degrees_and_counts_stand_close() -> None:
    """A degree sign stands at its number; pieces carry no unit."""
    assert BRITISH.amount(12.0, "°", 1) == "12.0°"
    assert BRITISH.amount(3.0, "pcs", 0) == "3"


def test_money_rounds_half_up_to_the_smallest_coin() -> None:
    """0.125 becomes 0.13; yen have no smaller coin (ISO 4217, from memory)."""
    assert BRITISH.money(Decimal("0.125")) == "£0.13"
    assert Figures("ja_JP", "JPY").money(Decimal("1234.5")) == "￥1,235"
    assert GERMAN.money(Decimal("1234.5")) == "1.234,50\u00a0€"


def test_days_name_the_month() -> None:
    """A day with its month in words cannot be misread."""
    assert BRITISH.day(date(2026, 3, 9)) == GERMAN.day(date(2026, 3, 9)) == "9 March 2026"


def test_an_unknown_locale_is_told() -> None:
    """A locale nobody knows is named, with an example of one that is right."""
    with pytest.raises(CannotRender, match="'xx_YY' in the workshop file is not known; write it like en_GB"):
        Figures("xx_YY", "GBP").number(1.0, 0)


@given(st.floats(1e-9, 1e3), st.integers(0, 4))
def test_an_uncertainty_is_never_told_smaller_than_it_is(expanded: float, decimals: int) -> None:
    """Rounding goes up, and never by more than one step of the last decimal."""
    places = uncertainty_decimals(expanded, decimals)
    told = rounded_up(expanded, places)
    assert expanded * (1 - 1e-9) - 2e-6 * 10**-places <= told <= expanded + 10**-places


def test_lists_read_as_sentences() -> None:
    """One, two and three words; one and several things."""
    assert [joined(list("abc"[:n])) for n in range(4)] == ["", "a", "a and b", "a, b and c"]
    assert (counted(1, "job", "jobs"), counted(2, "job", "jobs")) == ("1 job", "2 jobs")


@pytest.mark.parametrize(
    ("amount", "british", "german"),
    [
        ("0", "£0", "0\u00a0€"),
        ("0.49", "£0", "0\u00a0€"),
        ("17.50", "£18", "18\u00a0€"),
        ("197.15", "£197", "197\u00a0€"),
        ("1454.99", "£1,450", "1.450\u00a0€"),
        ("1455", "£1,460", "1.460\u00a0€"),
        ("99999", "£100,000", "100.000\u00a0€"),
    ],
)
def test_an_unsure_amount_has_three_figures_and_no_coins(amount: str, british: str, german: str) -> None:
    """What is not known to the coin does not pretend to be; halves go up."""
    assert BRITISH.about(Decimal(amount)) == british
    assert GERMAN.about(Decimal(amount)) == german


def test_an_unsure_range_whose_ends_look_alike_is_one_amount() -> None:
    """Two ends that round to one are told once."""
    assert BRITISH.about_range(Decimal("1454"), Decimal("1451")) == "£1,450"
    assert BRITISH.about_range(Decimal(20), Decimal("2191.92")) == "£20 to £2,190"
