"""
Turns YAML text into plain values with a place for each of them.

The reader takes YAML 1.2's core schema and less: a value is text, a plain decimal number, true, false or
nothing. Dates, clock times, octal and grouped numbers stay text, so none is silently made into another
value. Anchors, aliases, tags, more than one document and keys written twice are refused.
"""

import re
import unicodedata
from collections.abc import Callable, Hashable, Iterator
from dataclasses import dataclass, field
from itertools import pairwise
from typing import Final, Protocol

import yaml

from inspect_report.records.letters import odd_letter
from inspect_report.records.problem import InvalidInput, Place, Problem
from inspect_report.records.typed import Figures

Plain = None | bool | int | float | str | list["Plain"] | dict[str, "Plain"]
Path = tuple[str | int, ...]
Start = tuple[int, int]
"""Line and column where something begins, from 1."""

MOST_CHARACTERS: Final = 5_000_000
MOST_NODES: Final = 200_000
MOST_DEPTH: Final = 40
MOST_PROBLEMS: Final = 200
MOST_FIGURES: Final = 15
"""A whole number of more figures stays text: it is a name, not an amount, and no float holds it."""

# Without one of these signs a text holds no anchor, alias, tag or second document; looking costs less.
_SUSPECT: Final = re.compile(r"[&*!]|^(?:---|\.\.\.)", re.MULTILINE)
_CORE: Final = "tag:yaml.org,2002:"
_NUMBER = r"[-+]?(?:0|[1-9][0-9]*)"
# Plain scalars of the 1.2 core schema that are not text, by the letter they begin with.
_NULL, _BOOL, _INT, _FLOAT = (_CORE + kind for kind in ("null", "bool", "int", "float"))
_WORDS: Final = {
    **dict.fromkeys(("", "~", "null", "Null", "NULL"), _NULL),
    **dict.fromkeys(("true", "True", "TRUE", "false", "False", "FALSE"), _BOOL),
}
_WHOLE: Final = re.compile(_NUMBER)
_BROKEN: Final = re.compile(rf"(?:{_NUMBER}(?:\.[0-9]+)?|[-+]?\.[0-9]+)(?:[eE][-+]?[0-9]+)?")
_FIGURE: Final = frozenset("-+.0123456789")
_TEXT, _LIST, _MAPPING = (_CORE + kind for kind in ("str", "seq", "map"))


class Mark(Protocol):
    """Where the parser was: line and column from 0."""

    line: int
    column: int


class _Loader(yaml.CSafeLoader):
    """libyaml's parser with the 1.2 core schema's implicit types."""

    def resolve(self, kind: type[yaml.Node], value: str, implicit: tuple[bool, bool]) -> str:
        """The type of a node: by the core schema where it is plain, text where it is quoted."""
        if kind is yaml.ScalarNode:
            return _plain_type(value) if implicit[0] else _TEXT
        return _LIST if kind is yaml.SequenceNode else _MAPPING


def _plain_type(value: str) -> str:
    if value[:1] in _FIGURE:
        if _WHOLE.fullmatch(value):
            return _INT
        return _FLOAT if _BROKEN.fullmatch(value) else _TEXT
    return _WORDS.get(value, _TEXT)


@dataclass(frozen=True, slots=True)
class Marks:
    """The lines of a file, and for every path the places of value and key and the typed text."""

    lines: tuple[str, ...] = ()
    starts: dict[Path, Start] = field(default_factory=dict)
    keys: dict[Path, Start] = field(default_factory=dict)
    texts: dict[Path, str] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Document:
    """What a file holds: plain values, and where they stand, which is looked up when it is asked for."""

    file: str
    data: Plain
    marks: Callable[[], Marks] = Marks

    @property
    def starts(self) -> dict[Path, Start]:
        """Where each value begins."""
        return self.marks().starts

    @property
    def texts(self) -> dict[Path, str]:
        """Every single value as typed."""
        return self.marks().texts

    def place(self, path: Path) -> Place:
        """The place of a value; of its nearest parent when the value itself is not written."""
        while path not in self.starts and path:
            path = path[:-1]
        return self._at(path, self.starts.get(path, (1, 1)))

    def told_at(self, path: Path) -> Place:
        """Where a fault of a value is told: at its key when the value only starts on a later line."""
        value, key = self.starts.get(path), self.marks().keys.get(path)
        return self._at(path, key) if value and key and key[0] != value[0] else self.place(path)

    def key_place(self, path: Path) -> Place:
        """The place of a key; that of the value where there is none."""
        key = self.marks().keys.get(path)
        return self._at(path, key) if key else self.place(path)

    def _at(self, path: Path, start: Start) -> Place:
        return Place(self.file, start[0], start[1], path_text(path))

    def text(self, path: Path) -> str:
        """A single value as typed, ``67.010`` and not 67.01; empty where there is none."""
        return self.texts.get(path, "")

    def excerpt(self, place: Place) -> str:
        """The line as written, for the message."""
        lines = self.marks().lines
        return lines[place.line - 1] if 0 < place.line <= len(lines) else ""

    def problem(
        self, code: str, title: str, path: Path, found: str, allowed: str, mend: str, *, at_key: bool = False
    ) -> Problem:
        """An error at a path of this document; ``at_key`` where the key is at fault and not its value."""
        place = self.key_place(path) if at_key else self.told_at(path)
        return Problem(code, "error", title, place, found, allowed, mend, self.excerpt(place))


def path_text(path: Path) -> str:
    """A path as people read it: ``instruments.bore-gauge`` or ``rules[3].when``."""
    text = ""
    for step in path:
        text += f"[{step}]" if isinstance(step, int) else (f".{step}" if text else step)
    return text


def read_yaml(text: str, file: str) -> Document:
    """
    Read one YAML document.

    Raises:
        InvalidInput: the text is not YAML as taken here; problems with code Y1xx. Where it could be read on
            all the same, ``document`` holds what a person most likely meant, so that the rest can be checked.
    """
    return _Builder(text, file).document()


class _Builder:
    """Walks libyaml's nodes once, keeping places and refusing what is not taken."""

    def __init__(self, text: str, file: str) -> None:
        self.text, self.file = text, file
        self.marks = Marks(tuple(text.splitlines()))
        self.nodes = 0
        self.problems: list[Problem] = []

    def document(self) -> Document:
        self._refuse_oversize()
        try:
            if _SUSPECT.search(self.text):
                self._refuse_events()
            node = yaml.compose(self.text, _Loader)
        except yaml.MarkedYAMLError as fault:
            raise self._not_yaml(fault) from None
        except yaml.reader.ReaderError as fault:
            raise self._unreadable(fault) from None
        data = self._value(node, ()) if node is not None else None
        document = Document(self.file, data, lambda: self.marks)
        if self.problems:
            raise InvalidInput(self.problems, document)
        return document

    def _refuse_oversize(self) -> None:
        if len(self.text) > MOST_CHARACTERS:
            raise self._fault(
                "Y108",
                "file too large",
                None,
                f"{len(self.text)} characters",
                f"at most {MOST_CHARACTERS} characters",
                "split it, or check that it is the file meant",
            )

    def _refuse_events(self) -> None:
        """Told all at once, and then nothing is read on: an alias may stand for a great deal."""
        documents = 0
        for event in yaml.parse(self.text, _Loader):
            documents += isinstance(event, yaml.DocumentStartEvent)
            if documents > 1:
                self._note(
                    "Y106",
                    "more than one document",
                    event.start_mark,
                    "a second '---'",
                    "one document a file",
                    "put the second part into a file of its own",
                )
                break
            self._refuse_reference(event)
        if self.problems:
            raise InvalidInput(self.problems)

    def _refuse_reference(self, event: yaml.Event) -> None:
        anchor = getattr(event, "anchor", None)
        if anchor:
            sign = "*" if isinstance(event, yaml.AliasEvent) else "&"
            self._note(
                "Y103",
                "reference to another part of the file",
                event.start_mark,
                f"{sign}{anchor}",
                "values written out in full",
                f"write the value itself; text that starts with {sign} needs quotes",
            )
        tag = getattr(event, "tag", None)
        if tag not in (None, "!"):
            self._note(
                "Y104",
                "type tag",
                event.start_mark,
                str(tag),
                "plain values without a tag",
                "leave the tag out; text that starts with ! needs quotes",
            )

    def _value(self, node: yaml.Node, path: Path) -> Plain:
        self.nodes += 1
        self.marks.starts[path] = _start(node.start_mark)
        if self.nodes > MOST_NODES or len(path) > MOST_DEPTH:
            raise self._fault(
                "Y107",
                "file too deep or too long",
                node.start_mark,
                f"{self.nodes} values, {len(path)} deep",
                f"at most {MOST_NODES} values, {MOST_DEPTH} deep",
                "check that this is the file meant",
            )
        if isinstance(node, yaml.ScalarNode):
            text = self.marks.texts[path] = _clean(node.value)
            self._refuse_unreadable(node)
            return _plain(node.tag.removeprefix(_CORE), text)
        self._refuse_split_commas(node)
        if isinstance(node, yaml.SequenceNode):
            return [self._value(child, (*path, i)) for i, child in enumerate(node.value)]
        return dict(self._members(node, path))

    def _refuse_unreadable(self, node: yaml.ScalarNode) -> None:
        odd = odd_letter(node.value)
        if odd:
            self._note(odd.code, odd.title, node.start_mark, odd.found, odd.allowed, odd.mend)

    def _refuse_split_commas(self, node: yaml.Node) -> None:
        """Inside [ ] and { } YAML reads ``0,16`` as two values, 0 and 16, where a person means 0.16."""
        if not getattr(node, "flow_style", False):
            return
        parts = [p for child in node.value for p in (child if isinstance(child, tuple) else (child,))]
        split = [
            (before, behind)
            for before, behind in pairwise(parts)
            if behind.start_mark.index - before.end_mark.index == 1 and _splits_number(before, behind)
        ]
        for before, behind in split:
            self._refuse_split_comma(before, behind)
        _join(node, split)

    def _refuse_split_comma(self, before: yaml.ScalarNode, behind: yaml.ScalarNode) -> None:
        self._note(
            "Y112",
            "comma between figures inside brackets",
            before.start_mark,
            f"{before.value},{behind.value}",
            "a decimal point, or a blank after a comma that parts two values",
            f"write {before.value}.{behind.value} or '{before.value}, {behind.value}'",
        )

    def _members(self, node: yaml.Node, path: Path) -> Iterator[tuple[str, Plain]]:
        seen: dict[Hashable, int] = {}
        for key, value in node.value:
            if not isinstance(key, yaml.ScalarNode):
                self._note(
                    "Y105",
                    "key that is not text",
                    key.start_mark,
                    "a list or mapping as key",
                    "a word before the colon",
                    "write a plain word before the colon",
                )
                continue
            if key.value in seen:
                self._note(
                    "Y102",
                    "key written twice",
                    key.start_mark,
                    f"{key.value!r}, first on line {seen[key.value]}",
                    "each key once",
                    "delete one of the two, or give several readings as a list [a, b]",
                )
                continue
            self._refuse_unreadable(key)
            seen[key.value] = key.start_mark.line + 1
            below = (*path, key.value)
            self.marks.keys[below] = _start(key.start_mark)
            yield key.value, self._value(value, below)

    def _note(self, code: str, title: str, mark: Mark | None, found: str, allowed: str, mend: str) -> None:
        line, column = (mark.line + 1, mark.column + 1) if mark else (1, 1)
        excerpt = self.marks.lines[line - 1] if mark and line <= len(self.marks.lines) else ""
        place = Place(self.file, line, column)
        self.problems.append(Problem(code, "error", title, place, found, allowed, mend, excerpt))
        if len(self.problems) >= MOST_PROBLEMS:
            raise InvalidInput(self.problems)

    def _fault(
        self, code: str, title: str, mark: Mark | None, found: str, allowed: str, mend: str
    ) -> InvalidInput:
        self._note(code, title, mark, found, allowed, mend)
        return InvalidInput(self.problems)

    def _not_yaml(self, fault: yaml.MarkedYAMLError) -> InvalidInput:
        mark = fault.problem_mark or fault.context_mark
        if mark and mark.line >= len(self.marks.lines) and fault.context_mark:
            mark = fault.context_mark  # something was begun there and never ended
        line = self.marks.lines[mark.line] if mark and mark.line < len(self.marks.lines) else ""
        mend = "check indentation, colons, quotes and brackets on this line and the one above"
        if "\t" in line:
            mend = "replace the tab by blanks"
        elif re.search(r",\s*[,\]}]|[\[{]\s*,", line):
            mend = "take the comma out that parts nothing"
        elif ": " in line.partition(": ")[2]:
            mend = "put text that holds a colon between quotes"
        found = (fault.problem or fault.context or "something that cannot be read").replace("token", "text")
        return self._fault("Y101", "not readable as YAML", mark, found, "YAML 1.2", mend)

    def _unreadable(self, fault: yaml.reader.ReaderError) -> InvalidInput:
        before = self.text[: fault.position]
        mark = yaml.Mark("", 0, before.count("\n"), len(before) - before.rfind("\n") - 1, "", 0)
        return self._fault(
            "Y109",
            "character that does not belong in text",
            mark,
            f"character U+{int(fault.character):04X}"
            if isinstance(fault.character, int)
            else f"character {fault.character!r}",
            "printable characters",
            "delete the character; it is often invisible",
        )


def _plain(kind: str, text: str) -> Plain:
    if kind == "null":
        return None
    if kind == "bool":
        return text.lower() == "true"
    if kind == "int" and len(text) <= MOST_FIGURES:
        return int(text)
    return Figures(text) if kind == "float" else text


def _start(mark: Mark) -> Start:
    return mark.line + 1, mark.column + 1


def _splits_number(before: yaml.Node, behind: yaml.Node) -> bool:
    scalars = isinstance(before, yaml.ScalarNode) and isinstance(behind, yaml.ScalarNode)
    return scalars and bool(re.fullmatch(r"[-+]?\d+", before.value) and re.match(r"\d", behind.value))


def _join(node: yaml.Node, split: list[tuple[yaml.ScalarNode, yaml.ScalarNode]]) -> None:
    """Read on as if each split number were written with a point, so that no fault is told twice."""
    for before, behind in split:
        before.value, before.tag = f"{before.value}.{behind.value}", f"{_CORE}float"
    gone = {id(behind) for _, behind in split}
    node.value = [c for c in node.value if id(c[0] if isinstance(c, tuple) else c) not in gone]


def _clean(text: str) -> str:
    """Text without control characters, which no font can print; line ends and tabs stay."""
    if text.isprintable():
        return text
    return "".join(c for c in text if c in "\n\t" or unicodedata.category(c) not in ("Cc", "Cs"))
