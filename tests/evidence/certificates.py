"""Turns a name into a self-made certificate with its key, as a workshop without an authority makes one."""

from datetime import UTC, datetime, timedelta
from pathlib import Path

from cryptography import x509
from cryptography.hazmat.primitives.asymmetric import ec
from cryptography.hazmat.primitives.hashes import SHA256
from cryptography.hazmat.primitives.serialization import (
    BestAvailableEncryption,
    NoEncryption,
    pkcs12,
)
from cryptography.x509.oid import NameOID


def write_certificate(file: Path, name: str, passphrase: str = "", days: int = 365) -> None:
    """
    A PKCS#12 file of a certificate that signs itself.

    Args:
        file: The file to write.
        name: Whose certificate it is.
        passphrase: Locks the file; none when left out.
        days: How long it holds from yesterday on; one that ran out holds fewer than none.
    """
    key = ec.generate_private_key(ec.SECP256R1())
    subject = x509.Name([x509.NameAttribute(NameOID.COMMON_NAME, name)])
    first = datetime.now(UTC) - timedelta(days=1 if days > 0 else 1 - days)
    made = (
        x509.CertificateBuilder()
        .subject_name(subject)
        .issuer_name(subject)
        .public_key(key.public_key())
        .serial_number(x509.random_serial_number())
        .not_valid_before(first)
        .not_valid_after(first + timedelta(days=abs(days)))
        .add_extension(x509.BasicConstraints(ca=False, path_length=None), critical=True)
        .add_extension(
            x509.KeyUsage(True, True, False, False, False, False, False, False, False), critical=True
        )
        .sign(key, SHA256())
    )
    lock = BestAvailableEncryption(passphrase.encode()) if passphrase else NoEncryption()
    file.write_bytes(pkcs12.serialize_key_and_certificates(b"workshop", key, made, None, lock))
