"""A workshop that names a certificate signs its PDFs; one whose certificate does not do is told why."""

import json
import shutil
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import pytest
from cryptography.hazmat.primitives.asymmetric import ec, ed25519, rsa
from cryptography.hazmat.primitives.serialization import BestAvailableEncryption, pkcs12

from inspect_report import assess, load
from inspect_report.batch import reported_before
from inspect_report.cli import main
from inspect_report.knowledge.evidence import evidence
from inspect_report.report.attaching import attachments
from inspect_report.report.signing import PASSPHRASE, Signatory
from inspect_report.report.view import view
from inspect_report.report.view_proof import Standing
from inspect_report.unchanged import Job
from tests.evidence.certificates import certificate, write_certificate, write_held
from tests.evidence.conftest import SECRET, Made
from tests.evidence.test_carried import text_of
from tests.samples import SAMPLES


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


@pytest.mark.parametrize("self_made", [True, False])
def test_the_page_does_not_take_the_word_of_a_certificate(self_made: bool) -> None:
    """Whoever made it wrote the name of its issuer: both kinds are to be compared by another way."""
    case = load(SAMPLES / "kart-two-stroke.yaml")
    report = replace(assess(case), manifest=evidence(case).manifest)
    standing = Standing(Signatory("Hollowbrook Engines", "0" * 64, self_made), "all")
    proof = view(report, "rebuild quote", standing).proof
    assert proof is not None
    told = " ".join(proof.how)
    assert "Compare its SHA-256 with the one that the workshop gives you by another way" in told
    assert ("The workshop made this certificate itself" in told) == self_made
    assert ("names as its issuer whomever its maker wrote into it" in told) != self_made


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
    assert report(home) == 2
    assert PASSPHRASE in capsys.readouterr().err
    assert not (home.parent / "out").exists()


def gone(file: Path) -> None:
    """The file is not there."""
    file.unlink()


def other(file: Path) -> None:
    """The file is something else."""
    file.write_bytes(b"no certificate")


def ran_out(file: Path) -> None:
    """The certificate held for a year, which is over."""
    write_certificate(file, "Hollowbrook Engines", SECRET, days_ago=400)


def to_come(file: Path) -> None:
    """The certificate begins to hold in a month."""
    write_certificate(file, "Hollowbrook Engines", SECRET, days_ago=-30)


def not_to_sign(file: Path) -> None:
    """A certificate for locking keys."""
    write_held(file, certificate("Hollowbrook Engines", signs=False), passphrase=SECRET)


def short_key(file: Path) -> None:
    """RSA of 1024 bits."""
    key = rsa.generate_private_key(65537, 1024)  # noqa: S505 - it is to be refused
    write_held(file, certificate("Hollowbrook Engines", key=key), passphrase=SECRET)


def short_curve(file: Path) -> None:
    """A curve of 192 bits."""
    key = ec.generate_private_key(ec.SECP192R1())
    write_held(file, certificate("Hollowbrook Engines", key=key), passphrase=SECRET)


def other_kind_of_key(file: Path) -> None:
    """A key of a kind that signs otherwise."""
    key = ed25519.Ed25519PrivateKey.generate()
    held = certificate("A", by=certificate("B"), key=key)
    write_held(file, held, passphrase=SECRET)


def no_letters(file: Path) -> None:
    """A name of which a part turns the direction of text."""
    write_held(file, certificate("Hollowbrook \u202e Engines"), passphrase=SECRET)


def no_key(file: Path) -> None:
    """A certificate alone."""
    alone = certificate("Hollowbrook Engines").certificate
    lock = BestAvailableEncryption(SECRET.encode())
    file.write_bytes(pkcs12.serialize_key_and_certificates(None, None, None, [alone], lock))


@pytest.mark.parametrize(
    ("spoil", "told"),
    [
        (gone, "cannot be read: No such file"),
        (other, "the passphrase is another, or it is no PKCS#12 file"),
        (ran_out, "the certificate ran out on"),
        (to_come, "check the clock"),
        (not_to_sign, "its key usage lacks digitalSignature"),
        (short_key, "RSA of 2048 bits or more"),
        (short_curve, "allowed are elliptic curves of 256 bits or more and RSA of 2048 bits or more"),
        (other_kind_of_key, "allowed are elliptic curves of 256 bits or more and RSA"),
        (no_letters, "the name in the certificate cannot be printed: U+202E"),
        (no_key, "holds no certificate with its key"),
    ],
)
def test_a_certificate_that_does_not_do(
    home: Path,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
    spoil: Callable[[Path], None],
    told: str,
) -> None:
    """One line names its file, what is wrong and what to do; nothing is written."""
    spoil(home / "books/workshop.p12")
    monkeypatch.setenv(PASSPHRASE, SECRET)
    assert report(home) == 2
    said = capsys.readouterr().err.strip()
    assert "workshop.p12: " in said
    assert told in said
    assert "\n" not in said
    assert not (home.parent / "out").exists()


def test_another_passphrase(
    home: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """It is not repeated in what is told."""
    monkeypatch.setenv(PASSPHRASE, "three-stroke")
    assert report(home) == 2
    said = capsys.readouterr().err
    assert "the passphrase is another" in said
    assert "three-stroke" not in said


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
