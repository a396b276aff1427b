"""The commands `certificate` and `verify`, as those who use them type them."""

import json
import os
import shutil
import stat
import subprocess
from collections.abc import Callable
from pathlib import Path

import pikepdf
import pytest
from cryptography.hazmat.primitives.asymmetric import ec
from cryptography.hazmat.primitives.serialization import NoEncryption, pkcs12

from inspect_report import unpacking
from inspect_report.cli import main
from inspect_report.records.manifest import list_of, listed
from inspect_report.report import attaching
from inspect_report.report.attaching import attachments
from inspect_report.report.signing import PASSPHRASE
from inspect_report.vouching import verifying
from inspect_report.vouching.checking import verify, verify_all
from inspect_report.vouching.verdict_text import as_text
from inspect_report.vouching.verifying import Reader, verify_pdf
from tests.evidence.conftest import SECRET, Made
from tests.evidence.sealed import Sealed
from tests.evidence.small import FILES, HEAD, own_files, page, painted, small_report, updated, with_files


@pytest.fixture(autouse=True)
def _secret(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv(PASSPHRASE, SECRET)


@pytest.fixture
def folder(sealed: Sealed, tmp_path: Path) -> Path:
    """A signed report, the certificate of its signer, and files that came along."""
    (tmp_path / "report.pdf").write_bytes(sealed.pdf)
    (tmp_path / "workshop.pem").write_bytes(sealed.held.pem)
    (tmp_path / "engine.yaml").write_bytes(b"inspection: S-1\n")
    return tmp_path


def said(capsys: pytest.CaptureFixture[str], *command: object) -> tuple[int, str]:
    """Exit code and what was printed, on either stream."""
    code = main([str(one) for one in command])
    told = capsys.readouterr()
    return code, " ".join(f"{told.out} {told.err}".split())


def test_a_certificate_signs_and_is_trusted(
    signed: Made, signed_home: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """A report signed by what the command made, to readers who trust in three ways."""
    key = signed_home / "books/workshop.p12"
    assert said(capsys, "verify", signed.pdf)[0] == 4
    by_workshop = said(capsys, "verify", signed.pdf, "--workshop", signed_home / "books/workshop.yaml")
    assert by_workshop[0] == 0
    assert "HB-2026-058, issue 1" in by_workshop[1]
    assert said(capsys, "verify", signed.pdf, "--trust", key.with_suffix(".pem"))[0] == 0
    fingerprint = by_workshop[1].partition("SHA-256 ")[2][:71].replace(" ", "")
    parted = ":".join(fingerprint[n : n + 2] for n in range(0, 64, 2)).upper()
    assert said(capsys, "verify", signed.pdf, "--trust", parted)[0] == 0


def test_the_certificate_as_openssl_reads_it(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Name, use and days, and the same fingerprint; the passphrase opens its file, another does not."""
    key = tmp_path / "w.p12"
    _, told = said(capsys, "certificate", "--for", "Göpel & Söhne", "--out", key, "--years", 2)
    assert "nobody but you vouches for the name in it" in told
    assert stat.S_IMODE(os.stat(key).st_mode) == 0o600
    command = ["openssl", "x509", "-in", str(key.with_suffix(".pem")), "-noout", "-subject", "-fingerprint"]
    command += ["-sha256", "-nameopt", "utf8", "-ext", "keyUsage,basicConstraints"]
    read = subprocess.run(command, check=True, capture_output=True, text=True).stdout
    assert "Göpel & Söhne" in read
    assert "Digital Signature, Non Repudiation" in read
    assert "CA:FALSE" in read
    assert read.partition("Fingerprint=")[2].split()[0].replace(":", "").lower() in told.replace(" ", "")
    for secret, code in ((SECRET, 0), ("another", 1)):
        opened = ["openssl", "pkcs12", "-in", str(key), "-noout", "-passin", f"pass:{secret}"]
        assert subprocess.run(opened, check=False, capture_output=True).returncode == code


@pytest.mark.parametrize(
    ("name", "out", "years", "secret", "told"),
    [
        ("", "w.p12", "5", SECRET, "a name has 1 to 64 letters; 0 found"),
        ("x" * 65, "w.p12", "5", SECRET, "65 found"),
        ("A\u202eB", "w.p12", "5", SECRET, "character that nobody can read"),
        ("A", "w.pem", "5", SECRET, "ends in .p12"),
        ("A", "w.p12", "0", SECRET, "from 1 to 20 is allowed; 0 found"),
        ("A", "w.p12", "5", "short", "has 5 letters; take 8 or more"),
        ("A", "there.p12", "5", SECRET, "exists already"),
    ],
)
def test_no_certificate(
    name: str,
    out: str,
    years: str,
    secret: str,
    told: str,
    tmp_path: Path,
    capsys: pytest.CaptureFixture[str],
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """What is out of range is refused in one line, and nothing is written."""
    (tmp_path / "there.pem").write_text("mine", encoding="utf-8")
    monkeypatch.setenv(PASSPHRASE, secret)
    code, printed = said(capsys, "certificate", "--for", name, "--out", tmp_path / out, "--years", years)
    assert code == 2
    assert told in printed
    assert [file.name for file in tmp_path.iterdir()] == ["there.pem"]
    assert (tmp_path / "there.pem").read_text(encoding="utf-8") == "mine"


def test_exit_codes(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """0 genuine, 4 unknown, 5 altered, 2 at fault; of several files the gravest."""
    report, trust = folder / "report.pdf", ("--trust", folder / "workshop.pem")
    longer = folder / "longer.pdf"
    longer.write_bytes(report.read_bytes() + b"\n")
    assert said(capsys, "verify", report, *trust)[0] == 0
    assert said(capsys, "verify", report)[0] == 4
    assert said(capsys, "verify", longer, *trust)[0] == 5
    assert said(capsys, "verify", longer, report)[0] == 5
    assert said(capsys, "verify", folder / "none.pdf")[0] == 2


@pytest.mark.parametrize(
    ("more", "told"),
    [
        (("--trust", "none.pem"), "neither a fingerprint of 64 figures nor a file that can be read"),
        (("--trust", "none.p12"), "neither a fingerprint of 64 figures nor a file that can be read"),
        (("--trust", "engine.yaml"), "holds no certificate"),
        (("--trust", "damaged.p12"), "cannot be opened"),
        (("--digest", "12"), "64 hexadecimal figures are allowed; 2 characters found"),
        (("--workshop", "engine.yaml"), "engine.yaml:1:1"),
        (("--against", "engine.yaml"), "is no PDF of a report"),
        (("--against", "none.pdf"), "cannot be read"),
    ],
)
def test_told_wrongly(
    more: tuple[str, str], told: str, folder: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """What a reader names and is not there, or is something else."""
    (folder / "damaged.p12").write_bytes(b"x")
    file = more[1] if "." not in more[1] else folder / more[1]
    for asked in ("report.pdf", "engine.yaml", "damaged.p12"):
        code, printed = said(capsys, "verify", folder / asked, more[0], file)
        assert code == 2
        assert told in printed
        assert "check 'certificate'" not in printed


@pytest.mark.parametrize("name", ["none.p12", "~nobody-of-this-name/w.p12", "key.p12"])
def test_a_workshop_whose_certificate_is_not_there(
    name: str, signed_home: Path, folder: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """The option, the workshop file and the certificate are named, in a line."""
    shop = folder / "workshop.yaml"
    text = (signed_home / "books/workshop.yaml").read_text(encoding="utf-8")
    shop.write_text(text.replace("certificate: workshop.p12", f"certificate: {name}"), encoding="utf-8")
    key = ec.generate_private_key(ec.SECP256R1())
    alone = pkcs12.serialize_key_and_certificates(None, key, None, None, NoEncryption())
    (folder / "key.p12").write_bytes(alone)
    assert main(["verify", str(folder / "report.pdf"), "--workshop", str(shop)]) == 2
    told = capsys.readouterr().err
    assert told.startswith(f"--workshop {shop}: its certificate {folder / name}")
    assert ("holds no certificate" in told) == (name == "key.p12")
    assert told.count("\n") == 1


def test_a_certificate_at_home(
    signed: Made, signed_home: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """One rule says where the certificate lies, to who signs and to who verifies."""
    shutil.copy(signed_home / "books/workshop.p12", tmp_path / "w.p12")
    monkeypatch.setenv("HOME", str(tmp_path))
    shop = tmp_path / "workshop.yaml"
    text = (signed_home / "books/workshop.yaml").read_text(encoding="utf-8")
    shop.write_text(text.replace("certificate: workshop.p12", "certificate: ~/w.p12"), encoding="utf-8")
    assert main(["verify", str(signed.pdf), "--workshop", str(shop)]) == 0


def test_a_pdf_is_looked_into_once(kart: Made, as_made: None, monkeypatch: pytest.MonkeyPatch) -> None:
    """Also where it is made again, or where many files are held against it."""
    looked = []

    def counted(data: bytes) -> dict[str, bytes]:
        looked.append(data)
        return attachments(data)

    monkeypatch.setattr(verifying, "attachments", counted)
    monkeypatch.setattr(unpacking, "attachments", counted)
    assert verify(kart.pdf, Reader()).because[0].endswith("it comes out the same, byte for byte")
    assert len(looked) == 1
    verify_all([kart.json, kart.html, kart.inspection], Reader(), kart.pdf)
    assert len(looked) == 2


def test_a_file_larger_than_can_be_looked_into(
    folder: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    """It is not read."""
    monkeypatch.setattr(attaching, "MOST_OF_FILE", 10)
    code, told = said(capsys, "verify", folder / "report.pdf")
    assert code == 2
    assert "it is larger than" in told


def test_as_json(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """For another program: verdict, why, facts, and what is not shown."""
    code = main(["verify", str(folder / "report.pdf"), "--trust", str(folder / "workshop.pem"), "--json"])
    (told,) = json.loads(capsys.readouterr().out)
    assert code == 0
    assert told["verdict"] == "genuine"
    assert {"name": "signed by", "value": "Hollowbrook Engines"} in told["facts"]
    assert told["because"]
    assert told["not shown"]


def test_a_file_that_came_along(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """As genuine as the PDF that carries it, and no better; another of its name is altered."""
    by = ("--against", folder / "report.pdf")
    trust = ("--trust", folder / "workshop.pem")
    engine = folder / "engine.yaml"
    assert said(capsys, "verify", engine, *by, *trust)[0] == 0
    assert said(capsys, "verify", engine, *by)[0] == 4
    assert said(capsys, "verify", engine)[0] == 4
    assert said(capsys, "verify", folder / "workshop.pem", *by, *trust)[0] == 4
    engine.write_bytes(b"inspection: S-2\n")
    code, told = said(capsys, "verify", engine, *by, *trust)
    assert code == 5
    assert "it is not engine.yaml as" in told


def test_a_file_that_is_listed_only(tmp_path: Path) -> None:
    """A photo too large to travel along is proven by its digest."""
    files = {**FILES, "photos/bore.png": b"a photo"}
    manifest = list_of(listed(name, data) for name, data in files.items())
    (tmp_path / "report.pdf").write_bytes(
        with_files(page(), {**FILES, **own_files(manifest, HEAD, carry="files")})
    )
    (tmp_path / "bore.png").write_bytes(b"a photo")
    found = verify(tmp_path / "bore.png", Reader(), tmp_path / "report.pdf")
    assert found.word == "unknown"
    assert found.because[0].startswith("its SHA-256 is that of photos/bore.png in the list that")
    (tmp_path / "bore.png").write_bytes(b"another photo")
    assert verify(tmp_path / "bore.png", Reader(), tmp_path / "report.pdf").word == "altered"


def test_an_empty_file_of_the_list_proves_no_other(tmp_path: Path) -> None:
    """What is no picture is nothing without the camera's notes, and nothing is not that file."""
    (tmp_path / "report.pdf").write_bytes(small_report({**FILES, "notes.txt": b""}))
    (tmp_path / "forged.txt").write_bytes(b"anything")
    found = verify(tmp_path / "forged.txt", Reader(), tmp_path / "report.pdf")
    assert found.because[0].startswith("it is none of the files that")


def test_the_reports_beside_a_pdf(signed: Made, signed_home: Path, tmp_path: Path) -> None:
    """JSON and photos are proven by the PDF; of a page for a screen no more than its digest can be said."""
    by = signed.pdf
    assert verify(signed.json, Reader(), by).because[0].startswith("it is, byte for byte, assessment.json")
    photo = signed_home / "photos/crown-borescope.png"
    assert verify(photo, Reader(), by).because[0].startswith("it is, byte for byte, photos/crown-borescope")
    page = verify(signed.html, Reader(), by)
    assert page.word == "unknown"
    assert page.because[0].startswith("it prints the digest of")
    assert any("page for a screen can be changed" in one for one in page.not_shown)
    changed = tmp_path / "changed.json"
    changed.write_text(
        signed.json.read_text(encoding="utf-8").replace("beyond limit", "serviceable"), "utf-8"
    )
    assert verify(changed, Reader(), by).word == "altered"
    other = tmp_path / "other.html"
    other.write_text("<p>no digest", encoding="utf-8")
    assert verify(other, Reader(), by).word == "altered"


def test_hostile_names_do_not_reach_the_terminal(sealed: Sealed, tmp_path: Path) -> None:
    """What a file says of itself is shown without control characters."""
    hostile = small_report(head={"inspection": "\x1b[2Jgone", "issue": "\x07"})
    told = as_text(verify_pdf("a\x1b.pdf", hostile, Reader()))
    assert "\x1b" not in told
    assert "\x07" not in told


def test_an_unsigned_report_is_made_again(kart: Made, tmp_path: Path) -> None:
    """It comes out the same, which is enough for who knows its digest; with other pages it does not."""
    digest = dict(verify_pdf("kart.pdf", kart.pdf.read_bytes(), Reader()).facts)["digest"]
    found = verify(kart.pdf, Reader(digest=digest))
    assert found.word == "genuine"
    assert found.because[0].endswith("it comes out the same, byte for byte")
    assert found.not_shown[0].startswith("who made it: nobody signed it")
    changed = tmp_path / "changed.pdf"
    with pikepdf.open(kart.pdf) as opened:
        opened.pages[0].contents_add(b"0 0 100 100 re f")
        opened.save(changed)
    painted = verify(changed, Reader(digest=digest))
    assert painted.word == "altered"
    assert "it does not come out the same" in painted.because[0]


@pytest.mark.parametrize(
    "change",
    [painted, lambda pdf: pdf + b"\n", lambda pdf: updated(pdf, "made.json", attachments(pdf)["made.json"])],
    ids=["painted", "line", "saved"],
)
@pytest.mark.usefixtures("as_made")
def test_what_is_added_behind_an_unsigned_report(
    kart: Made, tmp_path: Path, change: Callable[[bytes], bytes]
) -> None:
    """An update that draws over a page, or a byte: the digest is the same, the report is not."""
    data = kart.pdf.read_bytes()
    digest = dict(verify_pdf("kart.pdf", data, Reader()).facts)["digest"]
    file = tmp_path / "more.pdf"
    file.write_bytes(data)
    assert verify(file, Reader(digest=digest)).word == "genuine"
    file.write_bytes(change(data))
    assert file.read_bytes().startswith(data)
    found = verify(file, Reader(digest=digest))
    assert found.word == "altered"
    assert "it does not come out the same" in found.because[0]
    assert main(["unpack", str(file), "--out", str(tmp_path / "out"), "--again"]) == 2


def test_an_unsigned_report_that_says_it_is_replaced(
    kart: Made, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Anybody can make it again so, or without, at the same digest."""
    files = attachments(kart.pdf.read_bytes())
    digest = dict(verify_pdf("kart.pdf", kart.pdf.read_bytes(), Reader()).facts)["digest"]
    after = {"issue": 3, "issued": "2026-09-01", "reason": "call 0900", "digest": ""}
    found, file = [], tmp_path / "report.pdf"
    for replaced_by in (None, after):
        made = {**json.loads(files["made.json"]), "replaced_by": replaced_by}
        file.write_bytes(with_files(page(), {**files, "made.json": json.dumps(made).encode()}))
        monkeypatch.setattr(unpacking, "render", lambda *_, **__: (kart.json, file, kart.html))
        found.append(verify(file, Reader(digest=digest)))
    as_issued, replaced = found
    assert as_issued.word == "genuine"
    assert any("nor whether it was marked as replaced" in one for one in as_issued.not_shown)
    assert replaced.word == "unknown"
    assert replaced.because[1].startswith("that it is replaced is not part of its digest")
    assert verify(file, Reader()).word == "unknown"


def test_what_cannot_be_made_again(folder: Path) -> None:
    """A file that is no inspection: nothing is claimed, and the reason told."""
    (folder / "unsigned.pdf").write_bytes(small_report())
    found = verify(folder / "unsigned.pdf", Reader())
    assert found.word == "unknown"
    assert found.because[-1].startswith("it cannot be made again to see: ")
