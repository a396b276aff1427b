"""The language and the paper of a report, by what is written and by the locale."""

import pytest

from inspect_report.knowledge.in_language import settled
from inspect_report.records.languages import language_of, paper_of
from inspect_report.records.problem import InvalidInput
from inspect_report.records.shape import document_of, read_as
from inspect_report.records.workshop import Workshop

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
