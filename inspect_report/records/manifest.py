"""
Turns files into the list of their digests, and that list into the one digest a report is known by.

The list has the form that ``sha256sum`` writes and ``sha256sum --check`` reads, sorted by name; the digest
of a report is the SHA-256 of its list. Its record is the part of the list that a workshop wrote itself. The
record of the issue before is a file of the list like any other, so that no earlier issue can be rewritten
without every later digest telling so.
"""

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from hashlib import sha256
from typing import Final

LIST: Final = "evidence.sha256"
"""Name of the list beside the files it lists."""
_ISSUE: Final = "-issue-"
EARLIER: Final = "earlier/"
"""Folder of the lists of earlier issues and inspections."""
_CAME_WITH_IT: Final = re.compile(r"(.*/)?(books|templates)-as-used/")
"""Files that do not belong to the record: books of the release, and what the pages were drawn by."""
_LINE: Final = re.compile(r"([0-9a-f]{64})  ([^\n]+)\n")


class NoList(ValueError):
    """A text that is no list of digests as this program writes it."""


@dataclass(frozen=True, slots=True)
class Listed:
    """A file of the list: its name from the folder of the list, and its SHA-256."""

    name: str
    digest: str


def listed(name: str, data: bytes) -> Listed:
    """A file by its name and bytes."""
    return Listed(name, digest_of(data))


def digest_of(data: bytes) -> str:
    """The SHA-256 of some bytes, as 64 figures."""
    return sha256(data).hexdigest()


def list_of(files: Iterable[Listed]) -> str:
    """The list of some files, each named once; the same files give the same text in any order."""
    lines = {file.name.encode(): f"{file.digest}  {file.name}\n" for file in files}
    return "".join(lines[name] for name in sorted(lines))


def read_list(text: str) -> dict[str, str]:
    """
    Digests by name.

    Raises:
        NoList: the text is not, to the letter, what ``list_of`` writes.
    """
    found = {name: digest for digest, name in _LINE.findall(text)}
    if not found or list_of(Listed(*pair) for pair in found.items()) != text:
        raise NoList("no list of digests")
    return found


def unlike(files: Mapping[str, bytes], listed: Mapping[str, str]) -> tuple[list[str], list[str]]:
    """Names of the files that a list does not know, and of those that it knows by another digest, sorted."""
    strange = sorted(set(files) - set(listed))
    return strange, sorted(n for n in set(files) & set(listed) if digest_of(files[n]) != listed[n])


def empty_or_list(text: str) -> str:
    """
    The text itself.

    Raises:
        NoList: it is neither empty nor a list of digests.
    """
    if text:
        read_list(text)
    return text


def record_of(manifest: str) -> str:
    """
    The part of a list that a workshop wrote itself: what every later issue rests on.

    What came with a release is left out, since a later release may bring other books: the record stays.
    """
    lines = manifest.splitlines(keepends=True)
    return "".join(line for line in lines if not _CAME_WITH_IT.match(line.partition("  ")[2]))


def list_name(number: str, issue: int) -> str:
    """What the list of an earlier issue is called within the lists that rest on it."""
    plain = re.sub(r"[^\w.-]", "-", number)
    return f"{EARLIER}{plain}{_ISSUE}{issue}.sha256"


def earlier_lists(digests: Mapping[str, str]) -> dict[tuple[str, str], str]:
    """Digests of the records that a list rests on, by number, as a file is named by it, and issue."""
    return {_number_and_issue(name): digest for name, digest in digests.items() if name.startswith(EARLIER)}


def _number_and_issue(name: str) -> tuple[str, str]:
    number, _, issue = name.removeprefix(EARLIER).removesuffix(".sha256").rpartition(_ISSUE)
    return number, issue
