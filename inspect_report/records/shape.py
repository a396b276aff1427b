"""Turns plain values into frozen records, and a model's complaint into a problem with its place."""

import math
import re
from datetime import date
from decimal import Decimal
from functools import cache
from pathlib import Path as FilePath
from typing import Annotated, Any, Final, TypeVar

from pydantic import (
    BaseModel,
    BeforeValidator,
    ConfigDict,
    Field,
    ValidationError,
    ValidationInfo,
    WithJsonSchema,
    model_validator,
)
from pydantic_core import PydanticCustomError

from inspect_report.records.complaints import complaints, kebab
from inspect_report.records.problem import InvalidInput, Place, Problem, Read, nearest
from inspect_report.records.quantity import (
    QuantityFault,
    meant_units,
    number_and_unit,
    read_amount,
    si,
    unit_named,
)
from inspect_report.records.yaml import MOST_CHARACTERS, Document, read_yaml


class Record(BaseModel):
    """A frozen record read from a file: keys in kebab-case, unknown ones refused."""

    model_config = ConfigDict(
        frozen=True,
        extra="forbid",
        alias_generator=kebab,
        populate_by_name=True,
    )

    @model_validator(mode="before")
    @classmethod
    def _without_empty_lines(cls, written: Any) -> Any:
        """A key with nothing behind it is as good as not written; one that must be filled is then missing."""
        if not isinstance(written, dict) or None not in written.values():
            return written
        known = _keys_taken(cls)
        return {k: v for k, v in written.items() if v is not None or k not in known}


@cache
def _keys_taken(model: type[BaseModel]) -> frozenset[str]:
    return frozenset(key for name in model.model_fields for key in (name, kebab(name)))


M = TypeVar("M", bound=Record)

MOST_BYTES: Final = 4 * MOST_CHARACTERS + 1
AMOUNT_SCHEMA: Final = {"type": ["number", "string"], "description": "a number, or a number with its unit"}


def refusal(code: str, title: str, allowed: str, mend: str, *, key: str = "") -> PydanticCustomError:
    """A complaint in our own form, for validators of records; ``key`` names the key at fault in a record."""
    words = {"code": code, "title": title, "allowed": allowed, "mend": mend, "key": key}
    return PydanticCustomError("refusal", "{title}", words)


def amount_in(written: object, unit: str) -> float:
    """An amount as SI, complaining in the form records use."""
    try:
        return read_amount(written, unit)
    except QuantityFault as fault:
        raise refusal("V201", fault.title, fault.allowed, fault.mend) from None


SI: Final = {"si": True}
"""Validation context for records that come back from our own JSON, where amounts are SI already."""


def is_si(info: ValidationInfo) -> bool:
    """Whether amounts come from our own JSON and not from people."""
    return bool(info.context and info.context.get("si"))


def _as_float(written: object) -> float:
    if isinstance(written, int | float) and not isinstance(written, bool):
        return float(written)
    raise refusal("V201", "not an amount", "a number in SI", "write the assessment anew from its inspection")


def amount(
    unit: str, *, low: float | None = None, above: float | None = None, below: float | None = None
) -> Any:
    """
    The type of a field that holds an amount; a bare number takes ``unit``, the value kept is SI.

    Args:
        unit: The unit asked for.
        low: Smallest value allowed. [unit]
        above: Value that must be exceeded. [unit]
        below: Value that must not be reached. [unit]
    """
    known = unit_named(unit)
    allowed = _bounds(unit, low, above, below)

    def read(written: object, info: ValidationInfo) -> float:
        if is_si(info):
            return _as_float(written)
        value = amount_in(written, unit)
        number = (value - known.offset) / known.factor
        too_low = (low is not None and number < low) or (above is not None and number <= above)
        if too_low or (below is not None and number >= below):
            raise refusal("V202", "amount out of range", allowed, _meant(written, unit, low, above, below))
        return value

    schema = {**AMOUNT_SCHEMA, "description": f"a number in {unit}, or a number with its unit"}
    return Annotated[float, BeforeValidator(read), WithJsonSchema(schema)]


def _meant(written: object, unit: str, *bounds: float | None) -> str:
    """What to do about an amount out of range: the units in which it would be right, where there are some."""
    low, above, below = bounds
    least = low if low is not None else above
    ends = (-math.inf if least is None else si(least, unit), math.inf if below is None else si(below, unit))
    number, taken = number_and_unit(written, unit)
    offers = meant_units(number, taken, *ends, unit) if all(map(math.isfinite, ends)) else []
    return "; ".join((*offers, "else correct the number")) if offers else "correct the number or its unit"


def _bounds(unit: str, low: float | None, above: float | None, below: float | None) -> str:
    """The bounds of an amount in words."""
    ends = [
        f"{low} {unit} or more" if low is not None else "",
        f"more than {above} {unit}" if above is not None else "",
        f"less than {below} {unit}" if below is not None else "",
    ]
    return ", ".join(end for end in ends if end)


_DAY: Final = re.compile(r"\d{4}-\d{2}-\d{2}", re.ASCII)
_MONEY: Final = re.compile(r"\d{1,9}(?:\.\d{1,6})?", re.ASCII)
_COMMA_MONEY: Final = re.compile(r"(\d{1,9}),(\d{1,2})", re.ASCII)


def _read_date(written: object) -> date:
    if isinstance(written, date):
        return written
    text = str(written)
    title, mend = "not a date", "write the year with four figures, then month and day with two each"
    if _DAY.fullmatch(text):
        try:
            return date.fromisoformat(text)
        except ValueError:
            title, mend = "no such day", "look at the calendar: no month 13, no 31 February"
    raise refusal("V203", title, "a day as year-month-day, for example 2026-04-09", mend)


def _read_money(written: object) -> Decimal:
    if isinstance(written, Decimal):
        return written
    text = str(written).strip()
    if isinstance(written, bool) or not _MONEY.fullmatch(text):
        allowed = "a number like 12.50, not below 0, of nine figures before the point at most"
        raise refusal("V204", "not an amount of money", allowed, _as_money(text))
    return Decimal(text)


def _as_money(text: str) -> str:
    comma = _COMMA_MONEY.fullmatch(text)
    if comma:
        return f"write {comma[1]}.{comma[2]}"
    return "write figures with a decimal point and no currency sign; the workshop file sets the currency"


def _read_text(written: object) -> str:
    if isinstance(written, bool | list | dict) or written is None:
        raise refusal(
            "V205",
            "not text",
            "a word or sentence",
            "write text; put it between quotes if it looks like a number",
        )
    return str(written)


Day = Annotated[date, BeforeValidator(_read_date), WithJsonSchema({"type": "string", "format": "date"})]
Price = Annotated[
    Decimal, BeforeValidator(_read_money), WithJsonSchema({"type": ["number", "string"], "minimum": 0})
]
TEXT_SCHEMA: Final = {"type": ["string", "number"]}
Text = Annotated[str, BeforeValidator(_read_text), WithJsonSchema(TEXT_SCHEMA)]
Id = Annotated[
    str,
    BeforeValidator(_read_text),
    Field(
        pattern=r"^[a-z0-9]+(-[a-z0-9]+)*$", description="a short name in small letters, figures and hyphens"
    ),
]


def read_as(model: type[M], document: Document) -> Read[M]:
    """A document as a record, or every fault in it."""
    data = document.data
    if not isinstance(data, dict):
        return Read(None, (_of_another_shape(document),))
    try:
        return Read(model.model_validate(data))
    except ValidationError as fault:
        return Read(None, complaints(fault, model, document))


def _of_another_shape(document: Document) -> Problem:
    if document.data is None:
        title, found, mend = (
            "file with nothing in it",
            "nothing",
            "see the example files for what belongs here",
        )
    else:
        found = "a list" if isinstance(document.data, list) else str(document.data)
        title, mend = "file of another shape", "write 'name: value' lines; see the example files"
    return document.problem("V200", title, (), found, "keys with values", mend)


def read_file(path: FilePath) -> Document:
    """
    The document in a file.

    Raises:
        InvalidInput: no such file, not text in UTF-8, or not YAML as taken here.
    """
    return document_of(raw_file(path), str(path))


def raw_file(path: FilePath) -> bytes:
    """
    The bytes of a file that people write; of one far too long only the beginning.

    Raises:
        InvalidInput: no such file, or not one that can be read.
    """
    try:
        if path.exists() and not path.is_file():
            found = "a folder" if path.is_dir() else "a device"
            raise _no_file(str(path), "Y110", "not a file", found, "name the file itself")
        with path.open("rb") as file:
            return file.read(MOST_BYTES)
    except (OSError, ValueError) as fault:
        found = getattr(fault, "strerror", None) or "no file of this name"
        raise _no_file(str(path), "Y110", "cannot be opened", found, _to_open(path, fault)) from None


def _to_open(path: FilePath, fault: OSError | ValueError) -> str:
    if isinstance(fault, PermissionError):
        return "let yourself read the file and enter its folder"
    near = nearest(path.name, _beside(path)) if isinstance(fault, FileNotFoundError) else None
    return f"write {str(path.parent / near)!r} if that is meant" if near else "check name and folder"


def _beside(path: FilePath) -> tuple[str, ...]:
    try:
        return tuple(sorted(p.name for p in path.parent.glob("*.y*ml")))
    except OSError:
        return ()


def document_of(raw: bytes, name: str) -> Document:
    """
    The document in the bytes of a file.

    Raises:
        InvalidInput: not text in UTF-8, or not YAML as taken here.
    """
    try:
        text = raw.decode("utf-8-sig")
    except UnicodeDecodeError as fault:
        raise _not_utf8(raw, fault.start, name) from None
    return read_yaml(text, name)


def _not_utf8(raw: bytes, at: int, name: str) -> InvalidInput:
    """The fault at the first byte that is no UTF-8, with its line where the file is text for the rest."""
    before = raw[:at].decode("utf-8-sig", errors="replace")
    line, column = before.count("\n") + 1, len(before) - before.rfind("\n")
    excerpt = raw.decode("utf-8-sig", errors="replace").split("\n")[line - 1]
    found, mend = f"byte {raw[at]:#04x}, the {at + 1}th of the file", "save the file as UTF-8 in your editor"
    place, allowed = Place(name, line, column), "a YAML file in UTF-8"
    return InvalidInput([Problem("Y111", "error", "not text in UTF-8", place, found, allowed, mend, excerpt)])


def _no_file(name: str, code: str, title: str, found: str, mend: str) -> InvalidInput:
    problem = Problem(code, "error", title, Place(name, 1, 1), found, "a YAML file in UTF-8", mend)
    return InvalidInput([problem])
