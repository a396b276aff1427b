"""The blank inspection: every item of the depth with its places, what to expect, and nothing filled in."""

from typing import Any

import pytest

from inspect_report.records.blank import BlankOrder, blank_inspection
from inspect_report.records.checklist import DEPTHS, Depth
from inspect_report.records.yaml import read_yaml
from tests.records.made import CHECKLIST, SHEET, codes, inspected

NAMES = {"checklist": "made", "spec-sheet": "books/sheet.yaml", "workshop": "books/workshop.yaml"}


def blank(depth: Depth = "fully stripped") -> str:
    """The blank file of the made engine."""
    cautions = {"air": "Air can spin the engine.", "edges": "Mind the edges."}
    order = BlankOrder(SHEET, CHECKLIST, depth, NAMES, cautions, {"bore": ("bore-wear",)}, "file:///s.json")
    return blank_inspection(order)


def data(text: str) -> dict[str, Any]:
    """The values of a file."""
    found = read_yaml(text, "made.yaml").data
    assert isinstance(found, dict)
    return found


def test_the_grid_of_every_item_is_written_out() -> None:
    """Places of one and more axes, and no item that this engine does not have."""
    readings = data(blank())["readings"]
    assert readings["leak"] == {
        "leak-down-supply": {"all": None},
        "leak-down-cylinder": {"1": None, "2": None},
        "heard": {"1": None, "2": None},
        "finds": None,
        "turns": None,
    }
    valves = {"inlet-1": None, "inlet-2": None, "exhaust": None}
    heights = {h: {"along": None, "across": None} for h in ("top", "bottom")}
    assert readings["top"]["gap"] == {"1": valves, "2": valves}
    assert readings["top"]["bore"] == {"1": heights, "2": heights}
    assert readings["top"]["seat"] == {"1": valves, "2": valves}
    assert readings["top"].keys().isdisjoint({"coolant", "pulley-wear", "side-stand-play"})
    assert set(readings) == {"leak", "top", "further-readings"}


def test_sections_follow_the_depth() -> None:
    """In the frame only what can be reached is asked for."""
    assert set(data(blank("in the frame"))["readings"]) == {"leak"}


@pytest.mark.parametrize(
    "line",
    [
        "# yaml-language-server: $schema=file:///s.json",
        "  # ---- Leak-down",
        "  # Piston at top dead centre.",
        "  # Caution: Air can spin the engine.",
        "    # Clearance · mm · feeler gauge · by cylinder, then valve",
        "    # gap, inlet: standard 0.15 to 0.24 mm, limit at most 0.3 mm (Workshop manual, p. 3-4)",
        "    # bore wear: standard at most 0.01 mm, wear limit 0.05 mm from new (Workshop manual, p. 3-9)",
        "    # Caution: Mind the edges.",
        "    # Where is air heard? · one or more of: none | inlet | crankcase",
        "    # Chain marked · done | no",
        "    # Look before cleaning.",
        "      1: {inlet-1: , inlet-2: , exhaust: }",
        "    # Kick-start bush fit · mm",
        "  model: 600",
        "report:  # pre-purchase assessment | rebuild quote | condition history",
    ],
)
def test_comments_say_what_is_asked(line: str) -> None:
    """What an item asks for, its unit, instrument, answers, limits, hint and cautions stand above it."""
    assert line in blank().splitlines()


@pytest.mark.parametrize("depth", DEPTHS)
def test_a_blank_file_asks_for_its_head_and_nothing_else(depth: Depth) -> None:
    """Unfilled, every problem is an obligatory line of the head that is still empty."""
    read = inspected(blank(depth))
    assert set(codes(read)) == {"V207"}
    assert {p.place.path for p in read.problems} == {
        "inspection", "report", "dates.inspected", "dates.issued", "customer.name", "inspector.name",
        "place", "engine.serial", "reason",
    }  # fmt: skip


def test_names_that_would_mislead_stand_in_quotes() -> None:
    """A model 007 or one that looks like YAML is read back as it was."""
    for model in ("007", "1.50", "true", "a: b", "- x", "No. 5 #2", "6e3", ""):
        sheet = SHEET.model_copy(update={"model": model})
        text = blank_inspection(BlankOrder(sheet, CHECKLIST, "in the frame", NAMES))
        assert str(data(text)["engine"]["model"] or "") == model


def test_lines_are_short_enough_to_read() -> None:
    """Comments are wrapped."""
    assert max(map(len, (n for n in blank().splitlines() if n.lstrip().startswith("#")))) <= 110


def test_finds_ask_for_amounts() -> None:
    """A line for finds shows how kinds and amounts are written."""
    assert "nothing, or {kind: amount 1–5, …} with nothing | grey film" in blank()
