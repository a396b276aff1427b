"""
Turns the records that people write into JSON Schemas, by which an editor completes and checks while typing.

``python -m inspect_report.knowledge.schemas`` writes them anew into the package.
"""

import ast
import inspect
import json
import textwrap
from itertools import pairwise
from pathlib import Path
from typing import Any, Final

from pydantic.json_schema import GenerateJsonSchema

from inspect_report.knowledge.case import Practice
from inspect_report.knowledge.catalogue import Catalogue, Cautions, Scales, Scoring
from inspect_report.knowledge.rulebook import Rulebook
from inspect_report.knowledge.workbook import Workbook
from inspect_report.places import schemas_dir
from inspect_report.records.checklist import Checklist
from inspect_report.records.complaints import kebab
from inspect_report.records.inspection import InspectionHead
from inspect_report.records.shape import Record
from inspect_report.records.specsheet import SpecSheet
from inspect_report.records.workshop import Workshop

PUBLISHED: Final[dict[str, type[Record]]] = {
    "inspection": InspectionHead,
    "spec-sheet": SpecSheet,
    "checklist": Checklist,
    "workshop": Workshop,
    "rulebook": Rulebook,
    "workbook": Workbook,
    "characteristics": Catalogue,
    "scales": Scales,
    "scoring": Scoring,
    "practice": Practice,
    "cautions": Cautions,
}
DIALECT: Final = "https://json-schema.org/draft/2020-12/schema"
_SECTIONS: Final = {
    "description": "By section and item of the checklist.",
    "type": ["object", "null"],
    "additionalProperties": {"type": ["object", "null"]},
}


class _Generator(GenerateJsonSchema):
    """The draft of 2020-12, without titles that only repeat a key."""

    schema_dialect = DIALECT

    def field_title_should_be_set(self, schema: Any) -> bool:
        return False


def schema_text(name: str) -> str:
    """The JSON Schema of a kind of file, as it is published."""
    model = PUBLISHED[name]
    schema = model.model_json_schema(by_alias=True, schema_generator=_Generator)
    described = {"$schema": DIALECT, **schema, "title": name}
    for record, part in _parts(model, schema):
        _describe(record, part)
        _allow_empty_lines(part)
        part.pop("title", None)
    if name == "inspection":
        described["properties"]["readings"] = _SECTIONS
    return json.dumps(described, indent=1, ensure_ascii=False) + "\n"


def _parts(model: type[Record], schema: dict[str, Any]) -> list[tuple[type[Record], dict[str, Any]]]:
    """Each record of a schema with its part of it."""
    records = {record.__name__: record for record in _records(Record)}
    inner = schema.get("$defs", {}).items()
    return [(model, schema), *((records[n], part) for n, part in inner if n in records)]


def _records(base: type[Record]) -> list[type[Record]]:
    return [inner for record in base.__subclasses__() for inner in (record, *_records(record))]


def _describe(record: type[Record], part: dict[str, Any]) -> None:
    ours = (base for base in record.__mro__ if issubclass(base, Record) and base is not Record)
    docs = {kebab(name): doc for base in ours for name, doc in _docs(base)}
    for key, inner in part.get("properties", {}).items():
        if key in docs:
            inner["description"] = docs[key]


def _docs(record: type) -> list[tuple[str, str]]:
    """The sentence below each field of a record, from its source."""
    tree = ast.parse(textwrap.dedent(inspect.getsource(record))).body[0]
    body = tree.body if isinstance(tree, ast.ClassDef) else []
    return [
        (field.target.id, inspect.cleandoc(text.value.value))
        for field, text in pairwise(body)
        if isinstance(field, ast.AnnAssign)
        and isinstance(field.target, ast.Name)
        and isinstance(text, ast.Expr)
        and isinstance(text.value, ast.Constant)
        and isinstance(text.value.value, str)
    ]


def _allow_empty_lines(part: dict[str, Any]) -> None:
    """A key that need not be filled in may stand there with nothing behind it."""
    required = part.get("required", ())
    for key, inner in part.get("properties", {}).items():
        if key not in required:
            part["properties"][key] = _or_nothing(inner)


def _or_nothing(inner: dict[str, Any]) -> dict[str, Any]:
    said: dict[str, Any] = {"description": inner.pop("description")} if "description" in inner else {}
    default = inner.pop("default", None)
    if default is not None:
        said["default"] = default
    return {**said, "anyOf": [*_kinds(inner), {"type": "null"}]}


def _kinds(inner: dict[str, Any]) -> list[dict[str, Any]]:
    kinds = inner["anyOf"] if set(inner) == {"anyOf"} else [inner]
    return [kind for kind in kinds if kind != {"type": "null"}]


def write_schemas(folder: Path) -> None:
    """Write every schema into a folder."""
    folder.mkdir(exist_ok=True)
    for name in PUBLISHED:
        (folder / f"{name}.schema.json").write_text(schema_text(name), encoding="utf-8")


if __name__ == "__main__":
    write_schemas(schemas_dir())
