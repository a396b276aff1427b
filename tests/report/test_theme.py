"""The theme keeps text legible and stays clear of lamp colours."""

import colorsys
from dataclasses import asdict
from pathlib import Path

import pytest

from inspect_report.places import templates_dir
from inspect_report.records.problem import CannotRender
from inspect_report.report.theme import Colours, theme


def channels(colour: str) -> tuple[float, float, float]:
    """Red, green and blue of a colour, 0 to 1."""
    red, green, blue = (int(colour[i : i + 2], 16) / 255 for i in (1, 3, 5))
    return red, green, blue


def luminance(colour: str) -> float:
    """Relative luminance as WCAG 2 defines it (from memory)."""
    red, green, blue = (c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in channels(colour))
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(one: str, other: str) -> float:
    """Contrast ratio as WCAG 2 defines it (from memory)."""
    light, dark = sorted((luminance(one), luminance(other)), reverse=True)
    return (light + 0.05) / (dark + 0.05)


@pytest.mark.parametrize("colours", [theme().light, theme().dark], ids=["light", "dark"])
def test_text_stands_out(colours: Colours) -> None:
    """WCAG 2 success criterion 1.4.3: text at 4.5 to 1 or more against what is behind it."""
    for behind in (colours.paper, colours.tint):
        for text in (colours.ink, colours.soft, colours.accent):
            assert contrast(text, behind) >= 4.5, (text, behind)
    assert contrast(colours.ink, colours.accent_soft) >= 4.5
    assert contrast(colours.soft, colours.accent_soft) >= 4.5
    assert contrast(colours.ink, colours.line) >= 4.5


@pytest.mark.parametrize("colours", [theme().light, theme().dark], ids=["light", "dark"])
def test_no_lamp_colours(colours: Colours) -> None:
    """Every colour is a grey or a blue: hue between 180 and 250 degrees, or hardly any."""
    for colour in asdict(colours).values():
        hue, _, strength = colorsys.rgb_to_hls(*channels(colour))
        assert 180 <= 360 * hue <= 250 or strength < 0.05, colour


def test_a_fault_in_the_theme_is_told(tmp_path: Path) -> None:
    """A theme without its colours names its file."""
    (tmp_path / "theme.toml").write_text("[colour]\n")
    with pytest.raises(CannotRender, match=r"theme\.toml: the theme cannot be used"):
        theme(tmp_path)


def test_a_colour_that_cannot_be_drawn_is_told(tmp_path: Path) -> None:
    """A colour that charts and pages would read differently is refused by its name."""
    ours = (templates_dir() / "theme.toml").read_text(encoding="utf-8")
    (tmp_path / "theme.toml").write_text(ours.replace('ink = "#17212b"', 'ink = "oklch(0.2 0 0)"'))
    with pytest.raises(CannotRender, match=r"theme\.toml: .*ink = 'oklch.*': a colour is written as"):
        theme(tmp_path)
