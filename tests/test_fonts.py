"""Turns the shipped fonts into the promise that no sign of a report is printed as an empty box."""

import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest
from fontTools.ttLib import TTFont
from matplotlib import get_data_path

from inspect_report.places import fallback_font, fonts_dir
from inspect_report.records.letters import odd_letter
from inspect_report.records.problem import CannotRender
from inspect_report.report import fonts
from tests.agreement.letters import LIST, list_of_letters

LARGEST = 450_000
SIGNS = (
    "°µμ±≤≥≈≠−×·÷…–—″′ΩωΔσ∅✓✗→←↑↓½¼¾²³⁻¹€£$√∞•‰⚠■□▲▼●○◆◇\N{NARROW NO-BREAK SPACE}\N{NO-BREAK SPACE}ŒƒŐžŁșАбвШ"
)
LEFT_TO_DEJAVU = "⌀⋅◐"
FILES = sorted(fonts_dir().glob("*.ttf"))


def characters(file: Path) -> set[int]:
    """The code points a font file can print."""
    with TTFont(file) as font:
        return set(font.getBestCmap())


@pytest.mark.parametrize("file", FILES, ids=lambda file: file.stem)
def test_a_shipped_font_prints_every_sign_of_the_trade(file: Path) -> None:
    """Each style has the signs of measurement and the letters of names; it lacks what its README says."""
    has = characters(file)

    assert [sign for sign in SIGNS if ord(sign) not in has] == []
    assert [sign for sign in LEFT_TO_DEJAVU if ord(sign) in has] == []
    assert file.stat().st_size <= LARGEST


def test_the_fallback_prints_what_the_shipped_fonts_lack() -> None:
    """DejaVu Sans, as it comes with the chart library, has the few signs left to it."""
    has = characters(Path(get_data_path()) / "fonts/ttf/DejaVuSans.ttf")

    assert [sign for sign in LEFT_TO_DEJAVU if ord(sign) not in has] == []


def test_the_readme_names_every_font_and_every_missing_sign() -> None:
    """The folder's README lists the files there are and the signs there are not; the licence is beside."""
    text = (fonts_dir() / "README.md").read_text(encoding="utf-8")

    assert {file.name for file in FILES} == {
        word for word in text.split("`") if word.endswith(".ttf") and " " not in word
    }
    assert all(f"`{sign}`" in text for sign in LEFT_TO_DEJAVU)
    assert "SIL OPEN FONT LICENSE Version 1.1" in (fonts_dir() / "OFL.txt").read_text(encoding="utf-8")


def test_the_list_of_letters_is_fresh() -> None:
    """What the reader lets pass is what the fonts can print (``python -m tests.agreement.letters``)."""
    assert LIST.read_text(encoding="ascii") == list_of_letters()


@pytest.mark.parametrize("text", ["", SIGNS, LEFT_TO_DEJAVU, "two\nlines\tand a tab", "Žluťoučký Ελλάς Щука"])
def test_what_the_fonts_have_passes(text: str) -> None:
    """The signs of the trade and the letters of European names are let through."""
    assert odd_letter(text) is None


@pytest.mark.parametrize(
    ("text", "code", "found"),
    [
        ("bench 🛠", "Y114", "🛠 (U+1F6E0 as character 7 of the text)"),
        ("東京", "Y114", "東 (U+6771 as character 1 of the text)"),
        ("x\u202ey", "Y113", "U+202E as character 2 of the text"),
        ("\uf6c5", "Y113", "U+F6C5 as character 1 of the text"),
    ],
)
def test_what_they_lack_is_named(text: str, code: str, found: str) -> None:
    """Letter and place in the text are told; a letter nobody can read is not shown."""
    odd = odd_letter(text)
    assert odd is not None
    assert (odd.code, odd.found) == (code, found)


@pytest.fixture
def copied(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Path]:
    """A folder of fonts that can be spoilt."""
    shutil.copytree(fonts_dir(), tmp_path / "fonts")
    monkeypatch.setattr(fonts, "fonts_dir", lambda: tmp_path / "fonts")
    fonts.whole_fonts.cache_clear()
    yield tmp_path / "fonts"
    fonts.whole_fonts.cache_clear()


def test_whole_fonts_are_those_that_are_shipped(copied: Path) -> None:
    """Every font has a digest, and each digest its font."""
    assert [path.name for path in fonts.whole_fonts()] == [path.name for path in FILES]
    assert copied == fonts.whole_fonts()[0].parent


def test_a_damaged_font_is_named(copied: Path) -> None:
    """One turned bit is told, with the file and the cure."""
    spoilt = bytearray((copied / "Inter-Bold.ttf").read_bytes())
    spoilt[5000] ^= 1
    (copied / "Inter-Bold.ttf").write_bytes(spoilt)
    with pytest.raises(CannotRender, match=r"Inter-Bold\.ttf: the font is damaged.*; install inspect-report"):
        fonts.whole_fonts()


@pytest.mark.parametrize("gone", ["Inter-Italic.ttf", "digests.txt"])
def test_a_missing_font_is_named(copied: Path, gone: str) -> None:
    """The file that is not there is told."""
    (copied / gone).unlink()
    with pytest.raises(CannotRender, match=rf"{gone}: .*cannot be read: No such file"):
        fonts.whole_fonts()


def test_a_missing_fallback_is_named(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Its package is to be installed again."""
    monkeypatch.setattr(fonts, "fallback_font", lambda: tmp_path / "DejaVuSans.ttf")
    fonts.fallback.cache_clear()
    with pytest.raises(CannotRender, match="install matplotlib again"):
        fonts.fallback()
    fonts.fallback.cache_clear()


def test_the_fallback_is_found_without_loading_the_chart_library() -> None:
    """It lies where the chart library says its data are."""
    assert fallback_font() == Path(get_data_path()) / "fonts" / "ttf" / "DejaVuSans.ttf"
