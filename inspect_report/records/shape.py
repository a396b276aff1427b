"""Turns plain values into frozen records, and a model's complaint into a problem with its place."""

from collections.abc import Callable, Sequence
from datetime import date
from decimal import Decimal, InvalidOperation
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
)
from pydantic_core import ErrorDetails, PydanticCustomError

from inspect_report.records.problem import InvalidInput, Place, Problem, Read, in_file_order, nearest, some
from inspect_report.records.quantity import QuantityFault, read_amount, unit_named
from inspect_report.records.yaml import MOST_CHARACTERS, Document, Path, Plain, read_yaml


def kebab(name: str) -> str:
    """A field's name as it is written in files."""
    return name.rstrip("_").replace("_", "-")


class Record(BaseModel):
    """A frozen record read from a file: keys in kebab-case, unknown ones refused."""

    model_config = ConfigDict(
        frozen=True,
        extra="forbid",
        alias_generator=kebab,
        populate_by_name=True,
        use_attribute_docstrings=True,
    )


M = TypeVar("M", bound=Record)

MOST_BYTES: Final = 4 * MOST_CHARACTERS + 1
AMOUNT_SCHEMA: Final = {"type": ["number", "string"], "description": "a number, or a number with its unit"}


def refusal(code: str, title: str, allowed: str, mend: str) -> PydanticCustomError:
    """A complaint in our own form, for validators of records; braces in the texts are taken as they stand."""
    return PydanticCustomError(
        "refusal", "{title}", {"code": code, "title": title, "allowed": allowed, "mend": mend}
    )


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


def amount(unit: str, *, low: float | None = None, above: float | None = None) -> Any:
    """
    The type of a field that holds an amount; a bare number takes ``unit``, the value kept is SI.

    Args:
        unit: The unit asked for.
        low: Smallest value allowed. [unit]
        above: Value that must be exceeded. [unit]
    """
    known = unit_named(unit)

    def read(written: object, info: ValidationInfo) -> float:
        if is_si(info):
            return _as_float(written)
        value = amount_in(written, unit)
        number = (value - known.offset) / known.factor
        if (low is not None and number < low) or (above is not None and number <= above):
            bound = f"{low} {unit} or more" if low is not None else f"more than {above} {unit}"
            raise refusal("V202", "amount out of range", bound, "correct the number or its unit")
        return value

    return Annotated[float, BeforeValidator(read), WithJsonSchema(AMOUNT_SCHEMA)]


def _read_date(written: object) -> date:
    if isinstance(written, date):
        return written
    try:
        return date.fromisoformat(str(written))
    except ValueError:
        raise refusal(
            "V203", "not a date", "a day as year-month-day, for example 2026-04-09",
            "write the year with four figures, then month and day with two each",
        ) from None  # fmt: skip


def _read_money(written: object) -> Decimal:
    text = str(written).strip()
    try:
        value = Decimal(text)
    except InvalidOperation:
        value = Decimal("NaN")
    if isinstance(written, bool) or not value.is_finite() or value < 0:
        raise refusal(
            "V204",
            "not an amount of money",
            "a number like 12.50, not below 0",
            "write figures with a decimal point and no currency sign; the workshop file sets the currency",
        )
    return value


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
Text = Annotated[str, BeforeValidator(_read_text)]
Id = Annotated[
    str,
    BeforeValidator(_read_text),
    Field(
        pattern=r"^[a-z0-9]+(-[a-z0-9]+)*$", description="a short name in small letters, figures and hyphens"
    ),
]


def read_as(model: type[M], document: Document) -> Read[M]:
    """A document as a record, or every fault in it."""
    data = {} if document.data is None else document.data
    if not isinstance(data, dict):
        found = f"a {type(data).__name__}"
        problem = document.problem(
            "V200", "file of another shape", (), found, "keys with values", "see the example files"
        )
        return Read(None, (problem,))
    try:
        return Read(model.model_validate(data))
    except ValidationError as fault:
        problems = [_problem(error, model, document) for error in fault.errors(include_url=False)]
        return Read(None, in_file_order(problems))


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
            raise _no_file(str(path), "Y110", "not a file", "a folder or a device", "name the file itself")
        with path.open("rb") as file:
            return file.read(MOST_BYTES)
    except (OSError, ValueError) as fault:
        found = getattr(fault, "strerror", None) or "no file of this name"
        raise _no_file(str(path), "Y110", "cannot be opened", found, "check name and folder") from None


def document_of(raw: bytes, name: str) -> Document:
    """
    The document in the bytes of a file.

    Raises:
        InvalidInput: not text in UTF-8, or not YAML as taken here.
    """
    try:
        text = raw.decode("utf-8-sig")
    except UnicodeDecodeError as fault:
        found = f"byte {fault.start + 1}"
        raise _no_file(name, "Y111", "not text in UTF-8", found, "save the file as UTF-8") from None
    return read_yaml(text, name)


def _no_file(name: str, code: str, title: str, found: str, mend: str) -> InvalidInput:
    problem = Problem(code, "error", title, Place(name, 1, 1), found, "a YAML file in UTF-8", mend)
    return InvalidInput([problem])


def _problem(error: ErrorDetails, model: type[Record], document: Document) -> Problem:
    path = _written_path(error["loc"], document)
    found = _found(error, path, document)
    code, title, allowed, mend = _WORDS.get(error["type"], _other)(error, model)
    return document.problem(code, title, path, found, allowed, mend)


def _written_path(loc: Sequence[str | int], document: Document) -> Path:
    """The steps of an error's location that stand in the file; models put steps of their own between."""
    path: Path = ()
    for step in loc:
        if (*path, step) in document.places:
            path = (*path, step)
        elif str(step) in _keys_at(document, path):
            path = (*path, str(step))
    return path


def _keys_at(document: Document, path: Path) -> tuple[str, ...]:
    value = _at(document.data, path)
    return tuple(value) if isinstance(value, dict) else ()


def _at(data: Plain, path: Path) -> Plain:
    for step in path:
        if isinstance(data, dict) and isinstance(step, str):
            data = data.get(step)
        elif isinstance(data, list) and isinstance(step, int):
            data = data[step]
    return data


def _found(error: ErrorDetails, path: Path, document: Document) -> str:
    if error["type"] == "missing":
        return "nothing"
    if error["type"] == "extra_forbidden":
        return f"key {error['loc'][-1]!r}"
    value = _at(document.data, path)
    if isinstance(value, dict):
        return "keys " + some(value) if value else "an empty mapping"
    if isinstance(value, list):
        return f"a list of {len(value)}"
    return "nothing" if value is None else str(value)


def _keys_of(model: type[Record], loc: Sequence[str | int]) -> tuple[str, ...]:
    """The keys a record takes at a location; follows the model's fields as far as they are records."""
    current: Any = model
    for step in loc:
        current = _record_at(current, step)
        if current is None:
            return ()
    fields = getattr(current, "model_fields", {})
    return tuple(kebab(name) for name in fields)


def _record_at(model: Any, step: str | int) -> Any:
    fields = getattr(model, "model_fields", {})
    for name, field in fields.items():
        if step in (name, kebab(name)):
            return _first_record(field.annotation)
    return model if isinstance(step, int) or not fields or step not in fields else None


def _first_record(annotation: Any) -> Any:
    if isinstance(annotation, type) and issubclass(annotation, BaseModel):
        return annotation
    for inner in getattr(annotation, "__args__", ()):
        found = _first_record(inner)
        if found is not None:
            return found
    return None


Words = tuple[str, str, str, str]


def _refused(error: ErrorDetails, model: type[Record]) -> Words:
    context = error.get("ctx", {})
    return str(context["code"]), str(context["title"]), str(context["allowed"]), str(context["mend"])


def _unknown_key(error: ErrorDetails, model: type[Record]) -> Words:
    key, known = str(error["loc"][-1]), _keys_of(model, error["loc"][:-1])
    near = nearest(key, known)
    mend = f"write {near!r} if that is meant" if near else "delete the key, or check where it belongs"
    return "V206", "key that is not known here", some(known, 30) or "no key of this name", mend


def _missing(error: ErrorDetails, model: type[Record]) -> Words:
    key = kebab(str(error["loc"][-1]))
    return "V207", f"{key!r} is missing", f"a value for {key!r}", f"add a line '{key}: …'"


def _choice(error: ErrorDetails, model: type[Record]) -> Words:
    expected = str(error.get("ctx", {}).get("expected", ""))
    words = [w.strip("' ") for w in expected.replace(" or ", ", ").split(",")]
    near = nearest(str(error["input"]), words)
    mend = f"write {near!r} if that is meant" if near else "take one of the words listed"
    return "V208", "word that is not known here", some(words, 30), mend


def _pattern(error: ErrorDetails, model: type[Record]) -> Words:
    return (
        "V209",
        "name of another form",
        "small letters, figures and single hyphens, for example bore-gauge-2",
        "rename it in that form",
    )


def _other(error: ErrorDetails, model: type[Record]) -> Words:
    """A complaint of the model library in its own plain words, where it has no special form here."""
    message = error["msg"].removeprefix("Input should be ").removeprefix("Value error, ")
    return "V210", "value of another kind", message, "write a value of the kind allowed here"


_WORDS: Final[dict[str, Callable[[ErrorDetails, type[Record]], Words]]] = {
    "refusal": _refused,
    "extra_forbidden": _unknown_key,
    "missing": _missing,
    "literal_error": _choice,
    "enum": _choice,
    "string_pattern_mismatch": _pattern,
}
