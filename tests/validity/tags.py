"""Turns PDF files into the faults of their tags, by an engine that shares no code with that of profiles."""

import json
import os
import subprocess
import sys
from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import Any, Final

from tests.validity.checkers import PDF_TOOLS, TAG_CHECKER, fetched

_SOUND: Final = {("ran", "pass"), ("not-applicable", "not-applicable"), ("not-implemented", "not-run")}
_NO_FAULT: Final = {
    "PAG-001": "heads that a table repeats on its next pages, and a page of the manual that fills a column, "
    "stand at the same height of several pages; furniture they are not",
}


def tag_faults(paths: Sequence[Path]) -> list[str]:
    """
    Every fault of the tags: headings, tables, lists, pictures, language, fonts, furniture, attachments.

    Raises:
        CheckerMissing: the checker was not fetched yet.
        RuntimeError: the checker failed on a file, so that nothing is known of it.
    """
    judged = json.loads(_told_of(paths))["results"]
    if [file["path"] for file in judged] != list(map(str, paths)):
        raise RuntimeError(f"{len(judged)} of {len(paths)} files were judged")
    return [fault for file in judged for fault in _faults(file)]


def _told_of(paths: Sequence[Path]) -> str:
    fetched(TAG_CHECKER)
    words = ("-c", "from outloud.cli import main; main()", *map(str, paths))
    asked = ("--layer", "conformance", "--json", "-", "--fail-on", "never")
    found = {**os.environ, "PYTHONPATH": str(PDF_TOOLS)}
    done = subprocess.run(
        [sys.executable, *words, *asked], env=found, capture_output=True, text=True, check=False
    )
    begin = done.stdout.find("{")
    if done.returncode or begin < 0:
        raise RuntimeError(f"the tags were not judged: {done.stderr or done.stdout}")
    return done.stdout[begin:]


def _faults(file: dict[str, Any]) -> Iterator[str]:
    name = Path(file["path"]).name
    if file["error"]:
        raise RuntimeError(f"{name}: {file['error']}")
    for rule in file["rules"]:
        if (rule["status"], rule["outcome"]) not in _SOUND and not rule["findings"]:
            raise RuntimeError(f"{name}: {rule['rule']} gave no answer: {rule['reason']}")
    for found in file["findings"]:
        if found["rule"] not in _NO_FAULT:
            told = found.get("evidence", "no more is told")
            yield f"{name}: {found['rule']} page {found['page']}: {found['message']} ({told})"
