"""A whole inspection file: head, instruments, days, what was left out, parts and pictures."""

from datetime import date
from pathlib import Path

import pytest
from PIL import Image

from tests.records.made import HEAD, INSTRUMENTS, changed, codes, inspected, the_one

WHOLE = HEAD + INSTRUMENTS


def test_a_whole_file_becomes_an_inspection() -> None:
    """Head, instruments in SI and readings come out together; the readings as typed are not kept twice."""
    inspection = inspected(WHOLE + "readings: {leak: {turns: free}}\n").value
    assert inspection is not None
    assert (inspection.number, inspection.head.engine.running_time) == ("HW-2026-031", 812 * 3600.0)
    assert inspection.answers[0].chosen == ("free",)
    assert inspection.head.readings is None
    gauge = inspection.instrument("bore-gauge")
    assert gauge is not None
    assert (gauge.resolution, gauge.permissible_error) == pytest.approx((1e-6, 3e-6))


def test_names_that_look_like_numbers_stay_as_typed() -> None:
    """A serial 1.50 and a model 0600 are names: no zero is lost."""
    inspection = inspected(changed(WHOLE, {"C6-1": "1.50", '"600"': "0600"})).value
    assert inspection is not None
    assert (inspection.head.engine.serial, inspection.head.engine.model) == ("1.50", "0600")


def test_what_is_still_empty_is_named_at_its_line() -> None:
    """An obligatory key with nothing behind it is told as still to be filled in, where it stands."""
    problem = the_one(inspected(changed(WHOLE, {"reason: burns oil": "reason:"})))
    assert (problem.code, problem.title) == ("V207", "'reason' is still to be filled in")
    assert (problem.place.line, problem.place.path) == (13, "reason")


def test_faults_of_head_and_readings_are_told_together() -> None:
    """A missing key, a misspelt one and a bad reading are three problems of one run."""
    text = changed(WHOLE, {"place: Bench 2": "plase: Bench 2"}) + "readings: {leak: {turns: fre}}\n"
    assert codes(inspected(text)) == ["V207", "V206", "V313"]


@pytest.mark.parametrize(
    ("old", "new", "code", "said"),
    [
        ("HW-2026-031", "HW/2026 031", "V350", "write it like HW-2026-031"),
        ("report:", "replaces: {issue: 1, reason: slip}\nreport:", "V344", "less than issue 1"),
        ("report:", "issue: 2\nreplaces: {issue: 3, reason: slip}\nreport:", "V344", "less than issue 2"),
        ("received: 2026-03-02", "received: 2026-03-06", "V340", "inspected before received"),
        ("issued: 2026-03-09", "issued: 2026-03-04", "V340", "issued before inspected"),
        (
            "issued: 2026-03-09",
            "inspected-until: 2026-03-01, issued: 2026-03-09",
            "V340",
            "inspected-until before",
        ),
        ("issued: 2026-03-09", "issued: 2026-06-02", "V341", "2026-06-01 or before"),
        ("issued: 2026-03-09", "issued: 9.3.2026", "V203", "not a date"),
        ("burns oil", "burns <i>oil</i>", "V346", "<i>"),
        ("burns oil", "burns&#x202e; oil", "Y113", "U+202E as character 6"),
        ("burns oil", "burns oil &#128736;", "Y114", "U+1F6E0"),
        ("burns oil", "burns oil\nnotes: |\n  Hello\n  <script>x</script>", "V346", "<script>"),
        ("burns oil", "burns oil\nopened: [head-of]", "V348", "write 'head-off' if that is meant"),
        (
            "burns oil",
            "burns oil\nleft-out: [{item: crwn, reason: x}]",
            "V347",
            "write 'crown' if that is meant",
        ),
        (
            "burns oil",
            "burns oil\nleft-out: [{item: crown, at: {cylinder: 3}, reason: x}]",
            "V304",
            "cylinder 3",
        ),
        (
            "burns oil",
            "burns oil\nleft-out: [{item: crown, at: {valve: inlet}, reason: x}]",
            "V304",
            "no valve here",
        ),
        (
            "burns oil",
            "burns oil\nfitted-parts: [{part: pistn, id: A}]",
            "V349",
            "write 'piston' if that is meant",
        ),
        (
            "burns oil",
            "burns oil\nfitted-parts: [{part: piston, id: A, at: {cylinder: 9}}]",
            "V304",
            "cylinder 9",
        ),
        (
            "burns oil",
            "burns oil\nfitted-parts: [{part: piston, id: A}, {part: piston, id: B}]",
            "V355",
            "piston B",
        ),
        (
            "burns oil",
            "burns oil\nfitted-parts: [{part: piston, id: A, fitted-at: 900}]",
            "V356",
            "at most 812 h",
        ),
        ("resolution: 0.02", "resolution: 0.02, calibrated: 2026-03-06", "V342", "2026-03-05 or before"),
        ("resolution: 0.02", "resolution: 0", "V326", "more than 0 bar"),
        ("resolution: 0.02", "resolution: 2 mm", "V201", "mm measures length, not pressure"),
        ("unit: bar", "unit: bars", "V201", "unit 'bars' is not known"),
    ],
)
def test_a_fault_of_the_head(old: str, new: str, code: str, said: str) -> None:
    """Each thing an inspection can say wrongly of itself is told once, with a way out."""
    problem = the_one(inspected(changed(WHOLE, {old: new})))
    assert problem.code == code
    assert said in f"{problem.title}; {problem.found}; {problem.allowed}; {problem.mend}"


def test_a_calibration_that_had_run_out_is_a_warning() -> None:
    """The inspection still comes out; whoever reads the report is told."""
    read = inspected(changed(WHOLE, {"resolution: 0.02": "resolution: 0.02, calibration-due: 2026-03-04"}))
    assert read.value is not None
    assert (the_one(read).code, the_one(read).weight) == ("V343", "warning")


def test_an_item_is_left_out_or_filled_in_but_not_both() -> None:
    """Leaving out one cylinder does not clash with readings of the other."""
    out = "left-out: [{item: crown, at: {cylinder: 2}, reason: not reached}]\n"
    assert codes(inspected(WHOLE + out + "readings: {top: {crown: {1: none}}}\n")) == []
    assert codes(inspected(WHOLE + out + "readings: {top: {crown: {2: none}}}\n")) == ["V309"]


def test_a_cylinder_gauge_above_its_supply_is_refused() -> None:
    """Gauges that contradict each other are told at the cylinder's reading, with the line of the other."""
    readings = "readings:\n  leak:\n    leak-down-supply: {all: 6}\n    leak-down-cylinder: {1: 5, 2: 6.2}\n"
    problem = the_one(inspected(WHOLE + readings))
    assert (problem.code, problem.found, problem.place.path) == (
        "V330",
        "6.2",
        "readings.leak.leak-down-cylinder.2",
    )


@pytest.mark.parametrize(
    ("of", "codes_told"),
    [
        ("crown.2", []),
        ("crown", []),
        ("gap.1", []),
        ("bore-wear.1", []),
        ("crown.3", ["V357"]),
        ("crwn.2", ["V357"]),
    ],
)
def test_a_picture_shows_a_known_item_or_finding(tmp_path: Path, of: str, codes_told: list[str]) -> None:
    """``of`` names an item or characteristic, and a place of it."""
    Image.new("RGB", (480, 320)).save(tmp_path / "a.png")
    photo = f"photos: [{{file: a.png, caption: x, of: {of}}}]\n"
    assert codes(inspected(WHOLE + photo, tmp_path)) == codes_told


def test_pictures_of_photo_items_stand_among_the_others(tmp_path: Path) -> None:
    """A file named at a photo item is checked, and shown with what the item asks as its caption."""
    Image.new("RGB", (4, 4)).save(tmp_path / "a.jpg")
    text = WHOLE + "readings: {top: {marks-photo: [a.jpg]}}\n"
    inspection = inspected(text, tmp_path).value
    assert inspection is not None
    assert [(p.file, p.caption, p.of) for p in inspection.head.photos] == [
        ("a.jpg", "Photograph the marks", "marks-photo")
    ]
    assert codes(inspected(text.replace("a.jpg", "b.jpg"), tmp_path)) == ["V352"]


def test_instruments_never_filled_in_do_not_stand_in_the_head() -> None:
    """What a blank file lists and nobody used is not shown."""
    inspection = inspected(WHOLE + "  blank: {kind: micrometer, resolution: }\n").value
    assert inspection is not None
    assert set(inspection.head.instruments) == {"tester", "blades", "bore-gauge"}


def test_today_is_what_the_caller_says() -> None:
    """A file dated today is in order, one dated tomorrow is not."""
    assert codes(inspected(WHOLE, today=date(2026, 3, 9))) == []
    assert codes(inspected(WHOLE, today=date(2026, 3, 8))) == ["V341"]
