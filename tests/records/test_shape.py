"""Records and their complaints: nearest keys, kinds of value, empty lines, files that cannot be read."""

from pathlib import Path

import pytest

from inspect_report.records.problem import InvalidInput, Problem, told
from inspect_report.records.shape import Record, read_as, read_file
from inspect_report.records.workshop import Workshop
from tests.records.made import document

SHOP = "workshop: Harbour Works\nversion: 1\nlabour-rate: 60\n"


def faults(text: str) -> tuple[Problem, ...]:
    """The faults of a workshop file with some more lines."""
    return read_as(Workshop, document(SHOP + text)).problems


@pytest.mark.parametrize(
    ("text", "code", "found", "said"),
    [
        ("adress: x", "V206", "key 'adress'", "write 'address' if that is meant"),
        ("decision-rule: {kind: simple, confidence: 95}", "V208", "simple", "simple acceptance"),
        ("decision-rule: {confidence: 40 %}", "V202", "40 %", "more than 50 %"),
        ("tax: {name: VAT}", "V207", "nothing", "add a line 'rate: …'"),
        ("tax: {name: VAT, rate: }", "V207", "nothing", "write it behind 'rate:'"),
        ("tax: [1, 2]", "V210", "the list [1, 2]", "keys with values"),
        ("prices: {gasket: 12 EUR}", "V204", "12 EUR", "no currency sign"),
        ("prices: {gasket: -1}", "V204", "-1", "not below 0"),
        ("prices: {gasket: true}", "V204", "true", "not an amount of money"),
        ("currency: eur", "V209", "eur", "write 'EUR'"),
        ("phone: {a: 1}", "V205", "{a: 1}", "not text"),
        ("hours: {a: soon}", "V201", "soon", "a number"),
        ("reference-tester: {orifice: 0}", "V202", "0", "more than 0 mm"),
        ("reference-tester: {supply: 60 bar}", "V202", "60 bar", "less than 20 bar"),
        ("reference-tester: {bore: 1}", "V206", "key 'bore'", "supply, orifice, air-pressure"),
        ("shims-in-stock: 2.5", "V210", "2.5", "a list"),
        ("shims-in-stock: [2.5, 0]", "V202", "0", "more than 0 mm"),
    ],
)
def test_a_value_of_another_kind(text: str, code: str, found: str, said: str) -> None:
    """What stands there, what is allowed and the way out are in every complaint."""
    (problem,) = faults(text)
    assert (problem.code, problem.found) == (code, found)
    assert said in f"{problem.title}; {problem.allowed}; {problem.mend}"


def test_an_empty_line_counts_as_not_written() -> None:
    """A key that may be left out may also stand there with nothing behind it; an unknown one may not."""
    assert faults("address:\ntax:\nprices:\n") == ()
    assert [p.code for p in faults("adress:\n")] == ["V206"]


def test_money_is_exact() -> None:
    """A price keeps its cents as typed."""
    shop = read_as(Workshop, document(SHOP + "prices: {gasket: 12.10}")).value
    assert shop is not None
    assert str(shop.prices["gasket"]) == "12.10"


def test_a_fault_reads_the_same_everywhere() -> None:
    """File, line, column, code, path, what stands there, what is allowed, the way out, the line, a mark."""
    (problem,) = faults("currency: eur")
    assert told(problem) == (
        "made.yaml:4:11: error V209: currency that is not known\n"
        "  at       currency\n"
        "  found    eur\n"
        "  allowed  three capital letters of ISO 4217, for example EUR, GBP or USD\n"
        "  to mend  write 'EUR' if that is meant\n"
        "   4 | currency: eur\n"
        "                 ^"
    )


@pytest.mark.parametrize("text", ["[1, 2]", "hello", ""])
def test_a_file_of_another_shape(text: str) -> None:
    """A list, a word or nothing is no workshop file."""
    assert {p.code for p in read_as(Workshop, document(text)).problems} <= {"V200", "V207"}
    assert read_as(Workshop, document(text)).value is None


def test_files_that_cannot_be_read(tmp_path: Path) -> None:
    """A missing file, a folder, a name with a null and a file in another encoding are told."""
    (tmp_path / "latin.yaml").write_bytes("place: Zürich".encode("latin-1"))
    expected = {"none.yaml": "Y110", ".": "Y110", "a\0b": "Y110", "latin.yaml": "Y111"}
    for name, code in expected.items():
        with pytest.raises(InvalidInput, match=code):
            read_file(tmp_path / name)


def test_a_byte_order_mark_is_no_part_of_the_first_key(tmp_path: Path) -> None:
    """A file saved with a byte order mark is read as any other."""
    (tmp_path / "a.yaml").write_bytes(b"\xef\xbb\xbf" + SHOP.encode())
    assert read_as(Workshop, read_file(tmp_path / "a.yaml")).problems == ()


def test_records_are_frozen() -> None:
    """A record cannot be changed behind anybody's back."""
    shop = read_as(Workshop, document(SHOP)).value
    assert isinstance(shop, Record)
    with pytest.raises(ValueError, match="frozen"):
        shop.version = 2  # type: ignore[misc]
