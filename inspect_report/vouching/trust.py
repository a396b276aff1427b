"""Turns what a reader was told of certificates into what is trusted: fingerprints and certificates."""

import re
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from pathlib import Path
from typing import Final

from cryptography import x509
from cryptography.hazmat.primitives.hashes import SHA256
from cryptography.hazmat.primitives.serialization import Encoding

from inspect_report.report.keyfile import UnusableCertificate, opened

FIGURES: Final = 64
"""Hexadecimal figures of a SHA-256."""
_PARTED: Final = re.compile(r"[\s:]")
_HEX: Final = re.compile(r"[0-9a-fA-F]+")
_PEM: Final = b"-----BEGIN CERTIFICATE-----"
_KEYS: Final = (".p12", ".pfx")


@dataclass(frozen=True, slots=True)
class Trusted:
    """One thing that the reader trusts."""

    told_by: str
    """How the reader told it: the name of a file, or the fingerprint."""
    fingerprint: str
    """SHA-256 of the certificate, 64 figures."""
    certificate: bytes = b""
    """The certificate as DER, where it was given."""


def trusted(told: Iterable[str], passphrase: Callable[[], str]) -> tuple[Trusted, ...]:
    """
    What a reader trusts.

    Args:
        told: Fingerprints, or files: PEM with one certificate or more, DER, or PKCS#12.
        passphrase: Asked for where a PKCS#12 file has one.

    Raises:
        UnusableCertificate: something is neither.
    """
    return tuple(one for text in told for one in _read(text, passphrase))


def figures(text: str) -> str | None:
    """A SHA-256 as people write it, with colons or gaps or without, as 64 figures; None where it is none."""
    bare = _PARTED.sub("", text)
    return bare.lower() if len(bare) == FIGURES and _HEX.fullmatch(bare) else None


def _read(text: str, passphrase: Callable[[], str]) -> tuple[Trusted, ...]:
    fingerprint = figures(text)
    if fingerprint:
        return (Trusted("the fingerprint you gave", fingerprint),)
    found = _certificates(Path(text), passphrase)
    return tuple(
        Trusted(text, one.fingerprint(SHA256()).hex(), one.public_bytes(Encoding.DER)) for one in found
    )


def _certificates(file: Path, passphrase: Callable[[], str]) -> list[x509.Certificate]:
    if file.suffix.lower() in _KEYS:
        held = opened(file, passphrase)
        return [held.cert.certificate] if held.cert else []
    try:
        data = file.read_bytes()
    except OSError as fault:
        raise UnusableCertificate(
            f"--trust {file}: neither a fingerprint of {FIGURES} figures nor a file that can be read: "
            f"{fault.strerror}"
        ) from None
    try:
        return (
            x509.load_pem_x509_certificates(data) if _PEM in data else [x509.load_der_x509_certificate(data)]
        )
    except ValueError:
        raise UnusableCertificate(
            f"--trust {file}: holds no certificate; allowed are PEM, DER and PKCS#12 (.p12), or a fingerprint"
        ) from None
