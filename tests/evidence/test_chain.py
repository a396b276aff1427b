"""Every report rests on the record of the one before, so that a history cannot be quietly rewritten."""

import json
import shutil
from pathlib import Path

import pytest

from inspect_report.batch import report_one
from inspect_report.cli import main
from inspect_report.keeping import CannotKeep, keep
from inspect_report.knowledge.evidence import evidence
from inspect_report.knowledge.shelf import load
from inspect_report.records.manifest import digest_of, earlier_lists, read_list, record_of
from inspect_report.records.problem import InvalidInspection
from inspect_report.report.attaching import attachments
from inspect_report.succession import successor_of
from inspect_report.unchanged import Job
from inspect_report.vouching.carried import carried
from inspect_report.vouching.verifying import told_of_itself
from tests.evidence.conftest import Made
from tests.samples import SAMPLES

NUMBER = "HB-2026-063"


@pytest.fixture
def home(tmp_path: Path) -> Path:
    """The kart's two issues, and a third that replaces the second."""
    shutil.copytree(SAMPLES, tmp_path / "home")
    home = tmp_path / "home"
    second = (home / "kart-two-stroke.yaml").read_text(encoding="utf-8")
    third = (
        second.replace("issue: 2\n", "issue: 3\n", 1)
        .replace("  issue: 1\n", "  issue: 2\n", 1)
        .replace("kart-two-stroke-issue-1.yaml", "kart-two-stroke.yaml", 1)
    )
    (home / "third.yaml").write_text(third, encoding="utf-8")
    return home


def manifest(path: Path) -> str:
    """The list of all a report rests on."""
    return evidence(load(path)).manifest


def edited(path: Path, old: str, new: str) -> None:
    """A file in which a word was changed."""
    text = path.read_text(encoding="utf-8")
    assert old in text
    path.write_text(text.replace(old, new, 1), encoding="utf-8")


def rewritten(path: Path) -> None:
    """A file that was issued and is not as it was then."""
    path.write_bytes(path.read_bytes() + b"# another word\n")


def record(of: str) -> str:
    """Digest of the record in a list."""
    return digest_of(record_of(of).encode())


def test_each_issue_names_the_record_of_the_one_before(home: Path) -> None:
    """As that one's own list gives it; the first rests on none."""
    files = ("kart-two-stroke-issue-1.yaml", "kart-two-stroke.yaml", "third.yaml")
    first, second, third = (manifest(home / name) for name in files)
    assert earlier_lists(read_list(first)) == {}
    assert earlier_lists(read_list(second)) == {(NUMBER, "1"): record(first)}
    assert earlier_lists(read_list(third)) == {(NUMBER, "2"): record(second)}


def test_rewriting_an_old_issue_shows_in_every_later_one(home: Path) -> None:
    """A word in the first changes the digest of the third, which does not even name the first's file."""
    before, third = manifest(home / "kart-two-stroke.yaml"), manifest(home / "third.yaml")
    rewritten(home / "kart-two-stroke-issue-1.yaml")
    assert record(manifest(home / "kart-two-stroke.yaml")) != record(before)
    after = manifest(home / "third.yaml")
    assert digest_of(after.encode()) != digest_of(third.encode())
    listed, now = read_list(third), read_list(after)
    changed = {name for name in listed if listed[name] != now[name]}
    assert changed == {"kart-two-stroke-issue-1.yaml", f"earlier/{NUMBER}-issue-2.sha256"}


def test_a_later_release_leaves_the_records_alone(home: Path) -> None:
    """Its books are no part of them; what a workshop wrote is."""
    listed = manifest(home / "kart-two-stroke.yaml")
    names = set(read_list(record_of(listed)))
    assert {name for name in read_list(listed) if name not in names} == {
        name for name in read_list(listed) if name.startswith("books-as-used/")
    }
    assert "books/workshop.yaml" in names


def test_the_chain_of_a_history(home: Path) -> None:
    """Inspections that follow each other, also where parts come from another engine."""
    team = home / "race-team"
    listed = earlier_lists(read_list(manifest(team / "b-4.yaml")))
    followed = load(team / "b-4.yaml").inspection.head.follows
    cases = [load(team / name) for name in followed]
    assert listed == {(case.inspection.number, "1"): record(evidence(case).manifest) for case in cases}
    before = manifest(team / "a-3.yaml")
    rewritten(team / "a-1.yaml")
    assert earlier_lists(read_list(manifest(team / "a-3.yaml"))) != earlier_lists(read_list(before))


def test_the_report_as_sent_out_names_its_record_itself(kart: Made, home: Path) -> None:
    """An issue may rest on the JSON report of the one before; its record is the one then issued."""
    shutil.copy(kart.json, home / "sent.json")
    edited(home / "third.yaml", "file: kart-two-stroke.yaml", "file: sent.json")
    sent = json.loads(kart.json.read_text(encoding="utf-8"))["manifest"]
    rewritten(home / "kart-two-stroke.yaml")
    listed = read_list(manifest(home / "third.yaml"))
    assert earlier_lists(listed) == {(NUMBER, "2"): record(sent)}
    assert listed["sent.json"] == digest_of(kart.json.read_bytes())


def test_a_gap_in_the_history_is_told(home: Path) -> None:
    """The report is made, but without a digest: nobody could know the record."""
    (home / "kart-two-stroke-issue-1.yaml").unlink()
    end = report_one(Job((home / "third.yaml",), home.parent / "out", ("json",)))
    assert end.code == 0
    assert "kart-two-stroke-issue-1.yaml" in end.complaint
    assert "without a digest" in end.complaint
    assert json.loads(end.files[0].read_bytes())["manifest"] == ""


def test_an_inspection_before_itself_is_told(home: Path) -> None:
    """Two issues that replace each other have no first record."""
    again = "issue: 3\nreplaces: {issue: 2, reason: x, file: kart-two-stroke.yaml}\n"
    edited(home / "kart-two-stroke-issue-1.yaml", "issue: 1\n", again)
    edited(home / "kart-two-stroke.yaml", "  issue: 1\n", "  issue: 3\n")
    with pytest.raises(InvalidInspection):
        manifest(home / "kart-two-stroke.yaml")


def test_a_kept_inspection_keeps_its_whole_past(home: Path, tmp_path: Path) -> None:
    """From the folder, the list is the same."""
    kept = keep(home / "third.yaml", tmp_path / "kept")
    assert manifest(kept) == manifest(home / "third.yaml")


def test_what_was_sent_with_its_list_is_still_given(kart: Made, home: Path, tmp_path: Path) -> None:
    """Kept by the JSON as sent out; a photo exchanged since is seen by its digest alone."""
    assert keep(home / "kart-two-stroke.yaml", tmp_path / "kept", kart.json).is_file()
    shutil.copy(home / "photos/kart-reeds.png", home / "photos/kart-piston.png")
    with pytest.raises(CannotKeep):
        keep(home / "kart-two-stroke.yaml", tmp_path / "again", kart.json)


@pytest.mark.parametrize("by", ["inspection", "report"])
def test_a_replaced_report_names_its_successor(kart: Made, by: str) -> None:
    """Its issue, day and digest, by the inspection as by what was sent out."""
    head = load(SAMPLES / "kart-two-stroke-issue-1.yaml").inspection.head
    later = successor_of(head, kart.inspection if by == "inspection" else kart.json)
    listed = attachments(kart.pdf.read_bytes())["evidence.sha256"]
    assert (later.issue, later.issued.isoformat()) == (2, "2026-06-12")
    assert later.digest == digest_of(listed)


def test_the_pages_of_a_replaced_report_tell_so(home: Path, kart: Made, tmp_path: Path) -> None:
    """First page and proof; its own digest stays, and nothing of the inspection is touched."""
    first = home / "kart-two-stroke-issue-1.yaml"
    job = Job((first,), tmp_path / "out", ("html", "json"), replaced_by=home / "kart-two-stroke.yaml")
    page, data = (path.read_text(encoding="utf-8") for path in report_one(job).files)
    assert "This report is replaced by issue 2 of 12 June 2026" in page
    digest = digest_of(attachments(kart.pdf.read_bytes())["evidence.sha256"])
    assert digest in page
    assert json.loads(data)["manifest"] == manifest(first)
    assert digest not in data


def test_verify_tells_what_replaces_a_report() -> None:
    """As the report made again says it."""
    after = {"issue": 2, "issued": "2026-06-12", "reason": "a wrong micrometer", "digest": ""}
    files = {"made.json": json.dumps({"replaced_by": after}).encode()}
    told = dict(told_of_itself(carried(files)))
    assert told == {"replaced by": "issue 2 of 2026-06-12: a wrong micrometer"}


def test_another_issue_is_no_successor(home: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """It has to say that it replaces this one; and two reports cannot share one."""
    words = ["report", str(home / "kart-two-stroke-issue-1.yaml"), "--out", str(home / "out")]
    assert main([*words, "--replaced-by", str(home / "third.yaml")]) == 2
    assert "replaces issue 2" in capsys.readouterr().err
    words.insert(1, str(home / "kart-two-stroke.yaml"))
    assert main([*words, "--replaced-by", str(home / "third.yaml")]) == 2
    assert "goes with one file" in capsys.readouterr().err
    assert not (home / "out").exists()
