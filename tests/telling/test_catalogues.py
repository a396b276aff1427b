"""Every catalogue says every message of program, templates and shipped books, with the same placeholders."""

import re
from string import Formatter

import pytest
from babel.messages.catalog import Catalog, Message
from babel.messages.pofile import read_po

from inspect_report.places import languages, languages_dir
from tests.agreement import messages

OTHERS = [code for code in languages() if code != "en"]
FILES = [(code, name) for code in OTHERS for name in ("program", "books")]
MARKUP = re.compile(r"</?[a-z]+>")


def catalogue(code: str, name: str) -> Catalog:
    """A catalogue as its file holds it."""
    with (languages_dir() / code / f"{name}.po").open("rb") as file:
        return read_po(file)


def told(found: Catalog) -> list[Message]:
    """Its messages, without the head."""
    return [message for message in found if message.id]


def texts(message: Message) -> list[tuple[str, str]]:
    """Each text with what is said for it; the last English form stands for all further ones."""
    if isinstance(message.id, str):
        return [(message.id, str(message.string))]
    return [(message.id[-1], said) for said in message.string or ()]


def named(text: str) -> set[str]:
    """Names of the placeholders of a text."""
    return {name for _, name, _, _ in Formatter().parse(text) if name is not None}


@pytest.mark.parametrize(("code", "name"), FILES)
def test_nothing_is_missing_doubtful_or_left_over(code: str, name: str) -> None:
    """As ``python -m tests.agreement.messages`` writes it, and every message told."""
    found = catalogue(code, name)
    assert [m.id for m in told(found) if m.fuzzy or not all(said for _, said in texts(m))] == []
    assert list(found.obsolete) == []
    path = languages_dir() / code / f"{name}.po"
    made = messages.updated(code, name, messages.catalogues()[name])
    assert path.read_bytes() == messages.written(made), "python -m tests.agreement.messages"


@pytest.mark.parametrize(("code", "name"), FILES)
def test_placeholders_and_markup_are_kept(code: str, name: str) -> None:
    """What is filled in, and what is set strong, is so in every language; nothing else is markup."""
    for message in told(catalogue(code, name)):
        for english, said in texts(message):
            if name == "program":
                assert named(said) == named(english), (english, said)
            assert sorted(MARKUP.findall(said)) == sorted(MARKUP.findall(english)), (english, said)
            assert "<" not in MARKUP.sub("", said).replace(" < ", "")
            assert (said[0] == " ", said[-1] == " ") == (english[0] == " ", english[-1] == " "), (
                english,
                said,
            )


@pytest.mark.parametrize("code", OTHERS)
def test_lines_of_opening_keep_their_colon(code: str) -> None:
    """The estimate puts such lines together by what stands behind the colon."""
    found = catalogue(code, "program")
    for english in (
        "{name}: opening and closing",
        "{name}: strip-down done for this inspection, owed in any case",
        "{name}: closing",
    ):
        said = str(found[english].string)
        assert said.startswith("{name}")
        assert ":" in said
