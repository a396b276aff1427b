"""Gives the tests of evidence reports that carry it, each made once."""

import shutil
from dataclasses import dataclass
from pathlib import Path

import pytest

from inspect_report import unpacking
from inspect_report.batch import report_one
from inspect_report.cli import main
from inspect_report.report.signing import PASSPHRASE
from inspect_report.unchanged import Job
from tests.evidence.certificates import certificate
from tests.evidence.sealed import Sealed, of_file
from tests.evidence.small import small_report
from tests.made import Reported
from tests.samples import SAMPLES

SECRET = "two-stroke"  # noqa: S105 - of a file that the tests make


@dataclass(frozen=True)
class Made:
    """A report: the folder its inspection lies in, and its files."""

    home: Path
    inspection: Path
    pdf: Path
    html: Path
    json: Path


def made(inspection: Path, out: Path, **asked: object) -> Made:
    """The report of an inspection, in all formats."""
    end = report_one(Job((inspection,), out, ("html", "pdf", "json"), **asked))  # type: ignore[arg-type]
    assert end.code == 0, end.complaint
    pdf = next(file for file in end.files if file.suffix == ".pdf")
    return Made(inspection.parent, inspection, pdf, pdf.with_suffix(".html"), pdf.with_suffix(".json"))


@pytest.fixture(scope="session")
def kart(reported: Reported) -> Made:
    """The second issue of the kart's quote, which rests on the first."""
    path = SAMPLES / "kart-two-stroke.yaml"
    return Made(SAMPLES, path, *(reported(path, ending) for ending in ("pdf", "html", "json")))


@pytest.fixture
def as_made(kart: Made, monkeypatch: pytest.MonkeyPatch) -> None:
    """The kart's report is made again at once; other tests see it really made."""
    monkeypatch.setattr(unpacking, "render", lambda *_, **__: (kart.json, kart.pdf, kart.html))


@pytest.fixture(scope="session")
def signed_home(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The samples of a workshop that signs."""
    home = tmp_path_factory.mktemp("signs") / "samples"
    shutil.copytree(SAMPLES, home)
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv(PASSPHRASE, SECRET)
        key = str(home / "books/workshop.p12")
        assert main(["certificate", "--for", "Hollowbrook Engines", "--out", key]) == 0
    shop = home / "books/workshop.yaml"
    shop.write_text(f"{shop.read_text(encoding='utf-8')}\ncertificate: workshop.p12\n", encoding="utf-8")
    return home


@pytest.fixture(scope="session")
def signed(signed_home: Path, tmp_path_factory: pytest.TempPathFactory) -> Made:
    """The report of the used machine, signed."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv(PASSPHRASE, SECRET)
        return made(signed_home / "used-machine-in-frame.yaml", tmp_path_factory.mktemp("signed"))


@pytest.fixture(scope="session")
def sealed(tmp_path_factory: pytest.TempPathFactory) -> Sealed:
    """A small report, signed by a self-made certificate."""
    held = certificate("Hollowbrook Engines")
    signing = of_file(tmp_path_factory.mktemp("small"), held)
    return Sealed(signing.sign(small_report(signatory={"name": "Hollowbrook Engines"})), held, signing)
