"""Turns values back into a file that people wrote, with their comments and their order kept."""

from collections.abc import Mapping
from io import StringIO
from typing import Any

from inspect_report.records.yaml import Path, Plain, path_text


def filled(text: str, values: Mapping[Path, Plain]) -> str:
    """
    The text of a YAML file with some values set, comments and order as they were.

    Args:
        text: The file as it is.
        values: What to write, by the path of keys and list places it stands at.

    Raises:
        KeyError: a path leads through something that holds no keys.
    """
    from ruamel.yaml import YAML

    yaml = YAML(typ="rt")
    yaml.preserve_quotes = True
    yaml.width = 10_000
    data = yaml.load(text)
    for path, value in values.items():
        _set(data, path, value)
    out = StringIO()
    yaml.dump(data, out)
    return out.getvalue()


def _set(data: Any, path: Path, value: Plain) -> None:
    for step in path[:-1]:
        data = _below(data, step, path)
    if not hasattr(data, "__setitem__"):
        raise KeyError(path_text(path))
    data[_key(data, path[-1])] = value


def _below(data: Any, step: str | int, path: Path) -> Any:
    key = _key(data, step)
    if isinstance(data, dict) and data.get(key) is None:
        data[key] = {}
    try:
        return data[key]
    except (TypeError, IndexError):
        raise KeyError(path_text(path)) from None


def _key(data: Any, step: str | int) -> str | int:
    """The key as the file has it: ``1`` is a number to a YAML library, and text to us."""
    if isinstance(data, dict) and step not in data:
        return next((key for key in data if str(key) == str(step)), step)
    return step
