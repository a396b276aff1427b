"""Turns the checkout into a wheel, and the wheel into a report made far from the checkout."""

import json
import os
import shutil
import subprocess
import sys
import sysconfig
import venv
from collections.abc import Sequence
from pathlib import Path

import pytest

from tests.samples import ROOT, SAMPLES, sample_inspections

TELL_PLACES = """
import json
from inspect_report import places
kinds = ("templates", "fonts", "knowledge", "schemas", "methods")
print(json.dumps({kind: str(getattr(places, f"{kind}_dir")()) for kind in kinds}))
"""
IN_TREE = {
    "templates": ROOT / "templates",
    "fonts": ROOT / "inspect_report/fonts",
    "knowledge": ROOT / "inspect_report/knowledge",
    "schemas": ROOT / "inspect_report/schemas",
    "methods": ROOT / "inspect_report/docs",
}


def run(command: Sequence[str | Path], folder: Path) -> str:
    """What the command prints; it knows nothing of the checkout, and has to exit with 0."""
    env = {
        name: value for name, value in os.environ.items() if not name.startswith(("PYTHON", "VIRTUAL_ENV"))
    }
    done = subprocess.run(command, cwd=folder, env=env, capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stdout + done.stderr
    return done.stdout


@pytest.fixture(scope="module")
def installed(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A new environment with the wheel in it; its libraries are lent by the one that runs the tests."""
    wheels, home = tmp_path_factory.mktemp("wheels"), tmp_path_factory.mktemp("installed")
    run([sys.executable, "-m", "hatchling", "build", "-t", "wheel", "-d", wheels], ROOT)
    (wheel,) = wheels.glob("*.whl")
    venv.create(home, with_pip=False)
    pip = (sys.executable, "-m", "pip", "--python", str(home / "bin/python"))
    run([*pip, "install", "--quiet", "--no-deps", "--no-index", wheel], home)
    # A lent path's own .pth files are not read, so an editable install beside the libraries stays unknown.
    (packages,) = home.glob("lib/python*/site-packages")
    (packages / "libraries.pth").write_text(sysconfig.get_path("purelib"), encoding="utf-8")
    return home


def shipped(folder: Path) -> set[str]:
    """Names of the files below the folder that are no code."""
    files = (file for file in folder.rglob("*") if file.is_file() and "__pycache__" not in file.parts)
    return {str(file.relative_to(folder)) for file in files if file.suffix not in {".py", ".pyc"}}


def test_the_wheel_brings_every_shipped_file(installed: Path) -> None:
    """Templates, fonts, books and schemas are found inside the installed package, none missing."""
    places = json.loads(run([installed / "bin/python", "-c", TELL_PLACES], installed))

    for kind, tree in IN_TREE.items():
        assert Path(places[kind]).is_relative_to(installed), kind
        assert shipped(tree), kind
        assert shipped(Path(places[kind])) == shipped(tree), kind


def test_the_wheel_carries_its_licences(installed: Path) -> None:
    """The project's licence and that of the fonts travel along."""
    (info,) = installed.glob("lib/python*/site-packages/inspect_report-*.dist-info")

    assert shipped(info / "licenses") == {"LICENSE", "inspect_report/fonts/OFL.txt"}


@pytest.mark.skipif(not sample_inspections(), reason="no sample inspection exists yet")
def test_the_wheel_makes_a_report_elsewhere(installed: Path, tmp_path: Path) -> None:
    """The installed command makes page, print and data of a sample that was copied away."""
    shutil.copytree(SAMPLES, tmp_path / "bench")
    sample = tmp_path / "bench" / sample_inspections()[0].relative_to(SAMPLES)

    run([installed / "bin/inspect-report", "report", sample, "--out", tmp_path / "reports"], tmp_path)

    made = {file.suffix: file.stat().st_size for file in (tmp_path / "reports").rglob("*") if file.is_file()}
    assert {".html", ".pdf", ".json"} <= made.keys()
    assert all(made.values())
