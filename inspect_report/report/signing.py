"""
Turns a workshop's certificate with its key into a signature over the whole of a PDF.

PAdES baseline B-B (ETSI EN 319 142-1), in a field that is not seen, since the page itself names who signs.
There is no time stamp of a third party, so the time of signing is the signer's word.
"""

import os
import sys
from collections.abc import Callable
from dataclasses import dataclass
from datetime import UTC, datetime
from io import BytesIO
from pathlib import Path
from typing import Any, Final

from inspect_report.records.problem import CannotRender

FIELD: Final = "Signature"
PASSPHRASE: Final = "INSPECT_REPORT_PASSPHRASE"  # noqa: S105 - where it is asked for, not what it is
HASH: Final = "sha256"
_RAN_OUT: Final = "make or ask for a new one, and name its file behind 'certificate' in the workshop file"


@dataclass(frozen=True, slots=True)
class Signatory:
    """Who signs, as the certificate says."""

    name: str
    """Subject of the certificate, its parts parted by commas."""
    fingerprint: str
    """SHA-256 of the certificate, 64 figures."""


@dataclass(frozen=True, slots=True)
class Signing:
    """Who signs a report, and how its PDF is signed."""

    signatory: Signatory
    sign: Callable[[bytes], bytes]


def signing_with(file: Path, passphrase: Callable[[], str]) -> Signing:
    """
    What signs by the certificate and key of a PKCS#12 file.

    Args:
        file: The file, as ``openssl pkcs12 -export`` writes it.
        passphrase: Asked for only where the file has one.

    Raises:
        CannotRender: the file cannot be read, its passphrase is another, or its certificate does not hold.
    """
    signer = _opened(file, passphrase)
    certificate = signer.signing_cert
    now, first, last = datetime.now(UTC), certificate.not_valid_before, certificate.not_valid_after
    if not first <= now <= last:
        holds = f"from {first:%Y-%m-%d} to {last:%Y-%m-%d}"
        raise CannotRender(f"{file}: the certificate holds {holds}; {_RAN_OUT}")
    return Signing(signatory_of(certificate), lambda pdf: _signed(pdf, signer))


def passphrase() -> str:
    """
    The passphrase of the workshop's certificate, from the environment or the keyboard.

    Raises:
        CannotRender: it is not in the environment, and nobody can be asked.
    """
    given = os.environ.get(PASSPHRASE)
    if given is not None:
        return given
    if not sys.stdin.isatty():
        raise CannotRender(
            f"the certificate has a passphrase: put it into the environment variable {PASSPHRASE}, "
            "or make the report with --unsigned"
        )
    from getpass import getpass

    return getpass("Passphrase of the certificate: ")


def signatory_of(certificate: Any) -> Signatory:
    """Who a certificate says it is of."""
    parts = certificate.subject.native.values()
    named = [str(v) for part in parts for v in (part if isinstance(part, list) else [part])]
    return Signatory(", ".join(reversed(named)), certificate.sha256.hex())


def _opened(file: Path, passphrase: Callable[[], str]) -> Any:
    from cryptography.hazmat.primitives.serialization import pkcs12
    from pyhanko.sign.signers import SimpleSigner

    try:
        data = file.read_bytes()
    except OSError as fault:
        raise CannotRender(f"{file}: the certificate to sign with cannot be read: {fault.strerror}") from None
    secret = _that_opens(data, passphrase, file, pkcs12.load_pkcs12)
    signer = SimpleSigner.load_pkcs12_data(data, other_certs=[], passphrase=secret)
    if signer is None:
        raise CannotRender(f"{file}: holds no certificate with its key; export both into one PKCS#12 file")
    return signer


def _that_opens(
    data: bytes, passphrase: Callable[[], str], file: Path, load: Callable[[bytes, bytes | None], Any]
) -> bytes | None:
    """The passphrase that opens a file: none, an empty one, or the one that is asked for."""
    for secret in (None, b""):
        try:
            load(data, secret)
        except ValueError:
            continue
        return secret
    asked = passphrase().encode()
    try:
        load(data, asked)
    except ValueError:
        mend = f"check the file, which is to be PKCS#12 (.p12), and the passphrase in {PASSPHRASE}"
        raise CannotRender(f"{file}: the certificate to sign with cannot be opened; {mend}") from None
    return asked


def _signed(pdf: bytes, signer: Any) -> bytes:
    """The PDF with a signature behind it; its first bytes are those of the PDF unsigned."""
    from pyhanko.pdf_utils.incremental_writer import IncrementalPdfFileWriter
    from pyhanko.sign.fields import InvisSigSettings, SigFieldSpec, SigSeedSubFilter
    from pyhanko.sign.signers import PdfSignatureMetadata, PdfSigner

    unseen = InvisSigSettings(set_print_flag=True, set_hidden_flag=False, box_out_of_bounds=True)
    field = SigFieldSpec(FIELD, readable_field_name="Signature of the workshop", invis_sig_settings=unseen)
    about = PdfSignatureMetadata(field_name=FIELD, subfilter=SigSeedSubFilter.PADES, md_algorithm=HASH)
    made = PdfSigner(about, signer, new_field_spec=field).sign_pdf(IncrementalPdfFileWriter(BytesIO(pdf)))
    return bytes(made.getvalue())
