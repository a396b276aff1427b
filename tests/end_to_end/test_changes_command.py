"""Turns ``inspect-report changes``, as people type it, into checks of its words and exit codes."""

import json
from pathlib import Path

import pytest

from inspect_report.cli import main
from tests.samples import SAMPLES

BUYER = SAMPLES / "used-machine-in-frame.yaml"
A4, A5 = (SAMPLES / "race-team" / f"a-{n}.yaml" for n in (4, 5))


def test_two_inspections_of_one_engine(capsys: pytest.CaptureFixture[str]) -> None:
    """From one meeting to the next: exit 0, the changes on the standard output, nothing else."""
    assert main(["changes", str(A4), str(A5)]) == 0
    told = capsys.readouterr()
    assert told.err == ""
    assert told.out.startswith("Ostrand R250, serial R250-0117\n")
    assert "(ring-end-gap.1.top): serviceable, before as new" in " ".join(told.out.split())


def test_a_report_and_its_inspection(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """The JSON of a report is taken as it stands; judged again by the same books it says the same."""
    main(["report", str(BUYER), "--out", str(tmp_path), "--only", "json"])
    (report,) = tmp_path.glob("*.json")
    capsys.readouterr()
    assert main(["changes", str(report), str(BUYER)]) == 0
    assert "places are judged alike" in capsys.readouterr().out


def test_as_json(capsys: pytest.CaptureFixture[str]) -> None:
    """For another program: the causes as lists of words."""
    assert main(["changes", str(A4), str(A5), "--json"]) == 0
    data = json.loads(capsys.readouterr().out)
    assert {"before", "after", "books", "verdicts", "moved", "grades", "jobs", "sums"} <= data.keys()
    assert ["reading"] in data["verdicts"][0]["by"]


@pytest.mark.parametrize(
    ("content", "told"),
    [
        (None, "Y110: cannot be opened"),
        ("{", "V385: no report of this program"),
        ('{"format": 1}', "V385: no report of this program"),
        ("\u00e4\u0000", "V385: no report of this program"),
    ],
)
def test_a_file_that_is_no_report(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], content: str | None, told: str
) -> None:
    """Not there, no JSON, other JSON: exit 2, with the file and how to mend it."""
    path = tmp_path / "report.json"
    if content is not None:
        path.write_text(content, encoding="latin-1")
    assert main(["changes", str(path), str(BUYER)]) == 2
    err = capsys.readouterr().err
    assert told in err
    assert str(path) in err
    assert "to mend" in err


def test_a_book_is_no_inspection(capsys: pytest.CaptureFixture[str]) -> None:
    """A workshop file in an inspection's place is told as what it is."""
    assert main(["changes", str(SAMPLES / "books" / "workshop.yaml"), str(BUYER)]) == 2
    assert "workshop" in capsys.readouterr().err


def test_another_engine(capsys: pytest.CaptureFixture[str]) -> None:
    """Two engines: exit 2, both named, with the command that sets them side by side."""
    assert main(["changes", str(BUYER), str(A4)]) == 2
    err = capsys.readouterr().err
    assert "V386: assessment of another engine" in err
    assert "R250-0117" in err
    assert "CT6-023310" in err
    assert "history" in err
