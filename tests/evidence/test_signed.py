"""A workshop that names a certificate signs its PDFs; one whose certificate does not do is told why."""

import json
import shutil
from dataclasses import replace
from pathlib import Path

import pytest

from inspect_report.batch import reported_before
from inspect_report.cli import main
from inspect_report.report.attaching import attachments
from inspect_report.report.signing import PASSPHRASE
from inspect_report.unchanged import Job
from tests.evidence.certificates import write_certificate
from tests.evidence.conftest import SECRET, Made
from tests.evidence.test_carried import text_of


def test_the_page_names_who_signs(signed: Made) -> None:
    """Name and fingerprint of the certificate stand on paper and in how the report was made."""
    signatory = json.loads(attachments(signed.pdf.read_bytes())["made.json"])["signatory"]
    assert signatory["name"] == "Hollowbrook Engines"
    assert f"PDFsignedby{signatory['name'].replace(' ', '')}" in text_of(signed.pdf)
    assert signatory["fingerprint"] in text_of(signed.pdf)


def test_the_signature_lies_behind_the_report(signed: Made) -> None:
    """What was made comes first and is whole; the signature covers all but itself."""
    data = signed.pdf.read_bytes()
    assert data.count(b"%%EOF") == 2
    assert b"/ETSI.CAdES.detached" in data
    assert b"workshop.p12" in attachments(data)["books/workshop.yaml"]
    assert not any(name.endswith(".p12") for name in attachments(data))


@pytest.fixture
def home(signed_home: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A workshop that signs, whose certificate may be spoilt."""
    monkeypatch.delenv(PASSPHRASE, raising=False)
    shutil.copytree(signed_home, tmp_path / "home")
    return tmp_path / "home"


def report(home: Path, *more: str) -> int:
    """Report the used machine as PDF."""
    command = ["report", str(home / "used-machine-in-frame.yaml"), "--out", str(home.parent / "out")]
    return main([*command, "--only", "pdf", *more])


def test_without_its_passphrase_nothing_is_signed(home: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Nobody to ask: the variable is named, and no file is written."""
    assert report(home) == 3
    assert PASSPHRASE in capsys.readouterr().err
    assert not (home.parent / "out").exists()


@pytest.mark.parametrize(
    ("days", "given", "told"),
    [(365, "three-stroke", "cannot be opened"), (-30, SECRET, "the certificate holds from")],
    ids=["wrong passphrase", "ran out"],
)
def test_a_certificate_that_does_not_do(
    home: Path,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
    days: int,
    given: str,
    told: str,
) -> None:
    """Its file is named with what is wrong."""
    write_certificate(home / "books/workshop.p12", "Hollowbrook Engines", SECRET, days)
    monkeypatch.setenv(PASSPHRASE, given)
    assert report(home) == 3
    said = capsys.readouterr().err
    assert "workshop.p12" in said
    assert told in said


@pytest.mark.parametrize(
    "spoil", [Path.unlink, lambda p: p.write_bytes(b"no certificate")], ids=["gone", "other"]
)
def test_a_file_that_is_no_certificate(home: Path, monkeypatch: pytest.MonkeyPatch, spoil: object) -> None:
    """Missing, or something else."""
    monkeypatch.setenv(PASSPHRASE, SECRET)
    spoil(home / "books/workshop.p12")  # type: ignore[operator]
    assert report(home) == 3


def test_a_signed_report_is_not_taken_for_another(signed: Made) -> None:
    """Signing belongs to what was asked for, and the certificate to what it was made from."""
    job = Job((signed.inspection,), signed.pdf.parent, ("html", "pdf", "json"))
    assert reported_before(job)
    assert not reported_before(replace(job, unsigned=True))
    assert not reported_before(replace(job, carry="list"))
    certificate = signed.home / "books/workshop.p12"
    before = certificate.read_bytes()
    write_certificate(certificate, "Hollowbrook Engines", SECRET)
    assert not reported_before(job)
    certificate.write_bytes(before)
    assert reported_before(job)
