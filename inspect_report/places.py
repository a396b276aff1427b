"""Turns a kind of shipped file into the folder where it lies, in the source tree or in the wheel."""

from importlib.util import find_spec
from pathlib import Path

_PACKAGE = Path(__file__).resolve().parent
_PACKED_TEMPLATES = _PACKAGE / "_templates"
_TREE_TEMPLATES = _PACKAGE.parent / "templates"


def templates_dir() -> Path:
    """Folder of the page templates: packed into the wheel, or at the top of the source tree."""
    return _PACKED_TEMPLATES if _PACKED_TEMPLATES.is_dir() else _TREE_TEMPLATES


def fonts_dir() -> Path:
    """Folder of the font files and their licence."""
    return _PACKAGE / "fonts"


def fallback_font() -> Path:
    """The font that prints the few signs ours lack; it comes with the chart library."""
    found = find_spec("matplotlib")
    home = Path(found.origin).parent if found and found.origin else Path()
    return home / "mpl-data" / "fonts" / "ttf" / "DejaVuSans.ttf"


def knowledge_dir() -> Path:
    """Folder of the shipped books: checklists, scales, limits, rules, works."""
    return _PACKAGE / "knowledge"


def languages_dir() -> Path:
    """Folder of the message catalogues: one folder for each language, named by its code."""
    return _PACKAGE / "languages"


def languages() -> tuple[str, ...]:
    """Codes of the languages that a report can be told in: English, and each that has a folder."""
    folders = sorted(path.parent.name for path in languages_dir().glob("*/program.po"))
    return ("en", *(name for name in folders if name != "en"))


def schemas_dir() -> Path:
    """Folder of the JSON Schemas that editors use to check the YAML files while they are written."""
    return _PACKAGE / "schemas"


def methods_dir() -> Path:
    """Folder of the pages on each quantity: how it is measured, its formula, its range, its source."""
    return _PACKAGE / "docs"
