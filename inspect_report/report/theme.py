"""Turns ``theme.toml`` into colours, type and sizes for pages and charts."""

import re
import tomllib
from dataclasses import asdict, dataclass
from functools import cache
from pathlib import Path
from typing import Final

from inspect_report.places import templates_dir
from inspect_report.records.problem import CannotRender

_COLOUR: Final = re.compile(r"#[0-9a-fA-F]{3}|#[0-9a-fA-F]{6}|[a-zA-Z]+")


@dataclass(frozen=True, slots=True)
class Colours:
    """The seven colours of a page."""

    ink: str
    soft: str
    line: str
    tint: str
    paper: str
    accent: str
    accent_soft: str


@dataclass(frozen=True, slots=True)
class Chart:
    """Sizes in charts; lengths in millimetres, type and lines in points."""

    width_mm: float
    label_pt: float
    small_pt: float
    line_pt: float
    thick_pt: float


@dataclass(frozen=True, slots=True)
class Photo:
    """The place a photo has on paper, in millimetres, and its resolution in pixels to the inch."""

    width_mm: float = 85.0
    height_mm: float = 64.0
    dpi: float = 220.0


@dataclass(frozen=True, slots=True)
class Theme:
    """Everything that decides the look apart from the style sheets."""

    light: Colours
    dark: Colours
    family: str
    fallback: str
    chart: Chart
    photo: Photo = Photo()


def _named(table: dict[str, object]) -> dict[str, object]:
    return {key.replace("-", "_"): value for key, value in table.items()}


def _numbers(table: dict[str, object]) -> dict[str, float]:
    return {key: float(str(value)) for key, value in _named(table).items()}


def _colours(table: dict[str, object]) -> dict[str, str]:
    for name, value in table.items():
        if not _COLOUR.fullmatch(str(value)):
            raise ValueError(f"{name} = {value!r}: a colour is written as #rgb, #rrggbb or by its name")
    return {name: str(value) for name, value in _named(table).items()}


def _sane(photo: Photo) -> Photo:
    if not (10 <= photo.width_mm <= 300 and 10 <= photo.height_mm <= 300 and 50 <= photo.dpi <= 600):
        raise ValueError("a photo takes 10 to 300 mm either way, at 50 to 600 pixels to the inch")
    return photo


def sizes(photo: Photo) -> dict[str, str]:
    """Sizes on paper by the name of their CSS variable."""
    return {"--photo-width": f"{photo.width_mm:g}mm", "--photo-height": f"{photo.height_mm:g}mm"}


@cache
def theme(folder: Path | None = None) -> Theme:
    """
    The theme of a template folder.

    Raises:
        CannotRender: the file cannot be read, or a value is missing or of another kind.
    """
    path = (folder or templates_dir()) / "theme.toml"
    try:
        data = tomllib.loads(path.read_text(encoding="utf-8"))
        chart = Chart(**_numbers(data["chart"]))
        photo = _sane(Photo(**_numbers(data.get("photo", {}))))
        light, dark = (Colours(**_colours(data[name])) for name in ("colour", "dark"))
        return Theme(light, dark, str(data["font"]["family"]), str(data["font"]["fallback"]), chart, photo)
    except (OSError, KeyError, TypeError, ValueError) as fault:
        raise CannotRender(f"{path}: the theme cannot be used: {fault}") from None


def custom_properties(colours: Colours) -> dict[str, str]:
    """Colours by the name of their CSS variable."""
    return {f"--{name.replace('_', '-')}": str(value) for name, value in asdict(colours).items()}


def variables(colours: Colours) -> str:
    """Colours as CSS declarations."""
    return " ".join(f"{name}: {value};" for name, value in custom_properties(colours).items())
