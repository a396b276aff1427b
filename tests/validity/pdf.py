"""Turns PDF files into the faults that three checkers, independent of each other, find in them."""

import re
import subprocess
from collections.abc import Callable, Iterator, Sequence
from pathlib import Path

from tests.validity.checkers import PDF_JAR, fetched

# Profiles every report has to keep; False tells of its faults in the log without failing on them.
DEMANDED = {"PDFUA-1": True, "PDFA-3A": True}

_JAVA_SOURCE = Path(__file__).with_name("VeraCheck.java")
_FONT_FLAGS = re.compile(r" (?P<embedded>yes|no) +(?P<subset>yes|no) +(?P<unicode>yes|no) +\d+ +\d+$")


def pdf_faults(paths: Sequence[Path]) -> list[str]:
    """
    Every fault in the files: syntax, fonts not embedded, rules of PDF/UA-1 and PDF/A-3a broken.

    Raises:
        CheckerMissing: the rule checker was not fetched yet.
        RuntimeError: a checker itself failed, so that nothing is known of the files.
    """
    singly: tuple[Callable[[Path], Iterator[str]], ...] = (_syntax_faults, _font_faults)
    faults = [fault for path in paths for check in singly for fault in check(path)]
    return faults + _demanded_only(profile_faults(paths, tuple(DEMANDED)))


def profile_faults(paths: Sequence[Path], profiles: Sequence[str]) -> dict[str, list[str]]:
    """
    The rules broken, by profile: clause, how often, what the rule asks, the first place.

    Raises:
        CheckerMissing: the checker was not fetched yet.
        RuntimeError: a file was not judged by every profile.
    """
    command = ["java", "-cp", str(fetched(PDF_JAR)), str(_JAVA_SOURCE), ",".join(profiles), *map(str, paths)]
    done = subprocess.run(command, capture_output=True, text=True, check=False)
    rows = [
        line.split("\t") for line in done.stdout.splitlines() if line.startswith(("BROKEN\t", "JUDGED\t"))
    ]
    judged = {(row[1], row[2]) for row in rows if row[0] == "JUDGED" and int(row[3]) > 0}
    if done.returncode or judged != {(name, str(path)) for name in profiles for path in paths}:
        raise RuntimeError(f"not every file was judged: {done.stderr or done.stdout}")
    return {name: [_told(row) for row in rows if row[:2] == ["BROKEN", name]] for name in profiles}


def _told(row: Sequence[str]) -> str:
    _, profile, file, clause, times, rule, place = row
    return f"{Path(file).name}: {profile} {clause} broken {times} times: {rule} First at {place}"


def _demanded_only(broken: dict[str, list[str]]) -> list[str]:
    for name, faults in broken.items():
        if not DEMANDED[name]:
            print(*(f"not demanded: {fault}" for fault in faults), sep="\n")
    return [fault for name, faults in broken.items() if DEMANDED[name] for fault in faults]


def _syntax_faults(path: Path) -> Iterator[str]:
    done = subprocess.run(["qpdf", "--check", str(path)], capture_output=True, text=True, check=False)
    if done.returncode:
        yield f"{path.name}: syntax: {' '.join((done.stderr or done.stdout).split())}"


def _font_faults(path: Path) -> Iterator[str]:
    done = subprocess.run(["pdffonts", str(path)], capture_output=True, text=True, check=False)
    if done.returncode:
        yield f"{path.name}: fonts cannot be read: {done.stderr.strip()}"
    for line in done.stdout.splitlines()[2:]:
        flags = _FONT_FLAGS.search(line)
        if not flags:
            raise RuntimeError(f"a line of pdffonts reads otherwise than expected: {line}")
        if flags["embedded"] == "no" or flags["unicode"] == "no":
            yield f"{path.name}: font not embedded, or without its characters' meaning: {line.split()[0]}"
