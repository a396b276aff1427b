"""
Turns a PDF, a key and its certificate into the PDF with a signature over the whole of it.

PAdES baseline B-B (ETSI EN 319 142-1), in a field that is not seen, since the page itself names who signs.
There is no time stamp of a third party, so the time of signing is the signer's word. What the format leaves
unsigned is bound as well: the signed attributes name every certificate that goes along, not the first alone.
"""

from collections.abc import Iterable, Iterator
from io import BytesIO
from typing import Any, Final

from asn1crypto import keys, tsp, x509
from cryptography.hazmat.primitives.asymmetric.ec import EllipticCurvePrivateKey
from cryptography.hazmat.primitives.asymmetric.utils import decode_dss_signature, encode_dss_signature
from cryptography.hazmat.primitives.serialization import Encoding, NoEncryption, PrivateFormat
from pyhanko.pdf_utils.incremental_writer import IncrementalPdfFileWriter
from pyhanko.sign.attributes import CMSAttributeProvider, SignedAttributeProviderSpec
from pyhanko.sign.fields import InvisSigSettings, SigFieldSpec, SigSeedSubFilter
from pyhanko.sign.general import as_signing_certificate_v2
from pyhanko.sign.signers import PdfSignatureMetadata, PdfSigner, SimpleSigner
from pyhanko_certvalidator.registry import SimpleCertificateStore

from inspect_report.report.keyfile import KeyFile

FIELD: Final = "Signature"
HASH: Final = "sha256"


def sealed(pdf: bytes, held: KeyFile) -> bytes:
    """The PDF with a signature behind it; its first bytes are those of the PDF unsigned."""
    unseen = InvisSigSettings(set_print_flag=True, set_hidden_flag=False, box_out_of_bounds=True)
    field = SigFieldSpec(FIELD, readable_field_name="Signature of the workshop", invis_sig_settings=unseen)
    about = PdfSignatureMetadata(field_name=FIELD, subfilter=SigSeedSubFilter.PADES, md_algorithm=HASH)
    signer = PdfSigner(about, _Signer(held), new_field_spec=field)
    return bytes(signer.sign_pdf(IncrementalPdfFileWriter(BytesIO(pdf))).getvalue())


def certificates_bound(certificates: Iterable[x509.Certificate]) -> tsp.SigningCertificateV2:
    """The signed attribute that names certificates by their digests, the signer's own first (RFC 5035)."""
    named = [as_signing_certificate_v2(one, HASH)["certs"][0] for one in certificates]
    return tsp.SigningCertificateV2({"certs": named})


def low(signature: bytes, order: int) -> bytes:
    """
    A signature by an elliptic curve with the lesser of its two equal forms.

    With (r, s) also (r, n - s) would verify: two files of which nobody could say which was signed.

    Args:
        signature: The signature as DER.
        order: Order n of the curve's group.

    >>> low(encode_dss_signature(5, 9), 11) == encode_dss_signature(5, 2)
    True
    """
    r, s = decode_dss_signature(signature)
    return encode_dss_signature(r, min(s, order - s))


class _Signer(SimpleSigner):
    """The library's signer, whose signatures can be written in one way only."""

    def __init__(self, held: KeyFile) -> None:
        certificates = [
            x509.Certificate.load(one.public_bytes(Encoding.DER)) for one in (held.certificate, *held.others)
        ]
        key = held.key.private_bytes(Encoding.DER, PrivateFormat.PKCS8, NoEncryption())
        self._order = held.key.curve.group_order if isinstance(held.key, EllipticCurvePrivateKey) else 0
        super().__init__(
            certificates[0],
            keys.PrivateKeyInfo.load(key),
            SimpleCertificateStore(),  # type: ignore[no-untyped-call]
        )
        self.cert_registry.register_multiple(certificates[1:])
        self.signed_attr_prov_spec = _Bound(certificates)

    def sign_raw(self, data: bytes, digest_algorithm: str) -> bytes:
        signature = bytes(super().sign_raw(data, digest_algorithm))
        return low(signature, self._order) if self._order else signature


class _Bound(SignedAttributeProviderSpec):
    """Signed attributes of PAdES: beside content type and digest only the certificates."""

    def __init__(self, certificates: Iterable[x509.Certificate]) -> None:
        self._certificates = tuple(certificates)

    def signed_attr_providers(
        self, data_digest: bytes, digest_algorithm: str
    ) -> Iterator[CMSAttributeProvider]:
        yield _Certificates(self._certificates)


class _Certificates(CMSAttributeProvider):
    attribute_type = "signing_certificate_v2"

    def __init__(self, certificates: tuple[x509.Certificate, ...]) -> None:
        self._certificates = certificates

    async def build_attr_value(self, dry_run: bool = False) -> Any:
        return certificates_bound(self._certificates)
