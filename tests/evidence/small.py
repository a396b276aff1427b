"""Turns a few words into a small PDF that carries a list of its files, as a report does."""

import json
from collections.abc import Mapping
from io import BytesIO

import pikepdf
from pyhanko.pdf_utils.generic import StreamObject
from pyhanko.pdf_utils.incremental_writer import IncrementalPdfFileWriter

from inspect_report.records.manifest import LIST, list_of, listed
from inspect_report.report.attaching import Attached, attach
from inspect_report.report.pdf import printed

PAGE = "<html lang=en><title>Small report</title><h1>Small report</h1><p>Bore 3 is worn.</p>"
FILES = {"engine.yaml": b"inspection: S-1\n", "books/limits.yaml": b"limits: []\n"}
HEAD = {"inspection": "S-1", "issue": 2, "dates": {"issued": "2026-03-09"}}


def small_report(
    files: Mapping[str, bytes] = FILES, head: Mapping[str, object] = HEAD, **made: object
) -> bytes:
    """
    A small report.

    Args:
        files: What it rests on and carries.
        head: What it says of its inspection.
        made: How it was made, beside that it carries all its files.
    """
    manifest = list_of(listed(name, data) for name, data in files.items())
    return with_files(page(), {**files, **own_files(manifest, head, **made)})


def own_files(manifest: str, head: Mapping[str, object], **made: object) -> dict[str, bytes]:
    """List, assessment and how it was made."""
    assessment = {"manifest": manifest, "inspection": {"head": head}}
    return {
        LIST: manifest.encode(),
        "assessment.json": json.dumps(assessment).encode(),
        "made.json": json.dumps({"carry": "all", "signatory": None, **made}).encode(),
    }


def page() -> bytes:
    """One page and nothing attached."""
    return printed(PAGE)


def with_files(pdf: bytes, files: Mapping[str, bytes]) -> bytes:
    """A PDF with files attached, written anew."""
    out = BytesIO()
    with pikepdf.open(BytesIO(pdf)) as opened:
        attach(opened, [Attached(name, name, data, "2026-03-09") for name, data in files.items()])
        opened.save(out, deterministic_id=True)
    return out.getvalue()


def painted(pdf: bytes) -> bytes:
    """A PDF with an incremental update behind it in which something is drawn over its first page."""
    writer = IncrementalPdfFileWriter(BytesIO(pdf))
    black = writer.add_object(StreamObject(stream_data=b"0 0 100 100 re f"))
    writer.add_stream_to_page(0, black)  # type: ignore[no-untyped-call]
    out = BytesIO()
    writer.write(out)  # type: ignore[no-untyped-call]
    return out.getvalue()


def updated(pdf: bytes, name: str, data: bytes) -> bytes:
    """A PDF with an incremental update behind it (ISO 32000-2, 7.5.6) in which a file is another."""
    writer = IncrementalPdfFileWriter(BytesIO(pdf))
    listed_files = writer.root["/Names"]["/EmbeddedFiles"]["/Names"]
    specs = {str(listed_files[n]): listed_files[n + 1] for n in range(0, len(listed_files), 2)}
    stream = specs[name]["/EF"].raw_get("/F").get_object()
    stream._data, stream._encoded_data = data, None
    writer.update_container(stream)
    out = BytesIO()
    writer.write(out)  # type: ignore[no-untyped-call]
    return out.getvalue()
