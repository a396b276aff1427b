"""JSON Schemas: published as the records are, of the draft they name, and kept by every file we ship."""

import json
from pathlib import Path
from typing import Any

import pytest
from jsonschema import Draft202012Validator

from inspect_report.knowledge.bench import new_inspection
from inspect_report.knowledge.schemas import PUBLISHED, schema_text, write_schemas
from inspect_report.places import knowledge_dir, schemas_dir
from inspect_report.records.complaints import kebab
from inspect_report.records.shape import read_file
from inspect_report.records.yaml import read_yaml
from tests.knowledge.made import INSPECTION, SHEET, WORKSHOP, a_folder
from tests.samples import SAMPLES

KIND_OF = {kebab(next(iter(model.model_fields))): name for name, model in PUBLISHED.items()}
SHIPPED = sorted(knowledge_dir().rglob("*.yaml"))


def complaints(name: str, data: Any) -> list[str]:
    """What a schema says against some values."""
    found = Draft202012Validator(json.loads(schema_text(name))).iter_errors(data)
    return sorted(f"{'.'.join(map(str, e.path))}: {e.message}" for e in found)


@pytest.mark.parametrize("name", PUBLISHED)
def test_the_published_schema_is_that_of_the_records(name: str) -> None:
    """When this fails, run ``python -m inspect_report.knowledge.schemas``."""
    assert (schemas_dir() / f"{name}.schema.json").read_text(encoding="utf-8") == schema_text(name)


@pytest.mark.parametrize("name", PUBLISHED)
def test_a_schema_keeps_its_own_draft(name: str) -> None:
    """Every schema is one of draft 2020-12."""
    Draft202012Validator.check_schema(json.loads(schema_text(name)))


def test_schemas_are_written_whole(tmp_path: Path) -> None:
    """One file for every kind of file that people write."""
    write_schemas(tmp_path / "new")
    assert {p.name for p in (tmp_path / "new").iterdir()} == {f"{n}.schema.json" for n in PUBLISHED}


@pytest.mark.parametrize("path", SHIPPED, ids=lambda p: f"{p.parent.name}/{p.stem}")
def test_shipped_books_keep_their_schema(path: Path) -> None:
    """What the program takes, the editor takes."""
    name = path.stem if path.parent == knowledge_dir() else path.parent.name.removesuffix("s")
    assert complaints(name, read_file(path).data) == []


@pytest.mark.parametrize("path", sorted(SAMPLES.rglob("*.yaml")), ids=lambda p: str(p.relative_to(SAMPLES)))
def test_samples_keep_their_schema(path: Path) -> None:
    """Every sample is a file of a kind that has a schema, and keeps it."""
    data = read_file(path).data
    assert isinstance(data, dict)
    (name,) = {KIND_OF[key] for key in data if key in KIND_OF and key == next(iter(data))}
    assert complaints(name, data) == []


@pytest.mark.parametrize(
    ("name", "text", "said"),
    [
        ("inspection", INSPECTION + "plase: x\n", "'plase' was unexpected"),
        ("inspection", INSPECTION.replace("rebuild quote", "quote"), "'quote' is not one of"),
        ("spec-sheet", SHEET.replace("strokes: 4", "strokes: 3"), "3 is not one of [2, 4]"),
        ("workshop", WORKSHOP.replace("version: 1\n", ""), "'version' is a required property"),
        ("workshop", WORKSHOP + "labour-rat: 3\n", "'labour-rat' was unexpected"),
        ("workshop", WORKSHOP + "currency: eur\n", "'eur' is not valid"),
    ],
)
def test_an_editor_sees_what_the_program_refuses(name: str, text: str, said: str) -> None:
    """Misspelt keys, unknown words and missing lines are marked while one types."""
    assert any(said in c for c in complaints(name, read_yaml(text, "made.yaml").data))


def test_a_blank_file_is_marked_only_where_it_must_be_filled_in(tmp_path: Path) -> None:
    """Lines that may stay empty are no fault to the editor, and the first line leads it to the schema."""
    a_folder(tmp_path)
    text = new_inspection(
        tmp_path / "books" / "sheet.yaml", "fully stripped", "", tmp_path / "books" / "workshop.yaml"
    )
    assert (
        text.splitlines()[0].removeprefix("# yaml-language-server: $schema=")
        == (schemas_dir() / "inspection.schema.json").as_uri()
    )
    marked = {c.split(":")[0] for c in complaints("inspection", read_yaml(text, "made.yaml").data)}
    assert marked == {
        "inspection", "report", "dates.inspected", "dates.issued", "customer.name", "inspector.name",
        "place", "engine.serial", "reason",
    }  # fmt: skip


def test_fields_explain_themselves() -> None:
    """The sentence that stands below a field in the code stands beside its key in the editor."""
    assert '"Unique number."' in schema_text("inspection")
    assert "a number in mm, or a number with its unit" in schema_text("spec-sheet")
