"""A later report tells of an earlier one, as far as it is genuine itself."""

from pathlib import Path

import pytest

from inspect_report.records.manifest import LIST, record_of
from inspect_report.report.attaching import attachments
from inspect_report.vouching.checking import verify
from inspect_report.vouching.verdict import Verdict
from inspect_report.vouching.verifying import LATER, Reader
from tests.evidence.sealed import Sealed
from tests.evidence.small import small_report

FIRST = {"inspection": "S-1", "issue": 1}
SECOND = {"inspection": "S-1", "issue": 2, "replaces": {"issue": 1, "reason": "the reeds were looked at"}}


def first_record(pdf: bytes) -> bytes:
    """What a later issue lists of this one."""
    return record_of(attachments(pdf)[LIST].decode()).encode()


@pytest.fixture
def folder(sealed: Sealed, tmp_path: Path) -> Path:
    """An issue, the same rewritten, and a later one that rests on the first; each signed and not."""
    first, other = small_report(head=FIRST), small_report({"engine.yaml": b"rewritten\n"}, head=FIRST)
    files = {"engine.yaml": b"later\n", "earlier/S-1-issue-1.sha256": first_record(first)}
    later = small_report(files, head=SECOND)
    follows = small_report(files, head={"inspection": "S-2", "issue": 1})
    for name, data in (("first", first), ("other", other), ("later", later), ("follows", follows)):
        (tmp_path / f"{name}.pdf").write_bytes(data)
        (tmp_path / f"{name}-signed.pdf").write_bytes(sealed.signing.sign(data))
    (tmp_path / "later-changed.pdf").write_bytes(sealed.signing.sign(later) + b"\n")
    return tmp_path


def against(folder: Path, file: str, later: str, reader: Reader) -> Verdict:
    """The verdict on one of the files, held against another."""
    return verify(folder / f"{file}.pdf", reader, folder / f"{later}.pdf")


def rows(found: Verdict) -> list[str]:
    """What is told of the other PDF."""
    return [value for name, value in found.facts if name == "against"]


def test_a_later_issue_tells_of_an_earlier(folder: Path, sealed: Sealed) -> None:
    """That it replaced it, and whether it is the one it rests on."""
    found = against(folder, "first", "later-signed", sealed.reader)
    assert found.word == "unknown"
    assert dict(found.facts)["replaced by"] == "issue 2: the reeds were looked at"
    assert " (S-1, issue 2) is genuine: " in rows(found)[0]
    assert rows(found)[1].endswith("rests on this record, unchanged")
    assert LATER not in found.not_shown
    assert against(folder, "first-signed", "later-signed", sealed.reader).word == "genuine"
    forged = against(folder, "other", "later-signed", sealed.reader)
    assert forged.word == "altered"
    assert "rests on another record of S-1, issue 1" in forged.because[0]
    unrelated = against(folder, "later", "first", sealed.reader)
    assert "does not rest on this report" in dict(unrelated.facts)["against"]


@pytest.mark.parametrize(
    ("later", "word"), [("later", "unknown"), ("later-signed", "unknown"), ("later-changed", "altered")]
)
def test_a_later_issue_that_nobody_vouches_for(folder: Path, sealed: Sealed, later: str, word: str) -> None:
    """It decides nothing: what it says is told as its word, and where it contradicts, as a doubt."""
    reader = Reader() if later == "later-signed" else sealed.reader
    found = against(folder, "first", later, reader)
    assert f" (S-1, issue 2) is {word}: " in rows(found)[0]
    told = f"issue 2: the reeds were looked at; so says {folder / later}.pdf"
    assert dict(found.facts)["replaced by"] == told
    assert LATER in found.not_shown
    doubted = against(folder, "other", later, reader)
    assert doubted.word == "unknown"
    assert any("rests on another record of S-1, issue 1" in one for one in doubted.because)
    assert f"it is {word} itself" in doubted.because[0]


def test_a_doubt_about_a_genuine_report(folder: Path, sealed: Sealed) -> None:
    """A forged later issue does not make it altered, and nobody is told that all is well either."""
    found = against(folder, "other-signed", "later", sealed.reader)
    assert found.word == "unknown"
    assert "nobody can say which of the two was changed" in found.because[0]
    longer = folder / "longer.pdf"
    longer.write_bytes((folder / "other-signed.pdf").read_bytes() + b"\n")
    assert against(folder, "longer", "later", sealed.reader).word == "altered"


def test_an_inspection_that_follows_does_not_replace(folder: Path, sealed: Sealed) -> None:
    """Whether there is a later issue is as open as before."""
    found = against(folder, "first-signed", "follows-signed", sealed.reader)
    assert rows(found)[1].endswith("rests on this record, unchanged")
    assert "replaced by" not in dict(found.facts)
    assert LATER in found.not_shown


def test_the_digest_of_the_earlier_is_not_that_of_the_later(folder: Path, sealed: Sealed) -> None:
    """Whoever knows the earlier from paper gives its digest."""
    digest = dict(against(folder, "first", "later", Reader()).facts)["digest"]
    reader = Reader(sealed.reader.trusted, digest)
    found = against(folder, "first-signed", "later-signed", reader)
    assert found.word == "genuine"
    assert " is genuine: " in rows(found)[0]
