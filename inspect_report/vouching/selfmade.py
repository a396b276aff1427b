"""Turns a workshop's name into a certificate of its own making, with its key, and one to give away."""

from collections.abc import Callable
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Final

from cryptography import x509
from cryptography.hazmat.primitives.asymmetric.ec import (
    SECP256R1,
    EllipticCurvePrivateKey,
    generate_private_key,
)
from cryptography.hazmat.primitives.hashes import SHA256
from cryptography.hazmat.primitives.serialization import BestAvailableEncryption, Encoding, pkcs12
from cryptography.x509.oid import NameOID

from inspect_report.records.letters import odd_letter
from inspect_report.report.keyfile import UnusableCertificate
from inspect_report.report.writing import write_all

YEARS: Final = 5
MOST_YEARS: Final = 20
LONGEST_NAME: Final = 64
"""Letters of a common name (RFC 5280, appendix A, ub-common-name)."""
SHORTEST_PASSPHRASE: Final = 8


def self_made(
    name: str, passphrase: str, *, years: int = YEARS, now: datetime | None = None
) -> dict[str, bytes]:
    """
    A certificate that a workshop makes for itself: the name in it is its own word, nobody vouches for it.

    Args:
        name: Whom it is of: 1 to 64 letters.
        passphrase: What locks the key; 8 letters or more.
        years: How long it holds: 1 to 20.
        now: When it begins to hold; this moment when left out.

    Returns:
        Bytes by ending: ``.p12`` with the key, which stays in the workshop, and ``.pem`` for customers.

    Raises:
        UnusableCertificate: name, passphrase or years are out of range.
    """
    _refuse(name, passphrase, years)
    key = generate_private_key(SECP256R1())
    first = (now or datetime.now(UTC)).replace(microsecond=0)
    certificate = _certificate(name.strip(), key, first, first + timedelta(days=round(years * 365.2425)))
    locked = BestAvailableEncryption(passphrase.encode())
    held = pkcs12.serialize_key_and_certificates(name.encode(), key, certificate, None, locked)
    return {".p12": held, ".pem": certificate.public_bytes(Encoding.PEM)}


def _refuse(name: str, passphrase: str, years: int) -> None:
    odd = odd_letter(name)
    if odd:
        raise UnusableCertificate(f"--for: {odd.title}: {odd.found}; {odd.mend}")
    if not 1 <= len(name.strip()) <= LONGEST_NAME:
        raise UnusableCertificate(f"--for: a name has 1 to {LONGEST_NAME} letters; {len(name.strip())} found")
    if len(passphrase) < SHORTEST_PASSPHRASE:
        raise UnusableCertificate(
            f"the passphrase has {len(passphrase)} letters; take {SHORTEST_PASSPHRASE} or more: "
            "whoever has the file and guesses it signs in your name"
        )
    if not 1 <= years <= MOST_YEARS:
        raise UnusableCertificate(f"--years: from 1 to {MOST_YEARS} is allowed; {years} found")


def _certificate(
    name: str, key: EllipticCurvePrivateKey, first: datetime, last: datetime
) -> x509.Certificate:
    whom = x509.Name([x509.NameAttribute(NameOID.COMMON_NAME, name)])
    made = x509.CertificateBuilder(whom, whom, key.public_key(), x509.random_serial_number(), first, last)
    # No key purpose: readers in use do not know that of signing documents (RFC 9336), and refuse it.
    known_by = x509.SubjectKeyIdentifier.from_public_key(key.public_key())
    return (
        made.add_extension(x509.BasicConstraints(ca=False, path_length=None), critical=True)
        .add_extension(_usage(), critical=True)
        .add_extension(known_by, critical=False)
        .sign(key, SHA256())
    )


def _usage() -> x509.KeyUsage:
    return x509.KeyUsage(
        digital_signature=True,
        content_commitment=True,
        key_encipherment=False,
        data_encipherment=False,
        key_agreement=False,
        key_cert_sign=False,
        crl_sign=False,
        encipher_only=False,
        decipher_only=False,
    )


def write_self_made(
    name: str, out: Path, passphrase: Callable[[], str], years: int = YEARS
) -> tuple[tuple[Path, Path], str]:
    """
    Write a self-made certificate: the file with its key, and beside it one for customers.

    Args:
        name: Whom it is of.
        out: The file with the key, which ends in ``.p12``; that for customers ends in ``.pem``.
        passphrase: Asked for once all else is in order.
        years: How long it holds.

    Returns:
        The two files, and the fingerprint as 64 figures.

    Raises:
        UnusableCertificate: as ``self_made``; or a file has another ending, or is there already.
        CannotRender: a file cannot be written.
    """
    if out.suffix.lower() != ".p12":
        raise UnusableCertificate(f"--out {out}: the file with certificate and key ends in .p12")
    files = (out, out.with_suffix(".pem"))
    for file in files:
        if file.exists():
            raise UnusableCertificate(f"{file} exists already; give another name, nothing was written")
    made = self_made(name, passphrase(), years=years)
    write_all(dict(zip(files, made.values(), strict=True)), private=True)
    files[1].chmod(0o644)
    public = x509.load_pem_x509_certificate(made[".pem"])
    return files, public.fingerprint(SHA256()).hex()
