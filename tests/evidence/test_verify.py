"""A report is genuine, altered or unknown; whoever was handed it is told what was found out."""

from collections.abc import Sequence
from io import BytesIO
from pathlib import Path

import pikepdf
import pytest
from asn1crypto import cms
from cryptography import x509
from cryptography.hazmat.primitives.hashes import SHA256
from cryptography.hazmat.primitives.serialization import Encoding, NoEncryption, pkcs12
from pyhanko.pdf_utils.incremental_writer import IncrementalPdfFileWriter
from pyhanko.sign.signers import PdfSignatureMetadata, PdfSigner, SimpleSigner

from inspect_report.report.keyfile import UnusableCertificate
from inspect_report.report.signing import grouped
from inspect_report.vouching import trust
from inspect_report.vouching.signatures import Signature, signatures, vouched
from inspect_report.vouching.trust import Trusted, trusted
from inspect_report.vouching.verifying import Reader, verify_pdf
from tests.evidence.certificates import Held, certificate, write_held
from tests.evidence.sealed import Sealed, of_file, rewritten
from tests.evidence.small import FILES, own_files, page, small_report, updated, with_files


def test_genuine(sealed: Sealed) -> None:
    """Signed, unchanged, by somebody who is trusted: it says who, when by whose clock, and which report."""
    found = sealed.verdict()
    told = dict(found.facts)
    assert found.word == "genuine"
    assert told["report"] == "S-1, issue 2"
    assert told["signed by"] == "Hollowbrook Engines"
    assert "by the signer's own clock" in told["signed at"]
    assert grouped(sealed.signing.signatory.fingerprint) in told["certificate"]
    assert any("nobody else vouches" in one for one in found.not_shown)
    assert any("no third party vouches" in one for one in found.not_shown)


def test_unknown_to_who_trusts_nobody(sealed: Sealed) -> None:
    """An unbroken signature shows nothing as long as anybody may have made it."""
    found = verify_pdf("report.pdf", sealed.pdf, Reader())
    assert found.word == "unknown"
    assert found.because[0] == "it has not been changed since it was signed"
    assert "--trust" in found.because[1]


def test_a_namesake_is_not_trusted(sealed: Sealed, tmp_path: Path) -> None:
    """Somebody changes the report and signs it anew in the same name."""
    forged = of_file(tmp_path, certificate("Hollowbrook Engines")).sign(
        small_report({"engine.yaml": b"forged"})
    )
    assert sealed.verdict(forged).word == "unknown"


@pytest.mark.parametrize("more", [b"\n", b"\0", b"% note\n", b"%%EOF\n"])
def test_appended_bytes(sealed: Sealed, more: bytes) -> None:
    """They are counted."""
    found = sealed.verdict(sealed.pdf + more)
    assert found.word == "altered"
    assert found.because[0] == f"{len(more)} bytes were added behind what Hollowbrook Engines signed"


def test_cut_bytes(sealed: Sealed) -> None:
    """Also the last one."""
    for cut in (1, 6, 100, 3000):
        assert sealed.verdict(sealed.pdf[:-cut]).word != "genuine"


def test_an_update_behind_the_signature(sealed: Sealed) -> None:
    """As an editor saves a change; the files that are others are named."""
    found = sealed.verdict(updated(sealed.pdf, "engine.yaml", b"inspection: forged\n"))
    assert found.word == "altered"
    assert "bytes were added behind what Hollowbrook Engines signed" in found.because[0]
    assert found.because[1] == "files it carries are others than those signed: engine.yaml"
    assert any(one.startswith("engine.yaml was changed") for one in found.because)


def test_a_second_signature(sealed: Sealed, tmp_path: Path) -> None:
    """The file is no longer what the first one signed; the second is named."""
    signer = SimpleSigner.load_pkcs12(  # type: ignore[no-untyped-call]
        str(write_held(tmp_path / "b.p12", certificate("A. Buyer")))
    )
    about = PdfSignatureMetadata(field_name="Second")
    twice = PdfSigner(about, signer).sign_pdf(IncrementalPdfFileWriter(BytesIO(sealed.pdf))).getvalue()
    found = sealed.verdict(twice)
    assert found.word == "altered"
    assert "among them a further signature, by A. Buyer" in found.because


def test_a_report_saved_anew(sealed: Sealed) -> None:
    """Another program that saves the file breaks the signature."""
    out = BytesIO()
    with pikepdf.open(BytesIO(sealed.pdf)) as opened:
        opened.save(out)
    assert sealed.verdict(out.getvalue()).word == "altered"


def test_a_signature_taken_off(sealed: Sealed) -> None:
    """What was made to be signed and is not."""
    unsigned = sealed.pdf[: sealed.pdf.index(b"%%EOF") + 6]
    found = sealed.verdict(unsigned)
    assert found.word == "altered"
    assert found.because[0].startswith(
        "its signature is gone: it was made to be signed by Hollowbrook Engines"
    )


def test_a_signature_of_nobody_taken_off() -> None:
    """Also where the name of who was to sign is not told."""
    found = verify_pdf("report.pdf", small_report(signatory={"name": ""}), Reader())
    assert found.word == "altered"
    assert found.because[0].startswith("its signature is gone")


def with_changed(name: str, data: bytes | None) -> bytes:
    """A small report with one file changed, added or taken out, unsigned, its list as it was."""
    with pikepdf.open(BytesIO(small_report())) as opened:
        manifest = opened.attachments["evidence.sha256"].get_file().read_bytes().decode()
    head = {"inspection": "S-1", "issue": 2}
    files = {**FILES, **own_files(manifest, head), name: data}
    return with_files(page(), {one: held for one, held in files.items() if held is not None})


@pytest.mark.parametrize(
    ("name", "data", "told"),
    [
        ("engine.yaml", b"inspection: other\n", "engine.yaml was changed"),
        ("more.yaml", b"x", "more.yaml was added"),
        ("books/limits.yaml", None, "books/limits.yaml was taken out"),
        ("assessment.json", b"{}", "assessment.json was changed, or the list was"),
        ("assessment.json", None, "assessment.json was taken out"),
        ("made.json", None, "made.json was taken out"),
        ("evidence.sha256", b"no list", "evidence.sha256, the list of its files, is not as"),
    ],
)
def test_files_that_are_not_those_of_the_list(name: str, data: bytes | None, told: str) -> None:
    """Found out without a signature, and named."""
    found = verify_pdf("report.pdf", with_changed(name, data), Reader())
    assert found.word == "altered"
    assert found.because[0].startswith(told)


def test_a_signature_does_not_make_up_for_it(sealed: Sealed) -> None:
    """Also when it was signed so."""
    found = sealed.verdict(sealed.signing.sign(with_changed("engine.yaml", b"inspection: other\n")))
    assert found.word == "altered"
    assert found.because[0].startswith("engine.yaml was changed")


def test_unsigned() -> None:
    """In itself in order, and made by nobody knows whom."""
    found = verify_pdf("report.pdf", small_report(), Reader())
    assert found.word == "unknown"
    assert found.because[0].startswith("it is not signed")


@pytest.mark.parametrize("data", [b"%PDF-1.7\n", b"%PDF-1.7\nnothing %%EOF", b"%PDF-" + bytes(500)])
def test_no_pdf(data: bytes) -> None:
    """What cannot be read is unknown."""
    assert verify_pdf("report.pdf", data, Reader()).word == "unknown"


def test_the_digest_known_from_paper(sealed: Sealed) -> None:
    """A genuine report is still not the one whose paper somebody holds."""
    digest = dict(sealed.verdict().facts)["digest"]
    known, other = Reader(sealed.reader.trusted, digest), Reader(sealed.reader.trusted, "0" * 64)
    assert verify_pdf("report.pdf", sealed.pdf, known).word == "genuine"
    assert verify_pdf("report.pdf", sealed.pdf, other).word == "altered"


@pytest.fixture(scope="module")
def authority() -> Held:
    """One that vouches for workshops."""
    return certificate("Guild of Engine Builders", ca=True)


def test_an_authority_vouches(authority: Held, tmp_path: Path) -> None:
    """Through another authority between; its certificates go along and are bound."""
    between = certificate("Guild, county office", authority, ca=True)
    held = certificate("Hollowbrook Engines", between)
    signed = of_file(tmp_path, held, between, authority).sign(small_report())
    root = tmp_path / "root.pem"
    root.write_bytes(authority.pem)
    found = verify_pdf("report.pdf", signed, Reader(trusted([str(root)], str)))
    assert found.word == "genuine"
    assert dict(found.facts)["issued by"] == "Guild, county office"
    assert dict(found.facts)["trusted"] == f"yes, by {root}, which vouches for it"
    assert any("beyond what the one who issued" in one for one in found.not_shown)
    (one,) = signatures(signed)
    assert len(one.certificates) == 3
    fewer = Sealed(signed, held, of_file(tmp_path, held))

    def drop(content: cms.SignedData) -> None:
        content["certificates"] = list(content["certificates"])[:-1]

    assert fewer.verdict(signed).word == "genuine"
    assert fewer.verdict(rewritten(fewer, drop)).word != "genuine"


@pytest.mark.parametrize("ca", [False, True])
def test_an_issuer_that_nobody_checked(authority: Held, tmp_path: Path, ca: bool) -> None:
    """Anybody can write one into a certificate; whoever trusts the signer knows nothing of its issuer."""
    held = certificate("Hollowbrook Engines", authority, ca=ca)
    signed = of_file(tmp_path, held, authority).sign(small_report())
    for reader in (Reader(), Reader(trusted_by_file(tmp_path, held.certificate))):
        found = verify_pdf("report.pdf", signed, reader)
        assert found.word == ("genuine" if reader.trusted else "unknown")
        told = dict(found.facts)["issued by"]
        assert told == "Guild of Engine Builders, as the certificate says; not checked"
        assert any("whomever its maker wrote into it" in one for one in found.not_shown)
        assert not any("beyond what the one who issued" in one for one in found.not_shown)


def test_trust_is_looked_for_once(authority: Held, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A path to an authority is built for each signature, not for each sentence about it."""
    signed = of_file(tmp_path, certificate("Hollowbrook Engines", authority), authority).sign(small_report())
    asked = []

    def counted(signature: Signature, certificates: Sequence[bytes]) -> bool:
        asked.append(signature)
        return vouched(signature, certificates)

    monkeypatch.setattr(trust, "vouched", counted)
    reader = Reader(trusted_by_file(tmp_path, authority.certificate))
    assert verify_pdf("report.pdf", signed, reader).word == "genuine"
    assert len(asked) == 1


def keys_file(file: Path, held: Held | None, *others: Held) -> str:
    """A PKCS#12 file with a certificate and its key, or with certificates of others alone."""
    also = [one.certificate for one in others] or None
    key, own = (held.key, held.certificate) if held else (None, None)
    file.write_bytes(pkcs12.serialize_key_and_certificates(None, key, own, also, NoEncryption()))
    return str(file)


def test_certificates_in_a_file_of_keys(authority: Held, tmp_path: Path) -> None:
    """The one that has its key, without those who vouch for it; where none has one, all."""
    held, file = certificate("Hollowbrook Engines", authority), tmp_path / "one.p12"
    prints = [one.certificate.fingerprint(SHA256()).hex() for one in (held, authority)]
    with_key = trusted([keys_file(file, held, authority)], str)
    assert [one.fingerprint for one in with_key] == prints[:1]
    without = trusted([keys_file(file, None, held, authority)], str)
    assert {one.fingerprint for one in without} == set(prints)


def test_a_file_of_keys_without_certificate(authority: Held, tmp_path: Path) -> None:
    """That nothing in it can be trusted is told."""
    file = tmp_path / "key.p12"
    file.write_bytes(pkcs12.serialize_key_and_certificates(None, authority.key, None, None, NoEncryption()))
    with pytest.raises(UnusableCertificate, match=r"^--trust .*key\.p12: holds no certificate; allowed are"):
        trusted([str(file)], str)


def test_a_trusted_workshop_is_no_authority(sealed: Sealed, tmp_path: Path) -> None:
    """Whoever signs reports cannot vouch for others."""
    other = certificate("Somebody else", sealed.held)
    signed = of_file(tmp_path, other, sealed.held).sign(small_report())
    told = trusted_by_file(tmp_path, sealed.held.certificate)
    assert verify_pdf("report.pdf", signed, Reader(told)).word == "unknown"


def trusted_by_file(folder: Path, one: x509.Certificate) -> tuple[Trusted, ...]:
    """A certificate that a reader trusts, given as a file."""
    file = folder / "trusted.cer"
    file.write_bytes(one.public_bytes(Encoding.DER))
    return trusted([str(file)], str)
