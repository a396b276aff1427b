"""The small parts of reading: HTML, limits in words, further items, ranges, layouts, nearest words."""

import pytest

from inspect_report.records.believable import probably_meant, range_text
from inspect_report.records.checklist import Checklist, Item, applies_to, axis_labels, in_group, positions
from inspect_report.records.crosschecks import same_place
from inspect_report.records.html import html_in
from inspect_report.records.limit_text import limit_lines
from inspect_report.records.position import ENGINE, Position, finding_id
from inspect_report.records.problem import nearest, some
from inspect_report.records.shape import read_as
from tests.records.made import CHECKLIST, SHEET, document

LIST = "checklist: a\nversion: 1\ntitle: A\nworkbook: a\nsections:\n"


@pytest.mark.parametrize(
    "text",
    [
        "<b>x</b>",
        "<br/>",
        "<img src=x onerror=y>",
        "a <!-- b -->",
        "<!DOCTYPE html>",
        "<?php",
        "</p>",
        "<SCRIPT >",
    ],
)
def test_html_is_seen(text: str) -> None:
    """Tags, comments and declarations are HTML."""
    assert html_in(text) != ""


@pytest.mark.parametrize(
    "text",
    ["wear < 0.05 mm", "0.02 <0.05", "a<b", "<https://example.org>", "x > y", "1 <= 2", "**bold** _x_"],
)
def test_what_is_no_html_is_let_pass(text: str) -> None:
    """Comparisons and links of Markdown are no tags."""
    assert html_in(text) == ""


def test_limits_in_words() -> None:
    """Each row is one line with places, standard range, limit, and source."""
    assert list(limit_lines(("gap", "bore-wear", "dog-height"), SHEET)) == [
        "gap, inlet: standard 0.15 to 0.24 mm, limit at most 0.3 mm (Workshop manual, p. 3-4)",
        "gap, exhaust: standard 0.22 to 0.31 mm (Workshop manual, p. 3-4)",
        "bore wear: standard at most 0.01 mm, wear limit 0.05 mm from new (Workshop manual, p. 3-9)",
        "dog height: nominal 0.2 in (Workshop manual, p. 9-9)",
    ]


def test_further_items_stand_where_their_row_says() -> None:
    """A row with a section joins it, one without gets a section of its own; computed ones become no item."""
    assert CHECKLIST.section_of("dog-height") == next(s for s in CHECKLIST.sections if s.id == "top")
    further = CHECKLIST.section_of("kick-bush-fit")
    assert further is not None
    assert (further.id, [i.asks for i in further.items]) == ("further-readings", ["Kick-start bush fit"])
    assert CHECKLIST.item("bore-wear") is None


def test_ranges_in_words_and_guesses() -> None:
    """The range stands in the item's unit; without one, only what cannot be below nothing is told."""
    item = Item(id="a", asks="A", kind="reading", unit="mm", range=(50, "160 mm"))
    assert range_text(item) == "50 mm to 160 mm"
    assert range_text(Item(id="a", asks="A", kind="reading", unit="mm")) == "0 or more"
    assert probably_meant("3.1", item) == "if the unit is in, write 3.1 in"


@pytest.mark.parametrize(
    ("item", "code"),
    [
        ("{id: a, asks: A, kind: reading}", "K320"),
        ("{id: a, asks: A, kind: choice}", "K320"),
        ("{id: a, asks: A, kind: rating}", "K320"),
        ("{id: a, asks: A, kind: reading, unit: mil}", "K322"),
        ("{id: a, asks: A, kind: reading, unit: mm, range: [1 bar, 2]}", "K322"),
        ("{id: a, asks: A, kind: reading, unit: mm, range: [2, 1]}", "K322"),
        ("{id: a, asks: A, kind: count, range: [few, many]}", "K322"),
        ("{id: a, asks: A, kind: wish}", "V208"),
    ],
)
def test_an_item_that_asks_for_nothing_whole(item: str, code: str) -> None:
    """An item without what its kind needs, or with a range that cannot be read, is refused."""
    text = f"{LIST}  - {{id: s, title: S, items: [{item}]}}\n"
    assert [p.code for p in read_as(Checklist, document(text)).problems] == [code]


def test_an_id_stands_once() -> None:
    """Two items of one id would share their readings."""
    tick = "{id: t, asks: T, kind: tick}"
    text = f"{LIST}  - {{id: s, title: S, items: [{tick}, {tick}]}}\n"
    assert [p.code for p in read_as(Checklist, document(text)).problems] == ["K321"]


def test_labels_of_an_engine() -> None:
    """Layout, counts and checklist give the labels; a single valve has no number."""
    assert axis_labels("valve", SHEET, CHECKLIST) == ("inlet-1", "inlet-2", "exhaust")
    assert axis_labels("main-journal", SHEET, CHECKLIST) == ("1", "2", "3")
    assert axis_labels("height", SHEET, CHECKLIST) == ("top", "bottom")
    with pytest.raises(KeyError, match="pulley"):
        axis_labels("pulley", SHEET, CHECKLIST)
    assert [p.id for p in positions(("cylinder", "height"), SHEET, CHECKLIST)] == [
        "1.top",
        "1.bottom",
        "2.top",
        "2.bottom",
    ]
    assert positions((), SHEET, CHECKLIST) == (ENGINE,)


def test_groups_of_labels() -> None:
    """``inlet`` stands for every inlet valve, and for no other word that begins so."""
    assert [in_group(n, "inlet") for n in ("inlet", "inlet-2", "inletting", "exhaust-1")] == [
        True,
        True,
        False,
        False,
    ]


def test_conditions_on_the_layout() -> None:
    """All conditions must hold; a list holds when one of its words does."""
    layout = SHEET.layout
    assert applies_to({"strokes": 4, "timing-drive": ("chain", "belt")}, layout)
    assert not applies_to({"strokes": 4, "timing-drive": "gear"}, layout)
    assert not applies_to({"no-such-thing": 1}, layout)


def test_places_that_can_be_compared() -> None:
    """Places agree along common axes; a place of a cylinder and one of a journal cannot be compared."""
    one, journal = Position(("cylinder",), ("1",)), Position(("main-journal",), ("1",))
    valve = Position(("cylinder", "valve"), ("1", "inlet"))
    assert same_place(one, valve)
    assert same_place(one, ENGINE)
    assert not same_place(one, journal)
    assert not same_place(Position(("cylinder",), ("2",)), valve)


def test_names_of_findings_and_places() -> None:
    """A place loses and gains axes without losing its order."""
    valve = Position(("cylinder", "valve"), ("2", "inlet-1"))
    assert finding_id("gap", valve) == "gap.2.inlet-1"
    assert finding_id("gap", ENGINE) == "gap"
    assert valve.without("valve") == valve.only("cylinder") == Position(("cylinder",), ("2",))
    assert (valve.label("valve"), valve.label("ring")) == ("inlet-1", None)


def test_the_nearest_word() -> None:
    """Capitals, blanks and underlines do not matter; what resembles nothing gets no offer."""
    assert nearest("Valve_Gap", ("valve-gap", "bore")) == "valve-gap"
    assert nearest("bre", ("valve-gap", "bore")) == "bore"
    assert nearest("xyz", ("valve-gap", "bore")) is None


def test_long_lists_are_cut() -> None:
    """A message stays readable."""
    assert some(map(str, range(15)), 3) == "0, 1, 2 … and 12 more"
