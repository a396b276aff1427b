"""Turns the list of what a report rests on, and who signs it, into what its page says to who checks it."""

from collections.abc import Iterator
from typing import Final

from inspect_report.records.manifest import LIST, digest_of, earlier_lists, read_list
from inspect_report.report.qr import qr_address, qr_text
from inspect_report.report.reportparts import Fact, ProofView
from inspect_report.report.signing import Signatory
from inspect_report.report.source import Source

HOW: Final = (
    f"The PDF carries a list of all files that this report rests on, with the SHA-256 of each ({LIST}); "
    "the digest is the SHA-256 of that list. Whoever changes one of the files changes the digest. The code "
    "holds number, issue and digest. “inspect-report verify” with the PDF says whether it is as issued.",
)
RESTS: Final = (
    "The record of what came before is among those files, so that it cannot be rewritten unnoticed."
)


def proof(source: Source, signatory: Signatory | None) -> ProofView | None:
    """What the page says to whoever checks it; nothing where the assessment came without the list."""
    if not source.a.manifest:
        return None
    head, digest = source.a.inspection.head, digest_of(source.a.manifest.encode())
    earlier = earlier_lists(read_list(source.a.manifest))
    text = qr_text(head.inspection, head.issue, digest)
    return ProofView(
        facts=tuple(_facts(source, digest, earlier, signatory)),
        how=(*HOW, *((RESTS,) if earlier else ())),
        qr=qr_address(text),
        qr_alt=f"QR code: {' '.join(text.split())}",
    )


def _facts(
    source: Source, digest: str, earlier: dict[str, str], signatory: Signatory | None
) -> Iterator[Fact]:
    head = source.a.inspection.head
    yield Fact("Report", f"{head.inspection}, issue {head.issue}, {source.figures.day(head.dates.issued)}")
    yield Fact("Digest", digest)
    for name, of in earlier.items():
        yield Fact(f"Rests on {name.replace('-issue-', ', issue ')}", of)
    if signatory:
        yield Fact("PDF signed by", signatory.name)
        yield Fact("Certificate, SHA-256", signatory.fingerprint)
