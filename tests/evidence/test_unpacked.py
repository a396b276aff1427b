"""A report's PDF gives back every file it carries, and these give the report again; no name is believed."""

import shutil
from collections.abc import Callable, Mapping
from dataclasses import replace
from json import dumps, loads
from pathlib import Path

import pikepdf
import pytest
from pikepdf import Array, Dictionary, Name, Pdf, Stream, String
from PIL import Image

from inspect_report import unpacking
from inspect_report.batch import report_one
from inspect_report.cli import main
from inspect_report.records.bare_picture import ORIENTATION
from inspect_report.records.manifest import LIST, list_of, listed
from inspect_report.report import attaching, carrying, render
from inspect_report.report.attaching import Attached, attach, attachments
from inspect_report.unchanged import Job
from inspect_report.unpacking import AGAIN, CannotUnpack, make_again, unpack
from tests.evidence.conftest import Made, made
from tests.samples import SAMPLES


def same(pdf: Path, out: Path, missing_from: Path | None = None) -> dict[str, bool | None]:
    """Which formats of a report made again are the same."""
    return {one.format: one.same for one in make_again(unpack(pdf, out, missing_from), pdf)}


def test_a_quote_comes_out_and_is_made_again(
    kart: Made, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """All files as they were, and three formats byte for byte, from a folder that knows nothing else."""
    assert main(["unpack", str(kart.pdf), "--out", str(tmp_path / "out"), "--again"]) == 0
    told = capsys.readouterr().out
    assert "every file is as it was listed" in told
    assert told.count("the same, byte for byte") == 3
    out = {
        p.relative_to(tmp_path / "out").as_posix(): p for p in (tmp_path / "out").rglob("*") if p.is_file()
    }
    carried = attachments(kart.pdf.read_bytes())
    assert {name: path.read_bytes() for name, path in out.items() if not name.startswith(AGAIN)} == carried


def test_a_signed_assessment_is_made_again_but_for_the_signature(signed: Made, tmp_path: Path) -> None:
    """The pages name who signs; nobody needs the key."""
    again = make_again(unpack(signed.pdf, tmp_path / "out"), signed.pdf)
    assert [one.same for one in again] == [True, True, True]
    (pdf,) = (one for one in again if one.format == "PDF")
    assert pdf.behind > 1000
    assert pdf.note == f"{pdf.behind:,} bytes behind it are not compared; `verify` tells what they are"
    assert not any(name.endswith(".p12") for name in attachments(signed.pdf.read_bytes()))
    assert list((tmp_path / "out").rglob("*.p12")) == []


@pytest.fixture(scope="module")
def history(tmp_path_factory: pytest.TempPathFactory) -> Made:
    """A condition history in another language and look, with a photo that says where it was taken."""
    home = tmp_path_factory.mktemp("race") / "race-team"
    shutil.copytree(SAMPLES / "race-team", home)
    notes = Image.Exif()
    notes[ORIENTATION] = 6
    notes.get_ifd(0x8825)[1] = "N"
    Image.effect_noise((640, 480), 60).save(home / "head.jpg", exif=notes, comment=b"Fernhill")
    inspection = home / "a-2.yaml"
    photos = "photos:\n  - {file: head.jpg, caption: The head as it came off}\n"
    inspection.write_text(f"{inspection.read_text(encoding='utf-8')}\n{photos}", encoding="utf-8")
    look = home.parent / "look"
    (look / "__pycache__").mkdir(parents=True)
    (look / "__pycache__/frame.html").write_text("not a template")
    (look / "print.css").write_text(
        (SAMPLES.parent / "templates/print.css").read_text() + "\n.proof { color: #333; }\n"
    )
    (look / "notes.txt").write_text("not a template either")
    return made(inspection, home.parent / "out", templates=look, language="de", units="both", carry="files")


def test_a_history_is_made_again_with_what_was_left_out(history: Made, tmp_path: Path) -> None:
    """Language, units and templates ride along; pictures come from elsewhere, known by their digest."""
    first = unpack(history.pdf, tmp_path / "first")
    assert first.missing == ("head.jpg",)
    with pytest.raises(CannotUnpack, match=r"does not carry: head\.jpg.*--missing-from"):
        make_again(first, history.pdf)
    assert {p.name for p in (tmp_path / "first/templates-as-used").rglob("*")} == {"print.css"}
    assert same(history.pdf, tmp_path / "out", history.home) == {"JSON": True, "PDF": True, "HTML": True}
    photo = (tmp_path / "out/head.jpg").read_bytes()
    assert b"Fernhill" not in photo
    assert b"Fernhill" in (history.home / "head.jpg").read_bytes()


def test_a_picture_of_the_same_name_is_not_taken(history: Made, tmp_path: Path) -> None:
    """Only the one that is listed."""
    (tmp_path / "else").mkdir()
    Image.effect_noise((640, 480), 50).save(tmp_path / "else/head.jpg")
    assert unpack(history.pdf, tmp_path / "out", tmp_path / "else").missing == ("head.jpg",)


def listing(*files: tuple[str, bytes]) -> bytes:
    """The list of some files."""
    return list_of(listed(*file) for file in files).encode()


def test_nothing_is_not_found_for_something(tmp_path: Path) -> None:
    """A file that is listed as empty is missing where none lies, or one that is no picture."""
    pdf = written({"a.txt": b"a", LIST: listing(("a.txt", b"a"), ("b.txt", b""))}, tmp_path / "one.pdf")
    (tmp_path / "else").mkdir()
    assert unpack(pdf, tmp_path / "first", tmp_path / "else").missing == ("b.txt",)
    (tmp_path / "else/b.txt").write_bytes(b"no picture")
    assert unpack(pdf, tmp_path / "second", tmp_path / "else").missing == ("b.txt",)
    (tmp_path / "else/b.txt").write_bytes(b"")
    assert unpack(pdf, tmp_path / "third", tmp_path / "else").missing == ()


def test_what_cannot_be_taken_from_elsewhere(
    history: Made, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """No folder, a file that cannot be read, one too large: told in a line, and nothing is written."""
    command = ["unpack", str(history.pdf), "--out", str(tmp_path / "out"), "--missing-from"]
    read = Path.read_bytes

    def refused(path: Path) -> bytes:
        if path.name == "head.jpg":
            raise PermissionError(13, "Permission denied")
        return read(path)

    assert main([*command, str(tmp_path / "none")]) == 2
    assert "none: is no folder" in capsys.readouterr().err
    monkeypatch.setattr(Path, "read_bytes", refused)
    assert main([*command, str(history.home)]) == 2
    told = capsys.readouterr().err
    assert "head.jpg: cannot be read: Permission denied" in told
    assert told.count("\n") == 1
    monkeypatch.setattr(attaching, "MOST_OF_FILE", history.pdf.stat().st_size - 1)
    assert main(command[:-1]) == 2
    assert "it is larger than" in capsys.readouterr().err
    assert not (tmp_path / "out").exists()


def altered(pdf: Path, out: Path, change: Callable[[dict[str, bytes]], object]) -> Path:
    """A report with other attachments."""
    files = attachments(pdf.read_bytes())
    change(files)
    return written(files, out)


def written(files: Mapping[str, bytes], out: Path) -> Path:
    """A PDF of one page that carries files."""
    with pikepdf.new() as made:
        made.add_blank_page()
        attach(made, [Attached(name, "", data, "2026-03-01") for name, data in files.items()])
        made.save(out)
    return out


def test_altered_files_are_named(kart: Made, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """A reading made greater, a file added: the list tells; all come out, and the code says so."""

    def change(files: dict[str, bytes]) -> None:
        files["kart-two-stroke.yaml"] = files["kart-two-stroke.yaml"].replace(b"0.0", b"0.1", 1)
        files["note.txt"] = b"new"

    pdf = altered(kart.pdf, tmp_path / "altered.pdf", change)
    assert main(["unpack", str(pdf), "--out", str(tmp_path / "out")]) == 2
    told = capsys.readouterr().err
    assert "kart-two-stroke.yaml: not as it was listed" in told
    assert "note.txt: carried, but not in the list" in told
    assert (tmp_path / "out/note.txt").read_bytes() == b"new"


@pytest.mark.parametrize("name", ["assessment.json", "made.json"])
def test_what_was_taken_out_is_named(
    kart: Made, name: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Also what the list does not know, since it is made from it."""
    pdf = altered(kart.pdf, tmp_path / "altered.pdf", lambda files: files.pop(name))
    assert main(["unpack", str(pdf), "--out", str(tmp_path / "out")]) == 2
    assert f"{name}: every report carries it; it was taken out" in capsys.readouterr().err


def as_made(kart: Made) -> Callable[..., tuple[Path, ...]]:
    """Gives the kart's report as if it were made again, at once."""
    return lambda *_, **__: (kart.json, kart.pdf, kart.html)


HOSTILE = "\x1b[2J\x9b\u202egone"


def hostile_list(files: dict[str, bytes]) -> None:
    """Listed and not carried; carried and not listed."""
    files["evidence.sha256"] = f"{'0' * 64}  {HOSTILE}\n".encode() + files["evidence.sha256"]
    files["\x9b\u202e.txt"] = b""


def hostile_making(files: dict[str, bytes]) -> None:
    """Program and libraries of any name, on lines of their own."""
    made = loads(files["made.json"])
    libraries = dict.fromkeys(made["libraries"], f"\n{HOSTILE * 9}")
    files["made.json"] = dumps({**made, "program": f"\n{HOSTILE}", "libraries": libraries}).encode()


def hostile_assessment(files: dict[str, bytes]) -> None:
    """A line that is another one."""
    files["assessment.json"] = HOSTILE.encode() + files["assessment.json"]


def hostile_inspection(files: dict[str, bytes]) -> None:
    """A key that nobody knows."""
    files["kart-two-stroke.yaml"] += b'"\\e[2J\\x9b\\u202egone": 1\n'


@pytest.mark.parametrize("hostile", [hostile_list, hostile_making, hostile_assessment, hostile_inspection])
def test_nothing_in_a_pdf_commands_the_terminal(
    kart: Made,
    hostile: Callable[[dict[str, bytes]], None],
    tmp_path: Path,
    capsys: pytest.CaptureFixture[str],
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """Names, lines and versions are told in signs that only show, each on a line of ours."""
    monkeypatch.setattr(unpacking, "render", as_made(kart))
    pdf = altered(kart.pdf, tmp_path / "\x1b.pdf", hostile)
    assert main(["unpack", str(pdf), "--out", str(tmp_path / "out"), "--again"]) == 2
    said = capsys.readouterr()
    told = said.out + said.err
    assert "\N{REPLACEMENT CHARACTER}" in told
    assert [sign for sign in told if not sign.isprintable() and sign != "\n"] == []
    assert not any(line.startswith("\N{REPLACEMENT CHARACTER}") for line in told.splitlines())
    assert max(map(len, told.splitlines())) < 1000


def test_a_report_that_its_files_do_not_give(
    kart: Made, tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    """What is not the same is named with the line, and what may be the cause."""
    carried = attachments(kart.pdf.read_bytes())
    json = carried["assessment.json"].replace(b"two-stroke", b"no-stroke", 1)
    spoilt = altered(kart.pdf, tmp_path / "spoilt.pdf", lambda files: files.update({"assessment.json": json}))

    monkeypatch.setattr(unpacking, "render", as_made(kart))
    assert main(["unpack", str(spoilt), "--out", str(tmp_path / "out"), "--again"]) == 2
    said = capsys.readouterr()
    assert "NOT the same (line " in said.out
    assert "no-stroke" in said.out
    assert "do not give the same JSON and PDF" in said.err
    assert "one of the files was altered since" in said.err


OUT = "leads out of the folder"
SIGNS = "sign or a part that names of files do not hold"
ODD = {
    "above": ("../out.txt", OUT),
    "root": ("/tmp/out.txt", OUT),  # noqa: S108 - a name that is refused
    "within": ("a/../../out.txt", OUT),
    "drive": ("C:/out.txt", OUT),
    "backslash": ("..\\out.txt", SIGNS),
    "nothing": ("", SIGNS),
    "folder": ("a/", SIGNS),
    "twice": ("a//b", SIGNS),
    "dot": ("./a", SIGNS),
    "line": ("a\nb", SIGNS),
    "long": ("a" * 300, "is too long"),
    "again": (f"{AGAIN}/x.html", "where the report is made again"),
}


@pytest.mark.parametrize(("name", "told"), ODD.values(), ids=ODD.keys())
def test_names_that_lead_elsewhere(name: str, told: str, tmp_path: Path) -> None:
    """They are refused before anything is written, the good files with them."""
    pdf = written({"good.txt": b"good", name: b"bad"}, tmp_path / "odd.pdf")
    with pytest.raises(CannotUnpack, match=rf"nothing was written(?s:.)*{told}"):
        unpack(pdf, tmp_path / "out")
    assert [p.name for p in tmp_path.iterdir()] == ["odd.pdf"]


@pytest.mark.parametrize(
    "names", [("a.txt", "A.txt"), ("a", "a/b"), ("b/A", "B")], ids=["capitals", "both", "and"]
)
def test_names_of_which_one_can_be_written(names: tuple[str, str], tmp_path: Path) -> None:
    """On a system without capitals, or on any."""
    with pytest.raises(CannotUnpack, match=r"but for capitals|a file and a folder"):
        unpack(written(dict.fromkeys(names, b"x"), tmp_path / "odd.pdf"), tmp_path / "out")


def spoilt(out: Path, spoil: Callable[[Pdf], object], **saving: object) -> Path:
    """A PDF with two attachments, of which something was spoilt."""
    with Pdf.open(written({"a": b"a" * 1000, "b": b"b"}, out.with_suffix(".good"))) as pdf:
        spoil(pdf)
        pdf.save(out, **saving)  # type: ignore[arg-type]
    return out


def tree(pdf: Pdf) -> pikepdf.Object:
    """Its list of attachments."""
    return pdf.Root.Names.EmbeddedFiles


def twice(pdf: Pdf) -> None:
    """One name for two files."""
    tree(pdf).Names[3] = tree(pdf).Names[1]


def round_and_round(pdf: Pdf) -> None:
    """A list that leads back to itself."""
    branch = pdf.make_indirect(Dictionary())
    branch.Kids = Array([branch, branch])
    tree(pdf).Kids = Array([branch])


def other_packing(pdf: Pdf) -> None:
    """Packed as no report is."""
    tree(pdf).Names[1].EF.F = pdf.make_indirect(Stream(pdf, b"80", Filter=Name.RunLengthDecode))


def no_file(pdf: Pdf) -> None:
    """A text where a file is listed."""
    tree(pdf).Names[1] = pdf.make_indirect(String("a"))


@pytest.mark.parametrize(
    ("spoil", "told"),
    [
        (twice, "two files named 'a'"),
        (round_and_round, "carries more than"),
        (other_packing, "packed in a way"),
        (no_file, "list of attachments is damaged"),
        (lambda pdf: tree(pdf).__delitem__("/Names"), "carries no files"),
        (lambda pdf: pdf.Root.__setitem__("/Names", String("x")), "carries no files"),
    ],
)
def test_spoilt_lists(spoil: Callable[[Pdf], object], told: str, tmp_path: Path) -> None:
    """Each is told in a line."""
    with pytest.raises(CannotUnpack, match=told):
        unpack(spoilt(tmp_path / "bad.pdf", spoil), tmp_path / "out")


def test_a_locked_pdf(tmp_path: Path) -> None:
    """Nobody is asked for its password."""
    lock = pikepdf.Encryption(owner="owner", user="user")
    with pytest.raises(CannotUnpack, match="locked by a password"):
        unpack(spoilt(tmp_path / "bad.pdf", lambda _: None, encryption=lock), tmp_path / "out")


def test_a_tree_of_names_is_read(tmp_path: Path) -> None:
    """As other programs write it that save a PDF anew."""

    def planted(pdf: Pdf) -> None:
        leaf = pdf.make_indirect(Dictionary(Names=tree(pdf).Names))
        pdf.Root.Names.EmbeddedFiles = Dictionary(Kids=Array([leaf]))

    assert set(unpack(spoilt(tmp_path / "ok.pdf", planted), tmp_path / "out").files) == {"a", "b"}


@pytest.mark.parametrize("limit", ["MOST_BYTES", "MOST"])
def test_more_than_can_be_looked_into(limit: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """However small it is packed: no more is unpacked than may be."""
    monkeypatch.setattr(attaching, limit, 1)
    with pytest.raises(CannotUnpack, match=r"larger than|more than"):
        unpack(spoilt(tmp_path / "bad.pdf", lambda _: None), tmp_path / "out")


@pytest.mark.parametrize("data", [b"", b"%PDF-1.7\n", b"no PDF", b"%PDF-1.7\n%%EOF\n"])
def test_what_is_no_pdf(data: bytes, tmp_path: Path) -> None:
    """Told as such."""
    (tmp_path / "bad.pdf").write_bytes(data)
    with pytest.raises(CannotUnpack, match="no PDF, or damaged"):
        unpack(tmp_path / "bad.pdf", tmp_path / "out")


def test_no_file_and_a_taken_folder(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Exit code 2 and one line."""
    assert main(["unpack", str(tmp_path / "none.pdf"), "--out", str(tmp_path / "out")]) == 2
    assert "cannot be read" in capsys.readouterr().err
    (tmp_path / "out").mkdir()
    (tmp_path / "out/mine").write_text("mine")
    assert main(["unpack", str(tmp_path / "none.pdf"), "--out", str(tmp_path / "out")]) == 2
    assert "not empty" in capsys.readouterr().err


def test_a_pdf_of_others_can_be_unpacked_but_not_made_again(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Its files come out; that nothing vouches for them is said."""
    pdf = written({"a.txt": b"a", "b/c.txt": b"c"}, tmp_path / "other.pdf")
    assert main(["unpack", str(pdf), "--out", str(tmp_path / "out"), "--again"]) == 2
    told = capsys.readouterr().err
    assert "no list of digests" in told
    assert "cannot be made again" in told
    assert (tmp_path / "out/b/c.txt").read_bytes() == b"c"


def test_many_pictures_are_listed_but_not_carried(history: Made, monkeypatch: pytest.MonkeyPatch) -> None:
    """Unless asked for; it is said on the command line."""
    monkeypatch.setattr(render, "render", lambda *_, **__: ())
    job = Job((history.inspection,), history.pdf.parent, ("pdf",))
    assert report_one(job).complaint == ""
    monkeypatch.setattr(carrying, "MOST_OF_PICTURES", 1000)
    told = report_one(job).complaint
    assert "are listed in the PDF but not carried" in told
    assert "--carry all" in told
    assert report_one(replace(job, carry="all")).complaint == ""
