"""Turns a model's complaints about a document into problems, each at its place and in our own words."""

from collections.abc import Callable, Iterable, Iterator, Sequence
from typing import Any, Final

from pydantic import BaseModel, ValidationError
from pydantic_core import ErrorDetails

from inspect_report.records.problem import Problem, in_file_order, nearest, some
from inspect_report.records.yaml import Document, Path, Plain

Model = type[BaseModel]
Words = tuple[str, str, str, str]
_ABOUT_KEYS: Final = ("missing", "extra_forbidden")


def kebab(name: str) -> str:
    """A field's name as it is written in files."""
    return name.rstrip("_").replace("_", "-")


def complaints(fault: ValidationError, model: Model, document: Document) -> tuple[Problem, ...]:
    """
    The problems behind a failed validation, in file order.

    Args:
        fault: What the model says.
        model: The record the document was to become.
        document: Where it was written.
    """
    problems = []
    for group in _by_value(_own(fault.errors(include_url=False)), document):
        problems.append(_problem(group, model, document))
    return in_file_order(problems)


def _own(errors: list[ErrorDetails]) -> list[ErrorDetails]:
    """Without lists called too short only because the model left out their faulty entries."""
    starts = {error["loc"][:n] for error in errors for n in range(len(error["loc"]))}
    return [e for e in errors if e["type"] != "too_short" or e["loc"] not in starts]


def _by_value(errors: Iterable[ErrorDetails], document: Document) -> Iterator[list[ErrorDetails]]:
    """Complaints that belong together: a value of several possible kinds is complained of once for each."""
    groups: dict[Path, list[ErrorDetails]] = {}
    for error in errors:
        if error["type"] in _ABOUT_KEYS:
            yield [error]
        else:
            groups.setdefault(_written_path(error["loc"], document), []).append(error)
    yield from groups.values()


def _problem(group: list[ErrorDetails], model: Model, document: Document) -> Problem:
    error = group[0]
    path = _path(error, document)
    code, title, allowed, mend = _words(error, model, path, document)
    others = (_words(e, model, path, document)[2] for e in group[1:])
    allowed = " or ".join(dict.fromkeys((allowed, *others)))
    at_key = error["type"] == "extra_forbidden"
    found = f"key {error['loc'][-1]!r}" if at_key else _found(error, path, document)
    return document.problem(code, title, path, found, allowed, mend, at_key=at_key)


def _words(error: ErrorDetails, model: Model, path: Path, document: Document) -> Words:
    if error["type"] == "missing" and path in document.texts and path:
        return _still_empty(str(path[-1]))
    return _WORDS.get(error["type"], _other)(error, model)


def _path(error: ErrorDetails, document: Document) -> Path:
    path = _written_path(error["loc"], document)
    key = str(error.get("ctx", {}).get("key", "")) if error["type"] == "refusal" else ""
    return (*path, key) if key and (*path, key) in document.starts else path


def _written_path(loc: Sequence[str | int], document: Document) -> Path:
    """The longest run of an error's steps that stands in the file; models put steps of their own between."""
    return _longest((), tuple(loc), document)


def _longest(path: Path, loc: Path, document: Document) -> Path:
    if not loc:
        return path
    skipped = _longest(path, loc[1:], document)
    step = _step(path, loc[0], document)
    taken = _longest((*path, step), loc[1:], document) if step is not None else path
    # The last step is the fault's own key; a step between may be called like another key beside it.
    return max(taken, skipped, key=lambda p: (p[-1:] == tuple(loc[-1:]), len(p)))


def _step(path: Path, step: str | int, document: Document) -> str | int | None:
    return next((s for s in (step, str(step)) if (*path, s) in document.starts), None)


def _at(data: Plain, path: Path) -> Plain:
    for step in path:
        if isinstance(data, dict) and isinstance(step, str):
            data = data.get(step)
        elif isinstance(data, list) and isinstance(step, int):
            data = data[step]
    return data


def _found(error: ErrorDetails, path: Path, document: Document) -> str:
    return "nothing" if error["type"] == "missing" else value_text(_at(document.data, path), path, document)


def value_text(value: Plain, path: Path, document: Document) -> str:
    """What stands at a path, for a message; single values as typed."""
    if isinstance(value, dict):
        return _mapping_text(value, path, document) if value else "an empty mapping"
    if isinstance(value, list):
        inner = (value_text(v, (*path, i), document) for i, v in enumerate(value))
        return f"the list [{some(inner, 6)}]"
    return "nothing" if value is None else document.text(path) or str(value) or "an empty text"


def _mapping_text(value: dict[str, Plain], path: Path, document: Document) -> str:
    """A short mapping as written, of a longer one its keys."""
    if len(value) > 3 or any(isinstance(v, dict | list) for v in value.values()):
        return "keys " + some(value)
    inner = (f"{k}: {value_text(v, (*path, k), document)}" for k, v in value.items())
    return f"{{{', '.join(inner)}}}"


def _keys_of(model: Model, loc: Sequence[str | int]) -> tuple[str, ...]:
    """The keys that records take at a location."""
    models: tuple[Model, ...] = (model,)
    for step in loc:
        models = _models_at(models, step)
    return tuple(dict.fromkeys(kebab(name) for m in models for name in m.model_fields))


def _models_at(models: tuple[Model, ...], step: str | int) -> tuple[Model, ...]:
    """The records below a step; one that names no field is a place in a list, or tells kinds apart."""
    fields = [(m, f) for m in models for name, f in m.model_fields.items() if step in (name, kebab(name))]
    below = tuple(inner for _, field in fields for inner in _models_in(field.annotation))
    return below or tuple(m for m, _ in fields) or models


def _models_in(annotation: Any) -> Iterator[Model]:
    if isinstance(annotation, type) and issubclass(annotation, BaseModel):
        yield annotation
    for inner in getattr(annotation, "__args__", ()):
        yield from _models_in(inner)


def _still_empty(key: str) -> Words:
    return "V207", f"{key!r} is still to be filled in", f"a value for {key!r}", f"write it behind '{key}:'"


def _refused(error: ErrorDetails, model: Model) -> Words:
    context = error.get("ctx", {})
    return str(context["code"]), str(context["title"]), str(context["allowed"]), str(context["mend"])


def _unknown_key(error: ErrorDetails, model: Model) -> Words:
    key, known = str(error["loc"][-1]), _keys_of(model, error["loc"][:-1])
    near = nearest(key, known)
    mend = f"write {near!r} if that is meant" if near else "delete the key, or check where it belongs"
    return "V206", "key that is not known here", some(known, 40) or "no key of this name", mend


def _missing(error: ErrorDetails, model: Model) -> Words:
    key = kebab(str(error["loc"][-1]))
    return "V207", f"{key!r} is missing", f"a value for {key!r}", f"add a line '{key}: …'"


def _choice(error: ErrorDetails, model: Model) -> Words:
    expected = str(error.get("ctx", {}).get("expected", ""))
    words = [w for w in (w.strip("' ") for w in expected.replace(" or ", ", ").split(",")) if w]
    near = nearest(str(error["input"]), words)
    mend = f"write {near!r} if that is meant" if near else "take one of the words listed"
    return "V208", "word that is not known here", some(words, 30), mend


def _pattern(error: ErrorDetails, model: Model) -> Words:
    allowed = "small letters, figures and single hyphens, for example bore-gauge-2"
    return "V209", "name of another form", allowed, "rename it in that form"


def _clause(error: ErrorDetails, model: Model) -> Words:
    allowed = str(
        error.get("ctx", {}).get("expected_tags", "quantity, rating, choice, change, all, any, not")
    )
    mend = "begin the clause with the key that says what it looks at, such as {quantity: leak-down, …}"
    return "K341", "clause that looks at nothing known", allowed.replace("'", ""), mend


def _short(error: ErrorDetails, model: Model) -> Words:
    least = error.get("ctx", {}).get("min_length", 1)
    return "V210", "list that is too short", f"{least} entries or more", "add what is missing"


def _long(error: ErrorDetails, model: Model) -> Words:
    most = error.get("ctx", {}).get("max_length", 1)
    return "V210", "list that is too long", f"{most} entries at most", "take out what is too much"


def _bound(words: str, key: str) -> Callable[[ErrorDetails, Model], Words]:
    """A number beyond what its place takes."""

    def told(error: ErrorDetails, model: Model) -> Words:
        allowed = f"{words} {error.get('ctx', {}).get(key)}"
        return "V202", "number out of range", allowed, "correct the number"

    return told


def _keys(error: ErrorDetails, model: Model) -> Words:
    allowed = f"keys with values: {some(_keys_of(model, error['loc']), 40)}"
    return "V210", "value of another kind", allowed, "write 'name: value' lines, indented below it"


def _kind(allowed: str, mend: str) -> Callable[[ErrorDetails, Model], Words]:
    return lambda error, model: ("V210", "value of another kind", allowed, mend)


def _other(error: ErrorDetails, model: Model) -> Words:
    """A complaint of the model library in its own plain words, where it has no special form here."""
    message = error["msg"].removeprefix("Input should be ").removeprefix("Value error, ")
    return "V210", "value of another kind", message, "write a value of the kind allowed here"


_WHOLE = _kind("a whole number", "write figures only, without a point or a unit")
_FIGURES = _kind("a number", "write figures, with a decimal point where needed")
_LIST = _kind("a list", "write it between brackets, [a, b], or as lines that begin with '- '")
_TRUTH = _kind("true or false", "write true or false")

_WORDS: Final[dict[str, Callable[[ErrorDetails, Model], Words]]] = {
    "refusal": _refused,
    "extra_forbidden": _unknown_key,
    "missing": _missing,
    "literal_error": _choice,
    "enum": _choice,
    "string_pattern_mismatch": _pattern,
    "union_tag_not_found": _clause,
    "union_tag_invalid": _clause,
    "too_short": _short,
    "too_long": _long,
    "int_parsing": _WHOLE,
    "int_type": _WHOLE,
    "int_from_float": _WHOLE,
    "float_parsing": _FIGURES,
    "float_type": _FIGURES,
    "decimal_parsing": _FIGURES,
    "decimal_type": _FIGURES,
    "tuple_type": _LIST,
    "list_type": _LIST,
    "dict_type": _kind("keys with values", "write 'name: value' lines, indented below it"),
    "model_type": _keys,
    "model_attributes_type": _keys,
    "greater_than_equal": _bound("at least", "ge"),
    "less_than_equal": _bound("at most", "le"),
    "greater_than": _bound("more than", "gt"),
    "less_than": _bound("less than", "lt"),
    "bool_parsing": _TRUTH,
    "bool_type": _TRUTH,
}
