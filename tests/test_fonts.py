"""Turns the shipped fonts into the promise that no sign of a report is printed as an empty box."""

from pathlib import Path

import pytest
from fontTools.ttLib import TTFont
from matplotlib import get_data_path

from inspect_report.places import fonts_dir

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
