"""Templates do no sums, switch nothing off and use only what is promised; every page comes out strict."""

from dataclasses import fields, is_dataclass
from pathlib import Path
from typing import Any, get_args, get_type_hints

import pytest
from jinja2 import Environment, meta, nodes

from inspect_report.places import templates_dir
from inspect_report.records.problem import CannotRender
from inspect_report.report.bound import Chapter
from inspect_report.report.contextbook import context_book
from inspect_report.report.pages import _stacked, environment, page, stylesheet
from inspect_report.report.reportview import HistoryView, ReportView
from inspect_report.report.sheetview import SheetView
from inspect_report.report.view_history import history_view
from tests.report.an_assessment import an_assessment

TEMPLATES = sorted(templates_dir().rglob("*.html"))
SUMS = (
    nodes.Add,
    nodes.Sub,
    nodes.Mul,
    nodes.Div,
    nodes.FloorDiv,
    nodes.Mod,
    nodes.Pow,
    nodes.Concat,
)
KINDS = ("rebuild-quote", "pre-purchase-assessment", "condition-history")


def parsed(path: Path) -> nodes.Template:
    """A template as its tree."""
    made = Environment(autoescape=True)
    made.filters.update(picture=str, drawing=str, stacked=str)
    return made.parse(path.read_text(encoding="utf-8"))


@pytest.mark.parametrize("path", TEMPLATES, ids=lambda p: p.name)
def test_templates_only_loop_ask_and_include(path: Path) -> None:
    """No arithmetic, no macros, no call but of 'say' with a text, no filter but our three."""
    tree = parsed(path)
    assert [
        type(n).__name__ for n in tree.find_all((*SUMS, nodes.Macro, nodes.Import, nodes.CallBlock))
    ] == []
    for call in tree.find_all(nodes.Call):
        assert isinstance(call.node, nodes.Name)
        assert call.node.name == "say"
        assert [type(a) for a in call.args] == [nodes.Const]
    assert {f.name for f in tree.find_all(nodes.Filter)} <= {"picture", "drawing", "stacked"}


@pytest.mark.parametrize("path", TEMPLATES, ids=lambda p: p.name)
def test_templates_use_no_unknown_name(path: Path) -> None:
    """Free names are the page, its styles, its medium, and what a part is given by its caller."""
    parts = {
        "result",
        "chip",
        "bar",
        "chart",
        "facts",
        "assembly",
        "photo",
        "chain",
        "opens",
        "across",
        "whose",
        "grid",
    }
    given = {"say", "page", "css", "medium", "sheets", "chapters"} | parts
    assert meta.find_undeclared_variables(parsed(path)) <= given


def views() -> set[type]:
    """Every view a template may see."""
    found: set[type] = set()
    waiting: list[Any] = [ReportView, HistoryView, SheetView]
    while waiting:
        hint = waiting.pop()
        waiting += get_args(hint)
        if (
            isinstance(hint, type)
            and is_dataclass(hint)
            and hint not in found
            and "chartspec" not in hint.__module__
        ):
            found.add(hint)
            waiting += get_type_hints(hint).values()
    return found


def test_every_field_is_explained() -> None:
    """Whoever writes templates finds each name with a sentence."""
    for view in views():
        for field in fields(view):
            assert len(field.metadata["help"]) > 2, (view, field.name)


def test_templates_use_only_promised_attributes() -> None:
    """Every attribute a template reads is a field of a view or of a chart."""
    known = {f.name for view in (*views(), Chapter) for f in fields(view)} | {
        "title",
        "alt",
        "caption",
        "first",
        "last",
        "length",
    }
    for path in TEMPLATES:
        for node in parsed(path).find_all(nodes.Getattr):
            assert node.attr in known, (path.name, node.attr)


def test_the_list_of_names_is_up_to_date() -> None:
    """`python -m inspect_report.report.contextbook` writes it anew."""
    assert (templates_dir() / "CONTEXT.md").read_text(encoding="utf-8") == context_book()


@pytest.mark.parametrize("kind", KINDS)
def test_every_kind_of_report_comes_out(shown: ReportView, kind: str) -> None:
    """Each kind holds the whole of the record."""
    made = page(environment(None, lambda thing: "data:,"), f"{kind}.html", shown, "screen", "")
    for part in (
        "What must be done",
        "What it costs",
        "Not inspected",
        "Cautions",
        "How verdicts are reached",
    ):
        assert part in made


def test_a_history_comes_out() -> None:
    """The page of several inspections is drawn by the same strict environment."""
    made = page(
        environment(None, lambda thing: "data:,"),
        "history.html",
        history_view([an_assessment()], "T"),
        "screen",
        "",
    )
    assert "Over running time" in made


def test_text_is_escaped(folder: Path) -> None:
    """Markup in any text of an inspection is printed, not obeyed."""
    from inspect_report.report.view import view

    engine = {
        "maker": "<b>Corvane</b>",
        "model": "CV4",
        "serial": '"><script>x</script>',
        "history": "<i>x</i>",
    }
    made = page(
        environment(None, lambda t: "data:,"),
        "rebuild-quote.html",
        view(an_assessment(engine=engine)),
        "screen",
        "",
    )
    assert "<script" not in made
    assert "<i>x" not in made
    assert "&lt;b&gt;Corvane" in made


def test_own_templates_take_the_place_of_shipped_ones(shown: ReportView, tmp_path: Path) -> None:
    """A file of the same name in a workshop's folder is used; all others stay."""
    (tmp_path / "parts").mkdir()
    (tmp_path / "parts" / "order.html").write_text("<p>Our own order form</p>")
    made = page(environment(tmp_path, lambda t: "data:,"), "rebuild-quote.html", shown, "screen", "")
    assert "Our own order form" in made
    assert "What must be done" in made


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("\n{{ page.nothing }}", r"order\.html:2: a name that no view has"),
        ("{% if %}", r"order\.html:1: a fault in the template"),
        ("{{ 1 + page.title }}", r"order\.html:1: a fault in the template"),
        ("{{ page.__class__.__mro__ }}", "a name that no view has|a fault in the template"),
    ],
)  # fmt: skip
def test_a_fault_in_a_template_is_told(shown: ReportView, tmp_path: Path, text: str, told: str) -> None:
    """What is wrong is named with the template; nothing of Python can be reached."""
    (tmp_path / "parts").mkdir()
    (tmp_path / "parts" / "order.html").write_text(text)
    with pytest.raises(CannotRender, match=told):
        page(environment(tmp_path, lambda t: "data:,"), "rebuild-quote.html", shown, "screen", "")


def test_a_missing_style_sheet_is_told() -> None:
    """The name that was looked for is given."""
    with pytest.raises(CannotRender, match=r"odd\.css: no such style sheet"):
        stylesheet("odd.css", None)


def test_data_tables_have_flat_heads() -> None:
    """No cell spans others, but on screens that of a chain; every head cell says what it heads."""
    for path in TEMPLATES:
        text = path.read_text(encoding="utf-8")
        assert "rowspan" not in text
        assert "colspan" not in text or path.name in ("chainrow.html", "whyrow.html")
        assert text.count("<th") - text.count("<thead") == text.count("<th scope="), path.name
        assert text.count('<table class="data') == text.count("<caption>"), path.name


def test_no_opacity_on_pages() -> None:
    """The `opacity` of HTML breaks PDF/UA; paler colours are used instead."""
    for path in templates_dir().glob("*.css"):
        assert "opacity" not in path.read_text(encoding="utf-8")


def test_an_amount_in_two_units_stands_on_two_lines_and_is_escaped() -> None:
    """One told in one unit stays as it is."""
    assert _stacked("0.16 mm (6.3 thou)") == "0.16 mm<br>(6.3 thou)"
    assert _stacked("0.16 mm") == "0.16 mm"
    assert _stacked("<b> (<i>)") == "&lt;b&gt;<br>(&lt;i&gt;)"
