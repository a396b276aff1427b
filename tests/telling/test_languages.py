"""A report is told in one language, whole, and what is told beside it changes nothing of it."""

import re
from collections.abc import Iterator
from html import unescape
from pathlib import Path

import pytest

from inspect_report import assess, load
from inspect_report.assessment import Assessment, to_json
from inspect_report.report.html import as_html
from inspect_report.report.pictures import Pictures
from inspect_report.report.theme import theme
from inspect_report.report.view import view
from tests.samples import ROOT
from tests.telling.bracketed import CODE, outside, use_language, write_language

SAMPLES = ROOT / "sample_inspections"
SAMPLE = SAMPLES / "kart-two-stroke.yaml"
MARKUP = re.compile(r"<style.*?</style>|<details.*?</details>|<svg.*?</svg>|<[^>]*>", re.DOTALL)
LETTERS = re.compile(r"[^\W\d_]{3,}")


@pytest.fixture(scope="module")
def told_in_brackets(tmp_path_factory: pytest.TempPathFactory) -> Iterator[None]:
    """A language in which every message stands in brackets."""
    home = tmp_path_factory.mktemp("languages")
    write_language(home)
    with pytest.MonkeyPatch.context() as patch:
        use_language(home, patch)
        yield


def page(a: Assessment) -> str:
    """The page of an assessment for a screen."""
    look = theme()
    pictures = Pictures(SAMPLES, SAMPLES / "books", look)
    return as_html(view(a), f"{a.inspection.head.report.replace(' ', '-')}.html", pictures, look)


def own_words(path: Path) -> set[str]:
    """Every word that stands in the files of the sample, which the program does not translate."""
    files = (path, *sorted((SAMPLES / "books").glob("*.yaml")))
    text = COUNTS.sub(" ", "\n".join(file.read_text(encoding="utf-8") for file in files))
    return {word.lower() for word in LETTERS.findall(text)}


COUNTS = re.compile(r"counts: *\{[^}]*\}|counts:\n(?: +[\w-]+: *\d+\n)+")
"""Where a spec sheet says how many there are of what: words of the program, not of its author."""
UNITS = {"bar", "hpa", "kpa", "min", "ppm", "inspect", "report", "sha", "png", "issue"}
"""Signs that every language writes alike, and words of names of files."""
MONTHS = {"januaro", "februaro", "marto", "aprilo", "majo", "junio", "julio", "aŭgusto"}
MONTHS |= {"septembro", "oktobro", "novembro", "decembro"}


@pytest.mark.parametrize("name", ["inline-four-strip", "kart-two-stroke", "used-machine-in-frame"])
def test_nothing_of_a_report_is_left_in_english(name: str, told_in_brackets: None) -> None:
    """What stands outside every message is a number, a sign, or a word of the inspector's own files."""
    path = SAMPLES / f"{name}.yaml"
    pieces = MARKUP.split(page(assess(load(path), CODE)))
    told = {word.lower() for piece in pieces for word in LETTERS.findall(outside(unescape(piece)))}
    assert told - own_words(path) - UNITS - MONTHS == set()


def test_languages_do_not_mix(told_in_brackets: None) -> None:
    """English before, between and after another language gives the same text and the same data."""
    case = load(SAMPLE)
    first = assess(case, "en")
    english = page(first)
    other = assess(case, CODE)
    assert to_json(first) == to_json(assess(case, "en"))
    assert page(first) == page(assess(case, "en"))
    assert to_json(other) == to_json(assess(case, CODE))
    assert page(first) != page(other)
    assert page(first) == english
