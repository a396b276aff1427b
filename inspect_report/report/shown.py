"""Turns the words that explain a name to whoever writes templates into a field that carries them."""

from dataclasses import MISSING, field
from typing import Any


def shown(text: str, default: Any = MISSING) -> Any:
    """
    A field with the words that explain it to whoever writes templates.

    Args:
        text: What it is.
        default: What it is where nothing is given; it must be given when left out.
    """
    return field(default=default, metadata={"help": text})
