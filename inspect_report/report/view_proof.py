"""Turns the list of what a report rests on, and who signs it, into what its page says to who checks it."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Final

from inspect_report.records.manifest import LIST, digest_of, earlier_lists, read_list, record_of
from inspect_report.report.carrying import Carried, Successor
from inspect_report.report.qr import qr_address, qr_text
from inspect_report.report.reportparts import Fact, ProofView
from inspect_report.report.signing import Signatory, grouped
from inspect_report.report.source import Source
from inspect_report.telling.manner import message, say

LEFT_OUT_FOR_SIZE: Final = message(
    "Its pictures ({size}) are listed but left out, to keep the PDF small enough to be sent; the workshop "
    "keeps them."
)
LEFT_OUT_FOR_NOTES: Final = message(
    "Pictures ({size}) from which the camera's notes, such as the place, could not be removed are listed but "
    "left out; the workshop keeps them."
)


@dataclass(frozen=True, slots=True)
class Standing:
    """What is told of a report beside its assessment: who signs its PDF, and what that carries."""

    signatory: Signatory | None = None
    carry: Carried = "list"
    left_out: int = 0
    """How much of the pictures is not carried. [byte]"""
    replaced_by: Successor | None = None


def proof(source: Source, standing: Standing) -> ProofView | None:
    """What the page says to whoever checks it; nothing where the assessment came without the list."""
    manifest = source.a.manifest
    if not manifest:
        return None
    head, digest = source.a.inspection.head, digest_of(manifest.encode())
    earlier = earlier_lists(read_list(manifest))
    text = qr_text(head.inspection, head.issue, digest)
    facts = (
        *_own(source, digest),
        *_earlier(earlier),
        *_later(source, standing),
        *_signed(standing.signatory),
    )
    return ProofView(
        facts=tuple(Fact(label, text) for label, text in facts),
        how=tuple(_how(source, standing, earlier)),
        qr=qr_address(text),
        qr_alt=say("QR code: {text}", text=" ".join(text.split())),
    )


def replaced_by(source: Source, standing: Standing) -> str:
    """That a later issue holds in place of this one; empty where none does."""
    after = standing.replaced_by
    if after is None:
        return ""
    return say(
        "This report is replaced by issue {issue} of {day}: {reason}. Do not rely on it any more.",
        issue=after.issue,
        day=source.figures.day(after.issued),
        reason=after.reason.rstrip("."),
    )


def _own(source: Source, digest: str) -> Iterator[tuple[str, str]]:
    head = source.a.inspection.head
    yield say("Report"), _report(head.inspection, head.issue)
    yield say("Digest"), digest
    yield say("Record"), digest_of(record_of(source.a.manifest).encode())


def _earlier(earlier: Mapping[tuple[str, str], str]) -> Iterator[tuple[str, str]]:
    for (number, issue), digest in earlier.items():
        yield say("Rests on {report}", report=_report(number, issue)), digest


def _later(source: Source, standing: Standing) -> Iterator[tuple[str, str]]:
    after = standing.replaced_by
    if after:
        report = _report(source.a.inspection.head.inspection, after.issue)
        yield say("Replaced by {report}", report=report), after.digest or "–"


def _signed(signatory: Signatory | None) -> Iterator[tuple[str, str]]:
    if signatory:
        yield say("PDF signed by"), signatory.name
        yield say("Certificate, SHA-256"), grouped(signatory.fingerprint)


def _report(number: str, issue: int | str) -> str:
    return say("{number}, issue {issue}", number=number, issue=issue)


def _how(source: Source, standing: Standing, earlier: Mapping[tuple[str, str], str]) -> Iterator[str]:
    yield say(
        "The PDF carries a list of all files that this report rests on, with the SHA-256 of each ({file}). "
        "The digest is the SHA-256 of that list: whoever changes one of the files changes the digest. "
        "The code holds number, issue and digest.",
        file=LIST,
    )
    yield from _carried(source, standing)
    yield say(
        "Later reports rest on the record: the SHA-256 of that part of the list which the workshop wrote."
    )
    if earlier:
        yield say(
            "The record of what came before is among those files, so that it cannot be rewritten unnoticed."
        )
    if standing.signatory:
        yield from _signature(standing.signatory)


def _signature(signatory: Signatory) -> Iterator[str]:
    """What the signature shows, and what it does not."""
    yield say(
        "The PDF is signed for every byte of it. “{command}” with the PDF and the workshop's certificate "
        "tells whether anything was changed since. When it was signed is told by the workshop's own clock "
        "alone.",
        command="inspect-report verify",
    )
    if signatory.self_made:
        yield say(
            "The workshop made this certificate itself: it shows that reports come from the same hand, but "
            "nobody else vouches for the name. Compare its SHA-256 with the one that the workshop gives you "
            "by another way, such as its letter."
        )
    else:
        yield say(
            "The certificate names as its issuer whomever its maker wrote into it, and this page does not "
            "show that anybody checked the name. Compare its SHA-256 with the one that the workshop gives "
            "you by another way, such as its letter, or give “{command}” the certificate of an authority "
            "that you trust.",
            command="inspect-report verify",
        )


def _carried(source: Source, standing: Standing) -> Iterator[str]:
    """What travels in the PDF, and what does not and why."""
    if standing.carry == "list":
        yield say("The workshop keeps the files themselves.")
        return
    yield say(
        "It carries the files themselves, too: “inspect-report unpack” takes them out of it and makes the "
        "report again."
    )
    if standing.left_out:
        size = f"{source.figures.number(standing.left_out / 1e6, 1)} MB"
        yield say(LEFT_OUT_FOR_SIZE if standing.carry == "files" else LEFT_OUT_FOR_NOTES, size=size)
