"""A signed report is genuine to the last byte or not at all, and programs of others say so, too."""

import random
import shutil
import subprocess
from collections.abc import Callable
from pathlib import Path

import pytest
from asn1crypto import cms, core
from asn1crypto import x509 as asn1
from cryptography.hazmat.primitives.asymmetric import ec, rsa
from cryptography.hazmat.primitives.asymmetric.utils import decode_dss_signature, encode_dss_signature
from cryptography.hazmat.primitives.serialization import Encoding

from inspect_report.report.signing import PASSPHRASE, passphrase
from inspect_report.vouching.trust import trusted
from inspect_report.vouching.verifying import Reader, verify_pdf
from tests.evidence.certificates import certificate
from tests.evidence.conftest import SECRET, Made
from tests.evidence.sealed import Sealed, of_file, ranges, rewritten
from tests.evidence.small import small_report, updated


def places(sealed: Sealed) -> list[tuple[int, int]]:
    """Bytes to change and a bit to change in each: all parts of the file, most of all the signature."""
    rng = random.Random(20260309)
    first, behind = sealed.place.start, sealed.place.stop
    behind_cms = first + len(sealed.pdf[first:behind].rstrip(b"0"))
    parts = [(0, first - 1, 40), (first - 1, behind_cms, 70), (behind_cms, behind + 1, 15)]
    parts.append((behind + 1, len(sealed.pdf), 25))
    chosen = {rng.randrange(*part[:2]) for part in parts for _ in range(part[2])}
    heads = {first, first + 1, behind - 1, behind, first - 1, 0, len(sealed.pdf) - 1}
    return [(at, 1 << rng.randrange(8)) for at in sorted(chosen | heads)]


def test_no_byte_can_be_changed(sealed: Sealed) -> None:
    """One bit anywhere, also inside the signature and in the zeros behind it: never genuine."""
    for at, bit in places(sealed):
        changed = bytearray(sealed.pdf)
        changed[at] ^= bit
        assert sealed.verdict(bytes(changed)).word != "genuine", (at, bit)


def test_nor_the_case_of_a_figure(sealed: Sealed) -> None:
    """Hex letters say the same in both cases (ISO 32000-2, 7.3.4.3), and are another file."""
    letters = [at for at in sealed.place if chr(sealed.pdf[at]).isalpha()]
    for at in letters[::40]:
        changed = bytearray(sealed.pdf)
        changed[at] ^= 0x20
        found = sealed.verdict(bytes(changed))
        assert found.word == "altered"
        assert "not written as this program writes them" in found.because[0]


def version(held: cms.SignedData) -> None:
    """The version of the whole."""
    held["version"] = "v3"


def signer_version(held: cms.SignedData) -> None:
    """The version of the signer's part."""
    held["signer_infos"][0]["version"] = "v3"


def more_algorithms(held: cms.SignedData) -> None:
    """A digest nobody uses."""
    held["digest_algorithms"] = [*held["digest_algorithms"], {"algorithm": "sha512"}]


def more_certificates(held: cms.SignedData) -> None:
    """A certificate nobody needs."""
    other = asn1.Certificate.load(certificate("Somebody else").certificate.public_bytes(Encoding.DER))
    held["certificates"] = [*held["certificates"], cms.CertificateChoices("certificate", other)]


def unsigned_attribute(held: cms.SignedData) -> None:
    """A note beside the signature."""
    added = {"type": "1.2.3.4", "values": [core.Any(core.Null())]}
    held["signer_infos"][0]["unsigned_attrs"] = [added]


def other_half(held: cms.SignedData) -> None:
    """The other of the two forms of a signature by a curve."""
    r, s = decode_dss_signature(held["signer_infos"][0]["signature"].native)
    held["signer_infos"][0]["signature"] = encode_dss_signature(r, ec.SECP256R1.group_order - s)


@pytest.mark.parametrize(
    "change", [version, signer_version, more_algorithms, more_certificates, unsigned_attribute, other_half]
)
def test_what_a_signature_leaves_unsigned(
    sealed: Sealed, change: Callable[[cms.SignedData], None], tmp_path: Path
) -> None:
    """Changes that leave the signature unbroken for OpenSSL, and the file another."""
    changed = rewritten(sealed, change)
    assert changed != sealed.pdf
    assert openssl_agrees(sealed, changed, tmp_path)
    assert sealed.verdict(changed).word == "altered"


def test_the_same_written_anew_is_the_same(sealed: Sealed) -> None:
    """The changes above are the only ones made there."""
    assert rewritten(sealed, lambda _: None) == sealed.pdf


def test_rsa(tmp_path: Path) -> None:
    """A key of the other kind signs as well, and no byte of its signature can be changed either."""
    key = rsa.generate_private_key(65537, 2048)
    held = certificate("Hollowbrook Engines", key=key)
    signing = of_file(tmp_path, held)
    one = Sealed(signing.sign(small_report()), held, signing)
    assert one.verdict().word == "genuine"
    for at in list(one.place)[::97]:
        changed = bytearray(one.pdf)
        changed[at] ^= 1
        assert one.verdict(bytes(changed)).word != "genuine", at


def test_a_whole_report(signed: Made, signed_home: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The used machine's: genuine; one bit in a page, in a file it carries, or in its list, and it is not."""
    monkeypatch.setenv(PASSPHRASE, SECRET)
    reader = Reader(trusted([str(signed_home / "books/workshop.p12")], passphrase))
    data = signed.pdf.read_bytes()
    assert verify_pdf("report.pdf", data, reader).word == "genuine"
    for at in range(1000, len(data), len(data) // 12):
        changed = bytearray(data)
        changed[at] ^= 4
        assert verify_pdf("report.pdf", bytes(changed), reader).word != "genuine", at


def test_openssl_says_the_same(sealed: Sealed, tmp_path: Path) -> None:
    """The signature holds, and does not with a byte more."""
    assert openssl_agrees(sealed, sealed.pdf, tmp_path)
    assert not openssl_agrees(sealed, sealed.pdf, tmp_path, more=b"x")


def openssl_agrees(sealed: Sealed, pdf: bytes, folder: Path, more: bytes = b"") -> bool:
    """OpenSSL's `cms -verify` over the byte ranges, the signature cut out by hand."""
    _, first, behind, length = ranges(pdf)
    (folder / "signed").write_bytes(pdf[:first] + pdf[behind : behind + length] + more)
    (folder / "cms").write_bytes(bytes.fromhex(pdf[first + 1 : behind - 1].decode()))
    (folder / "pem").write_bytes(sealed.held.pem)
    command = ["openssl", "cms", "-verify", "-binary", "-inform", "DER", "-in", "cms", "-content", "signed"]
    command += ["-CAfile", "pem", "-purpose", "any", "-cades", "-out", "/dev/null"]
    return subprocess.run(command, cwd=folder, capture_output=True, check=False).returncode == 0


def test_poppler_says_the_same(sealed: Sealed, tmp_path: Path) -> None:
    """Its `pdfsig`: valid, and for the whole file; not so with a byte more."""
    file = tmp_path / "report.pdf"
    file.write_bytes(sealed.pdf)
    said = by_pdfsig(file)
    assert "Signature is Valid." in said
    assert "Total document signed" in said
    assert "ETSI.CAdES.detached" in said
    assert "Certificate issuer is unknown." in said
    file.write_bytes(updated(sealed.pdf, "engine.yaml", b"other"))
    assert "Total document signed" not in by_pdfsig(file)


def by_pdfsig(file: Path) -> str:
    """What poppler says of the signatures."""
    return subprocess.run(["pdfsig", str(file)], capture_output=True, text=True, check=False).stdout


@pytest.mark.parametrize("program", ["openssl", "pdfsig"])
def test_the_programs_of_others_are_here(program: str) -> None:
    """What the tests above look with."""
    assert shutil.which(program)
