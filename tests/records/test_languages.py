"""The language, units and paper of a report, by what is written and by the locale."""

from dataclasses import replace
from pathlib import Path

import pytest

from inspect_report import load
from inspect_report.knowledge.in_language import case_in_language, settled
from inspect_report.records.languages import language_of, locale_of, paper_of
from inspect_report.records.problem import InvalidInput
from inspect_report.records.shape import document_of, read_as
from inspect_report.records.workshop import Units, Workshop
from tests.samples import SAMPLES

HEAD = b"workshop: A\nversion: 1\nlabour-rate: 50\n"


def workshop(more: str = "") -> Workshop:
    """A workshop file with some lines more."""
    read = read_as(Workshop, document_of(HEAD + more.encode(), "workshop.yaml"))
    if read.value is None:
        raise InvalidInput(read.problems)
    return read.value


@pytest.mark.parametrize(
    ("named", "locale", "told"),
    [
        (("",), "en_US", "en"),
        (("", "en"), "de_DE", "en"),
        (("",), "ja_JP", "en"),
        (("en", "zz"), "fr_FR", "en"),
    ],
)
def test_the_first_language_named_holds(named: tuple[str, ...], locale: str, told: str) -> None:
    """Where none is named, that of the locale; where reports cannot be told in it, English."""
    assert language_of(*named, locale=locale) == told


@pytest.mark.parametrize(
    ("locale", "paper"),
    [("en_US", "Letter"), ("fr_CA", "Letter"), ("es_MX", "Letter"), ("en_GB", "A4"), ("de", "A4")],
)
def test_paper_is_that_of_the_country(locale: str, paper: str) -> None:
    """Letter in North America and where CLDR says so, A4 elsewhere."""
    assert paper_of(locale) == paper


@pytest.mark.parametrize(
    ("language", "locale", "told"),
    [
        ("de", "en_GB", "de"),
        ("fr", "en_US", "fr"),
        ("it", "it_IT", "it_IT"),
        ("fr", "de_CH", "fr_CH"),
        ("es", "en_US", "es_US"),
        ("en", "fr_CA", "en_CA"),
        ("en", "de_DE", "en_GB"),
        ("en", "ja_JP", "en_GB"),
        ("de", "zh_Hans_CN", "de"),
        ("en", "en_IE", "en_IE"),
        ("es", "es_419", "es_419"),
    ],
)
def test_numbers_are_those_of_the_language_told(language: str, locale: str, told: str) -> None:
    """As the workshop's country writes them where it writes that language; in English never with a comma."""
    assert locale_of(language, locale=locale) == told


def test_a_workshop_that_tells_another_language_keeps_its_currency_and_paper() -> None:
    """Numbers and days go with the language; what is charged and printed on stays as it is."""
    shop = settled(workshop("locale: en_US\ncurrency: USD\n"), "de")
    assert (shop.language, shop.locale, shop.currency, shop.paper) == ("de", "de", "USD", "Letter")


def test_a_language_of_the_workshop_alone_brings_its_numbers() -> None:
    """The locale of a file that names none is British; its language would not be told by it."""
    assert settled(workshop("language: fr\n")).locale == "fr"


def test_what_is_written_goes_before_the_locale() -> None:
    """A workshop in the United States may print on A4."""
    assert settled(workshop("locale: en_US\n")).paper == "Letter"
    assert settled(workshop("locale: en_US\npaper: A4\n")).paper == "A4"


def test_a_language_that_is_not_there_is_refused() -> None:
    """With those that are."""
    with pytest.raises(InvalidInput) as caught:
        workshop("language: klingon\n")
    (problem,) = caught.value.problems
    assert problem.code == "V213"
    assert "en" in problem.allowed


@pytest.mark.parametrize(
    ("of_shop", "of_inspection", "of_command", "told"),
    [
        ("", "", "", ""),
        ("imperial", "", "", "imperial"),
        ("imperial", "both", "", "both"),
        ("imperial", "both", "metric", "metric"),
    ],
)
def test_units_of_the_command_go_before_the_inspection_and_that_before_the_workshop(
    of_shop: Units, of_inspection: Units, of_command: Units, told: str
) -> None:
    """As with the language; where none are named, each amount stays as its book writes it."""
    case = load((SAMPLES / "used-machine-in-frame.yaml").relative_to(Path.cwd()))
    shop = case.books.workshop.model_copy(update={"units": of_shop})
    head = case.inspection.head.model_copy(update={"units": of_inspection})
    written = replace(
        case,
        books=replace(case.books, workshop=shop),
        inspection=replace(case.inspection, head=head),
    )
    assert case_in_language(written, units=of_command).books.workshop.units == told


def test_units_that_are_none_are_refused() -> None:
    """With the nearest that are."""
    with pytest.raises(InvalidInput) as caught:
        workshop("units: imperal\n")
    (problem,) = caught.value.problems
    assert (problem.code, problem.allowed) == ("V208", "metric, imperial, both")
    assert "imperial" in problem.mend
