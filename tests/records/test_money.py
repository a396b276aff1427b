"""Currencies, locales, taxes and hours of a workshop file: what is taken and what is refused."""

from decimal import Decimal

import pytest
from babel.core import get_global
from babel.localedata import exists

from inspect_report.records.money import CURRENCIES
from inspect_report.records.problem import Problem
from inspect_report.records.shape import read_as
from inspect_report.records.workshop import Workshop
from inspect_report.records.yaml import read_yaml

BASE = "workshop: A\nversion: 1\n"


def faults(text: str) -> tuple[Problem, ...]:
    """The problems of a workshop file."""
    rate = "" if "labour-rate" in text else "labour-rate: 60\n"
    return read_as(Workshop, read_yaml(BASE + rate + text, "made.yaml")).problems


def workshop(text: str) -> Workshop:
    """A workshop file without faults."""
    read = read_as(Workshop, read_yaml(f"{BASE}labour-rate: 60\n{text}", "made.yaml"))
    assert read.value is not None, read.problems
    return read.value


def test_the_currencies_are_those_in_use() -> None:
    """Every code of the Unicode locale data that is legal tender today, and no other."""
    rows = [row for rows in get_global("territory_currencies").values() for row in rows]
    assert set(CURRENCIES) == {code for code, _, end, tender in rows if tender and end is None}


@pytest.mark.parametrize("name", ["en_GB", "de_DE", "en-GB", "pt_BR", "fr"])
def test_a_locale_that_is_known(name: str) -> None:
    """A language with or without its country, parted by a hyphen or not."""
    assert exists(workshop(f"locale: {name}").locale)


@pytest.mark.parametrize(
    ("text", "code", "mend"),
    [
        ("currency: EURO", "V209", "write 'EUR'"),
        ("currency: XXX", "V209", "look the code up"),
        ("locale: en_GBR", "V211", "write 'en_GB'"),
        ("locale: ../../etc/passwd", "V211", "language_COUNTRY"),
        ("locale: root", "V211", "write"),
        ("tax: {name: VAT, rate: 2000 %}", "V202", "correct"),
        ("tax: {name: VAT, rate: 0.2}", "V212", "write 20 % if it is a share, 0.2 % if it is a percentage"),
        ("labour-rate: 62,50", "V204", "write 62.50"),
        ("labour-rate: 6_2", "V204", "figures"),
        ("labour-rate: 1e9", "V204", "figures"),
        ("labour-rate: ٦٢", "V204", "figures"),
        ("hours: {engine-out: 5:30}", "V201", "one number and its unit"),
        ("hours: {engine-out: -1}", "V202", "correct"),
        ("hours: {engine-out: 5000}", "V202", "correct"),
        ("shims-in-stock: [185]", "V202", "correct"),
    ],
)
def test_what_is_no_money_is_told_with_a_way_out(text: str, code: str, mend: str) -> None:
    """One problem for one fault, and what to write instead."""
    (problem,) = faults(text)
    assert problem.code == code
    assert mend in problem.mend


@pytest.mark.parametrize(
    ("written", "hours"), [("5.0", "5.0"), ("5 h", "5.0"), ("30 min", "0.5"), ('"0,4"', "0.4")]
)
def test_hours_take_a_unit(written: str, hours: str) -> None:
    """Hours are amounts like any other."""
    assert workshop(f"hours: {{engine-out: {written}}}").hours == {"engine-out": Decimal(hours)}
