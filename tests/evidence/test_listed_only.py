"""A report that carries only its list holds no price book, and says what can be said of it all the same."""

import re
from pathlib import Path

import pytest

from inspect_report.cli import main
from inspect_report.report.attaching import attachments
from inspect_report.unpacking import AGAIN, make_again, unpack
from inspect_report.vouching.checking import verify
from inspect_report.vouching.verifying import Reader, verify_pdf
from tests.evidence.conftest import Made, made
from tests.evidence.small import HEAD, own_files, page, with_files
from tests.samples import SAMPLES

RATE = re.compile(rb"labour.rate")


@pytest.fixture(scope="module")
def lists(tmp_path_factory: pytest.TempPathFactory) -> Made:
    """The kart's quote for a customer who is not to have the price book."""
    return made(SAMPLES / "kart-two-stroke.yaml", tmp_path_factory.mktemp("lists"), carry="list")


def test_no_price_book_travels(lists: Made, kart: Made) -> None:
    """Neither as a file nor in the assessment, both of which a report that carries all holds."""
    assert [name for name, data in attachments(lists.pdf.read_bytes()).items() if RATE.search(data)] == []
    with_all = [name for name, data in attachments(kart.pdf.read_bytes()).items() if RATE.search(data)]
    assert {"books/workshop.yaml", "assessment.json"} <= set(with_all)


def test_it_is_told_which_report_it_is(lists: Made) -> None:
    """Number, issue and day, and that nothing was taken out; a JSON report cannot be compared with it."""
    found = verify_pdf("lists.pdf", lists.pdf.read_bytes(), Reader())
    told = dict(found.facts)
    assert found.word == "unknown"
    assert told["report"] == "HB-2026-063, issue 2"
    assert re.fullmatch(r"\d{4}-\d\d-\d\d, as the report says", told["issued"])
    assert verify(lists.json, Reader(), lists.pdf).because[0].endswith("no assessment to compare it with")


def test_a_report_of_which_nothing_tells_the_number() -> None:
    """That is said, instead of nothing."""
    own = own_files(f"{'0' * 64}  a.yaml\n", HEAD, carry="list")
    del own["assessment.json"]
    found = verify_pdf("lists.pdf", with_files(page(), own), Reader())
    assert found.word == "unknown"
    assert dict(found.facts)["report"] == "which one, what it carries does not tell"


def test_an_assessment_is_not_missed_only_where_it_was_to_be_left_out() -> None:
    """Whoever takes it out of another report is found out."""
    own = own_files(f"{'0' * 64}  engine.yaml\n", HEAD, carry="files")
    del own["assessment.json"]
    found = verify_pdf("report.pdf", with_files(page(), own), Reader())
    assert found.word == "altered"
    assert "assessment.json was taken out" in found.because


def test_it_is_made_again_by_what_the_workshop_kept(
    lists: Made, kart: Made, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Without that it says what is missing, cut short; with it pages come out the same."""
    assert main(["unpack", str(lists.pdf), "--out", str(tmp_path / "first"), "--again"]) == 2
    said = capsys.readouterr()
    assert re.search(r"listed, but not carried: .* … and \d+ more\n", said.out)
    assert "--missing-from" in said.err
    unpack(kart.pdf, tmp_path / "kept")
    unpacked = unpack(lists.pdf, tmp_path / "out", tmp_path / "kept")
    again = {one.format: one for one in make_again(unpacked, lists.pdf)}
    assert {name: one.same for name, one in again.items()} == {"JSON": None, "PDF": True, "HTML": True}
    assert again["JSON"].note == "the PDF does not carry it"
    assert (tmp_path / "out" / AGAIN / lists.json.name).read_bytes() == lists.json.read_bytes()
