"""Two processes make the files that one makes, and a fault in either is told the same."""

import sys
from pathlib import Path

import pytest

from inspect_report.cli import main
from inspect_report.records.problem import CannotRender
from inspect_report.report import beside
from inspect_report.report.beside import Alone, second_process
from tests.samples import SAMPLES

KART = SAMPLES / "kart-two-stroke.yaml"


def refuse(word: str) -> None:
    """A piece of work that fails."""
    raise CannotRender(word)


@pytest.fixture
def doubled(monkeypatch: pytest.MonkeyPatch) -> None:
    """A machine with cores to spare, whatever this one is."""
    monkeypatch.setattr(beside, "_worth_it", lambda: True)


def test_alone_it_is_done_at_once() -> None:
    """The result is there, and a fault comes out where the result is asked for."""
    assert Alone().submit(max, 3, 5).result() == 5
    waiting = Alone().submit(refuse, "torn paper")
    with pytest.raises(CannotRender, match="torn paper"):
        waiting.result()


@pytest.mark.usefixtures("doubled")
@pytest.mark.skipif(sys.platform != "linux", reason="no second process there")
def test_a_fault_of_the_second_process_is_told() -> None:
    """The message survives the way between the two."""
    with second_process() as other:
        assert not isinstance(other, Alone)
        waiting = other.submit(refuse, "torn paper")
        with pytest.raises(CannotRender, match="torn paper"):
            waiting.result()


@pytest.mark.skipif(sys.platform != "linux", reason="no second process there")
def test_two_processes_make_the_same_bytes(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """HTML, PDF and JSON do not tell how many processes made them."""
    made = []
    for worth_it in (False, True):
        out = tmp_path / str(worth_it)
        monkeypatch.setattr(beside, "_worth_it", lambda so=worth_it: so)
        assert main(["report", str(KART), "--out", str(out)]) == 0
        made.append({path.name: path.read_bytes() for path in out.iterdir()})
    assert len(made[0]) == 3
    assert made[0] == made[1]


@pytest.mark.usefixtures("doubled")
@pytest.mark.skipif(sys.platform != "linux", reason="no second process there")
def test_a_fault_in_a_template_is_told_once(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """One line, nothing written, no trace of the second process."""
    (tmp_path / "own" / "parts").mkdir(parents=True)
    (tmp_path / "own" / "parts" / "record.html").write_text("{{ page.nothing }}", encoding="utf-8")
    out = tmp_path / "out"
    assert main(["report", str(KART), "--out", str(out), "--templates", str(tmp_path / "own")]) == 3
    told = capsys.readouterr().err.strip()
    assert "\n" not in told
    assert "record.html:1: a name that no view has" in told
    assert not out.exists()
