"""Turns the shipped fonts and their fallback into the list of letters a report can print."""

from fontTools.ttLib import TTFont

from inspect_report.places import fallback_font, fonts_dir

LIST = fonts_dir() / "letters.txt"


def list_of_letters() -> str:
    """Ranges of code points, one a line: what every style of the family has, and what the fallback has."""
    family = [_letters(path) for path in sorted(fonts_dir().glob("*.ttf"))]
    ranges: list[list[int]] = []
    for letter in sorted(set.intersection(*family) | _letters(fallback_font())):
        if ranges and ranges[-1][1] == letter - 1:
            ranges[-1][1] = letter
        else:
            ranges.append([letter, letter])
    return "".join(f"{a:04X}-{b:04X}\n" if a != b else f"{a:04X}\n" for a, b in ranges)


def _letters(path: object) -> set[int]:
    with TTFont(path) as font:
        return set(font.getBestCmap())


if __name__ == "__main__":
    LIST.write_text(list_of_letters(), encoding="ascii")
