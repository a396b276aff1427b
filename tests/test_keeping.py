"""An inspection kept with all it rests on is judged again from its folder, and gives the same bytes."""

import re
import shutil
from pathlib import Path

import pytest

from inspect_report.assessment import from_json, to_json
from inspect_report.keeping import CannotKeep, keep
from inspect_report.knowledge.shelf import load
from inspect_report.pipeline import assess
from tests.samples import SAMPLES, samples_unlike


def said(path: Path) -> str:
    """The JSON an inspection gives."""
    return to_json(assess(load(path)))


@pytest.mark.parametrize("sample", samples_unlike(), ids=lambda p: p.stem)
def test_a_kept_sample_gives_the_same_json(sample: Path, tmp_path: Path) -> None:
    """Each sample, judged from its new folder, says what it said before; nothing else is left behind."""
    kept = keep(sample, tmp_path / "kept")
    assert said(kept) == said(sample)
    assert [p.name for p in tmp_path.iterdir()] == ["kept"]


def test_the_json_does_not_depend_on_where_one_stands(monkeypatch: pytest.MonkeyPatch) -> None:
    """Files are named without their folder, for the inspection and all that was read from it."""
    sample = SAMPLES / "kart-two-stroke.yaml"
    from_afar = said(sample)
    monkeypatch.chdir(SAMPLES)
    assert said(Path("kart-two-stroke.yaml")) == from_afar
    assert str(SAMPLES) not in from_afar
    assert from_json(from_afar).inspection.file == "kart-two-stroke.yaml"


def test_the_assessment_names_all_it_rests_on() -> None:
    """Books with id, version and digest; the inspection, those before it and the issue replaced."""
    assessment = assess(load(SAMPLES / "race-team" / "b-4.yaml"))
    assert len(assessment.books) == 10
    assert all(b.id and b.version and len(b.digest) == 64 for b in assessment.books)
    numbers = [f.id for f in assessment.beside_books if f.kind == "inspection"]
    assert (len(numbers), numbers[0]) == (7, assessment.inspection.number)
    kart = assess(load(SAMPLES / "kart-two-stroke.yaml")).beside_books
    assert [(f.kind, f.version) for f in kart] == [("inspection", 2), ("inspection", 1)]


def test_what_was_sent_out_has_to_be_given_still(tmp_path: Path) -> None:
    """Once a price changed the report as sent is no longer given: the file is named, nothing is kept."""
    home = Path(shutil.copytree(SAMPLES, tmp_path / "samples"))
    sample, sent = home / "inline-four-strip.yaml", tmp_path / "sent.json"
    sent.write_text(said(sample), encoding="utf-8")
    keep(sample, tmp_path / "kept", sent)
    shop = home / "books" / "workshop.yaml"
    shop.write_text(re.sub(r"(?m)^labour-rate: .*$", "labour-rate: 99", shop.read_text(encoding="utf-8")))
    with pytest.raises(CannotKeep, match=r"workshop file Hollin .* now Hollin"):
        keep(sample, tmp_path / "again", sent)
    assert not (tmp_path / "again").exists()


def test_a_report_that_was_edited_is_not_what_is_given(tmp_path: Path) -> None:
    """Where files and program are the same the JSON itself was changed; that is said."""
    sample, sent = SAMPLES / "race-team" / "a-1.yaml", tmp_path / "sent.json"
    reason = load(sample).inspection.head.reason
    sent.write_text(said(sample).replace(reason, "another reason"), encoding="utf-8")
    with pytest.raises(CannotKeep, match="the JSON was changed"):
        keep(sample, tmp_path / "kept", sent)


def test_a_folder_that_holds_something_is_left_alone(tmp_path: Path) -> None:
    """Nothing is mixed with what lies there."""
    (tmp_path / "mine.txt").write_text("mine")
    with pytest.raises(CannotKeep, match="not empty"):
        keep(SAMPLES / "race-team" / "a-1.yaml", tmp_path)
    assert [p.name for p in tmp_path.iterdir()] == ["mine.txt"]


def test_a_report_in_another_language_is_kept_as_it_was_sent(tmp_path: Path) -> None:
    """It is told in the language it was sent in, and found to be the same; a changed one is refused still."""
    sample, sent = SAMPLES / "race-team" / "a-1.yaml", tmp_path / "sent.json"
    sent.write_text(to_json(assess(load(sample), "de")), encoding="utf-8")
    assert keep(sample, tmp_path / "kept", sent).is_file()
    sent.write_text(sent.read_text(encoding="utf-8").replace("Zylinder", "Topf", 1), encoding="utf-8")
    with pytest.raises(CannotKeep, match="no longer gives"):
        keep(sample, tmp_path / "again", sent)
