"""Turns the words that explain a name to whoever writes templates into a field that carries them."""

from dataclasses import field
from typing import Any


def shown(text: str) -> Any:
    """A field with the words that explain it to whoever writes templates."""
    return field(metadata={"help": text})
