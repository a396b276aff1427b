"""Turns names into certificates: self-made, of an authority, and such as cannot sign."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any

from cryptography import x509
from cryptography.hazmat.primitives.asymmetric import ec
from cryptography.hazmat.primitives.hashes import SHA256
from cryptography.hazmat.primitives.serialization import (
    BestAvailableEncryption,
    Encoding,
    NoEncryption,
    pkcs12,
)
from cryptography.x509.oid import NameOID

from inspect_report.vouching.selfmade import self_made


@dataclass(frozen=True)
class Held:
    """A certificate with its key."""

    certificate: x509.Certificate
    key: Any

    @property
    def pem(self) -> bytes:
        return self.certificate.public_bytes(Encoding.PEM)


def write_certificate(file: Path, name: str, passphrase: str, days_ago: int = 0) -> None:
    """
    A PKCS#12 file of a self-made certificate that holds for a year.

    Args:
        file: The file to write.
        name: Whose certificate it is.
        passphrase: Locks the file.
        days_ago: When it was made.
    """
    made = self_made(name, passphrase, years=1, now=datetime.now(UTC) - timedelta(days=days_ago))
    file.write_bytes(made[".p12"])


def certificate(
    name: str, by: Held | None = None, *, ca: bool = False, signs: bool = True, key: Any = None
) -> Held:
    """
    A certificate.

    Args:
        name: Whose it is.
        by: Who issues it; itself when left out.
        ca: Whether it is an authority's.
        signs: Whether its key may sign documents.
        key: Its key; a new one on the curve P-256 when left out.
    """
    own = key or ec.generate_private_key(ec.SECP256R1())
    subject = x509.Name([x509.NameAttribute(NameOID.COMMON_NAME, name)])
    first = datetime.now(UTC) - timedelta(days=1)
    usage = x509.KeyUsage(signs, False, not signs, False, False, ca, ca, False, False)
    made = (
        x509.CertificateBuilder()
        .subject_name(subject)
        .issuer_name(by.certificate.subject if by else subject)
        .public_key(own.public_key())
        .serial_number(x509.random_serial_number())
        .not_valid_before(first)
        .not_valid_after(first + timedelta(days=365))
        .add_extension(x509.BasicConstraints(ca=ca, path_length=None), critical=True)
        .add_extension(usage, critical=True)
        .sign(by.key if by else own, SHA256())
    )
    return Held(made, own)


def write_held(file: Path, held: Held, others: Sequence[Held] = (), passphrase: str = "") -> Path:
    """A PKCS#12 file of a certificate with its key, and the certificates of others beside it."""
    lock = BestAvailableEncryption(passphrase.encode()) if passphrase else NoEncryption()
    also = [one.certificate for one in others]
    file.write_bytes(pkcs12.serialize_key_and_certificates(b"w", held.key, held.certificate, also, lock))
    return file
