"""The option ``--templates`` of two commands: own files are used, their faults told with file and line."""

from pathlib import Path

import pytest

from inspect_report.cli import main
from tests.samples import SAMPLES

KART = SAMPLES / "kart-two-stroke.yaml"


def own(folder: Path, text: str) -> Path:
    """A folder with an own order form."""
    parts = folder / "own" / "parts"
    parts.mkdir(parents=True)
    (parts / "order.html").write_text(text, encoding="utf-8")
    return folder / "own"


def test_a_report_takes_own_templates(tmp_path: Path) -> None:
    """The workshop's own order form stands in the page."""
    folder = own(tmp_path, "<p>Ordered as spoken of</p>\n")
    assert (
        main(["report", str(KART), "--out", str(tmp_path), "--only", "html", "--templates", str(folder)]) == 0
    )
    (made,) = tmp_path.glob("*.html")
    assert "Ordered as spoken of" in made.read_text(encoding="utf-8")


def test_a_history_takes_own_templates(tmp_path: Path) -> None:
    """A history has a page of its own that can be replaced."""
    (tmp_path / "history.html").write_text("<p>{{ page.title }}, our way</p>", encoding="utf-8")
    out = tmp_path / "out"
    words = ["history", str(KART), "--title", "Karts", "--out", str(out), "--only", "html"]
    assert main([*words, "--templates", str(tmp_path)]) == 0
    assert "Karts, our way" in (out / "Karts.html").read_text(encoding="utf-8")


@pytest.mark.parametrize("text", ["<p>\n{{ page.ordered }}\n", "<p>\n{% for %}\n"])
def test_a_faulty_template_is_told_in_one_line(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], text: str
) -> None:
    """Template, line and fault in one line, exit code 3, and no file written."""
    folder = own(tmp_path, text)
    out = tmp_path / "out"
    assert main(["report", str(KART), "--out", str(out), "--templates", str(folder)]) == 3
    told = capsys.readouterr().err.strip()
    assert told.startswith(f"{folder / 'parts' / 'order.html'}:2: ")
    assert "\n" not in told
    assert not list(out.glob("*"))


def test_a_missing_folder_is_told(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """A folder that is not there is not taken for an empty one."""
    assert main(["report", str(KART), "--out", str(tmp_path), "--templates", str(tmp_path / "no")]) == 3
    assert "no such folder of templates" in capsys.readouterr().err
