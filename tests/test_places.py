"""Turns the four kinds of shipped files into proof that they are found in the source tree."""

from inspect_report.places import fonts_dir, knowledge_dir, schemas_dir, templates_dir
from tests.samples import ROOT


def test_the_tree_holds_every_kind_where_a_reader_looks_for_it() -> None:
    """Templates stand at the top for the designer, the rest inside the package."""
    assert templates_dir() == ROOT / "templates"
    assert fonts_dir() == ROOT / "inspect_report/fonts"
    assert knowledge_dir() == ROOT / "inspect_report/knowledge"
    assert schemas_dir() == ROOT / "inspect_report/schemas"
