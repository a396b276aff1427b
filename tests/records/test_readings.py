"""The readings block: what is filled in comes out in SI at its place, and every fault is told at once."""

import pytest

from inspect_report.records.position import Position
from tests.records.made import INSTRUMENTS, codes, filled, the_one

GAP = "top:\n  gap: "


def test_readings_come_out_in_si_at_their_places() -> None:
    """A grid of two axes gives one reading for each place, with text as typed, instrument and line."""
    got = filled(
        "top:\n  gap:\n    1: {inlet-1: 0.160, exhaust: 5 thou}\n    2: {inlet-2: '0,20 mm'}\n"
    ).value
    assert got is not None
    assert [(r.position.id, r.values, r.typed) for r in got.readings] == [
        ("1.inlet-1", (0.00016,), ("0.160",)),
        ("1.exhaust", (5 * 2.54e-5,), ("5 thou",)),
        ("2.inlet-2", (0.0002,), ("0,20 mm",)),
    ]
    assert {(r.instrument, r.dimension) for r in got.readings} == {("blades", "length")}
    assert [r.place.line for r in got.readings] == [10, 10, 11]


def test_a_list_holds_repeats() -> None:
    """Several readings of one place stay together; an empty one between them is none."""
    got = filled("top: {bore: {1: {top: {along: [67.01, ~, 67.012 mm]}}}}").value
    assert got is not None
    assert got.readings[0].values == pytest.approx((0.06701, 0.067012))
    assert got.readings[0].typed == ("67.01", "67.012 mm")


def test_one_value_for_all_places() -> None:
    """A shared item takes one value for every cylinder."""
    got = filled("leak: {leak-down-supply: {all: 80 psi}}").value
    assert got is not None
    assert [r.position for r in got.readings] == [Position(("cylinder",), (n,)) for n in "12"]
    assert {r.values for r in got.readings} == {(80 * 6894.757293168,)}


def test_what_is_empty_was_not_filled_in() -> None:
    """Empty lines, forms and lists give neither readings nor faults, at any depth."""
    read = filled(
        "leak:\n  heard: {1: , 2: }\n  turns:\n"
        "top:\n  crown: {1: {damage: , amount: , size: , note: }, 2: }\n  gap:\nbelt:\n"
    )
    assert read.problems == ()
    assert read.value is not None
    assert (read.value.readings, read.value.ratings, read.value.answers) == ((), (), ())


def test_answers_of_every_kind() -> None:
    """Choices, counts, ticks, texts and photos are kept as typed; an answer given twice counts once."""
    got = filled(
        "leak:\n  heard: {1: none, 2: [inlet, crankcase, inlet]}\n  turns: free\n"
        "top: {pitches: 20, marked: done, list: 7.50, marks-photo: [a.jpg, b.jpg]}\n"
    ).value
    assert got is not None
    assert [(a.item, a.position.id, a.chosen) for a in got.answers] == [
        ("heard", "1", ("none",)),
        ("heard", "2", ("inlet", "crankcase")),
        ("turns", "", ("free",)),
        ("pitches", "", ("20",)),
        ("marked", "", ("done",)),
        ("list", "", ("7.50",)),
        ("marks-photo", "", ("a.jpg", "b.jpg")),
    ]


def test_ratings() -> None:
    """Nothing found, one kind of damage with size, an even change with strength, and several at one place."""
    got = filled(
        "top:\n  crown:\n    1: none\n    2: [{damage: scuffing, amount: 2, size: 3, note: thrust side},"
        " {damage: carbon, amount: 1, strength: 4}]\n"
    ).value
    assert got is not None
    assert [
        (r.position.id, r.damage, r.amount, r.size, r.strength, r.note, r.grade) for r in got.ratings
    ] == [
        ("1", "", 0, None, None, "", 0),
        ("2", "scuffing", 2, 3, None, "thrust side", 3),
        ("2", "carbon", 1, None, 4, "", 4),
    ]


def test_two_people_rate_one_place() -> None:
    """Each with a name; one of them may have found nothing."""
    got = filled(
        "top:\n  crown:\n    1: [{damage: scuffing, amount: 1, size: 2, by: J. Vale},"
        " {damage: none, by: R. Orr}]\n"
    ).value
    assert got is not None
    assert [(r.damage, r.grade, r.by) for r in got.ratings] == [("scuffing", 2, "J. Vale"), ("", 0, "R. Orr")]


@pytest.mark.parametrize(
    "both",
    [
        "{damage: scuffing, amount: 1, size: 2}, {damage: none, by: R. Orr}",
        "{damage: scuffing, amount: 1, size: 2, by: R. Orr}, {damage: none, by: R. Orr}",
        "{damage: none, by: R. Orr}, {damage: none, by: R. Orr}",
        "{damage: scuffing, amount: 1, size: 2}, none",
    ],
)
def test_nothing_found_beside_damage_needs_two_people(both: str) -> None:
    """Otherwise one of the two is a slip."""
    problems = filled(f"top: {{crown: {{1: [{both}]}}}}\n").problems
    assert [p.code for p in problems] == ["V318"]


def test_a_wrapping_names_instrument_and_note() -> None:
    """``with`` and ``note`` hold for all that ``read`` holds; an inner wrapping overrules an outer one."""
    instruments = INSTRUMENTS + "  other: {kind: bore gauge, resolution: 0.01}\n"
    got = filled(
        "top:\n  bore:\n    with: other\n    note: after honing\n    read:\n"
        "      1: {top: {along: 67.01}}\n      2: {with: bore-gauge, read: {top: {along: 67.02}}}\n"
        "  crown: {note: wet, read: {1: {damage: crack, amount: 1, note: small}}}\n",
        instruments,
    ).value
    assert got is not None
    assert [(r.instrument, r.note) for r in got.readings] == [
        ("other", "after honing"),
        ("bore-gauge", "after honing"),
    ]
    assert got.ratings[0].note == "wet; small"


def test_further_rows_of_the_spec_sheet_can_be_read() -> None:
    """A limit no item asks for is read in its section or below further-readings; a fit may be negative."""
    got = filled("further-readings: {kick-bush-fit: -0.02}\ntop: {dog-height: {1: 0.21, 2: 5.2 mm}}").value
    assert got is not None
    assert [r.values[0] for r in got.readings] == pytest.approx([-2e-5, 0.21 * 0.0254, 0.0052])


@pytest.mark.parametrize(
    ("readings", "code", "said"),
    [
        ("lea: {turns: free}", "V301", "write 'leak' if that is meant"),
        ("turns: free", "V301", "'turns' is an item: write it below 'leak'"),
        ("leak: {tuns: free}", "V302", "write 'turns' below 'leak' if that is meant"),
        ("leak: {gapp: 1}", "V302", "write 'gap' below 'top' if that is meant"),
        ("leak: {zzzzzz: 1}", "V302", "take one of the items listed"),
        ("top: {turns: free}", "V303", "move it below 'leak'"),
        (GAP + "{5: {inlet-1: 0.2}}", "V304", "cylinder 5 of 2"),
        (GAP + "{1: {inlet-3: 0.2}}", "V304", "write 'inlet-2' if that is meant"),
        (GAP + "0.2", "V305", "write 'gap: {1: …, 2: …}'"),
        (GAP + "{1: 0.2}", "V305", "value for each valve expected"),
        (GAP + "{1: {exhaust: {a: 1}}}", "V305", "keys where one amount belongs"),
        (GAP + "{1: {exhaust: [[0.2]]}}", "V305", "several amounts where one amount belongs"),
        ("top: {crown: {damage: crack, amount: 1}}", "V305", "value for each cylinder expected"),
        (GAP + "{all: {exhaust: 0.2}}", "V306", "one value for all places"),
        ("leak: {leak-down-supply: {all: 6, 1: 6}}", "V307", "write one of the two"),
        ("belt: {belt-cracks: done}", "V308", "only where the spec sheet's layout says timing-drive: belt"),
        ("top: {coolant: clear}", "V308", "cooling: air"),
        ("top: {side-stand-play: {1: 1}}", "V308", "engine without side-stand"),
        ("top: {pulley-wear: {1: 1}}", "V308", "number of pulley not known"),
        ("leak: []", "V300", "write 'name: value' lines"),
        ("top: {free-length: 12 bar}", "V201", "bar measures pressure, not length"),
        ("top: {free-length: '1,234'}", "V201", "a comma that could mean two things"),
        ("top: {free-length: true}", "V201", "not an amount"),
        ("top: {free-length: -0.1 mm}", "V311", "without the minus sign: 0.1 mm"),
        ("top: {pitches: 20.5}", "V312", "a whole number, 4 to 200"),
        ("top: {pitches: 3}", "V312", "a whole number, 4 to 200"),
        ("top: {pitches: -1}", "V312", "not a count"),
        ("leak: {turns: fre}", "V313", "write 'free' if that is meant"),
        ("leak: {turns: {a: 1}}", "V313", "{a: 1}"),
        ("leak: {heard: {1: []}}", "V313", "leave it empty where it was not looked at"),
        ("leak: {turns: [free, seized]}", "V314", "keep the one that holds, without brackets"),
        ("top: {crown: {1: scuffing}}", "V315", "write {damage: scuffing, amount: 2, size: 2}"),
        ("top: {crown: {1: {damage: scuffing}}}", "V315", "rating without 'amount'"),
        ("top: {crown: {1: {damage: pitting, amount: 1}}}", "V316", "carbon, scuffing, crack"),
        ("top: {crown: {1: {damage: crack, amount: 6}}}", "V317", "not a step of the scale"),
        ("top: {crown: {1: {damage: crack, amount: 1.5}}}", "V317", "one whole number from 0 to 5"),
        (
            "top: {crown: {1: {damage: crack, amount: 1, strength: 2}}}",
            "V318",
            "write 'size:' instead of 'strength:'",
        ),
        (
            "top: {crown: {1: {damage: carbon, amount: 1, size: 2}}}",
            "V318",
            "carbon is rated by strength, not by size",
        ),
        ("top: {crown: {1: {damage: crack, amount: 0}}}", "V318", "write none instead"),
        ("top: {crown: {1: [none, {damage: crack, amount: 1}]}}", "V318", "'none' beside damage"),
        ("top: {crown: {1: {damage: crack, amout: 1}}}", "V206", "write 'amount' if that is meant"),
        (
            "top: {gap: {with: blades, red: 1, read: {1: {exhaust: 0.2}}}}",
            "V206",
            "write 'read' if that is meant",
        ),
        ("top: {marked: yes}", "V319", "done, no"),
        ("top: {marked: true}", "V319", "done, no"),
        ("top: {list: [a]}", "V320", "not text"),
        ("top: {list: 'a <b>bold</b> word'}", "V346", "<b>"),
        ("top: {marks-photo: 12}", "V321", "write names like photos/crown-2.jpg"),
    ],
)
def test_a_fault_is_named_once_and_says_how_to_mend_it(readings: str, code: str, said: str) -> None:
    """Each fault gives one problem with its code, what stands there, what is allowed and a way out."""
    problem = the_one(filled(readings))
    assert problem.code == code
    assert said in f"{problem.title}; {problem.found}; {problem.allowed}; {problem.mend}"
    assert problem.excerpt


@pytest.mark.parametrize(
    ("readings", "mend"),
    [
        ("top: {bore: {1: {top: {along: 7.932}}}}", "did the decimal point slip: 79.32 mm?"),
        ("top: {bore: {1: {top: {along: 2.64}}}}", "if the unit is in, write 2.64 in"),
        ("top: {gap: {1: {exhaust: 5}}}", "if the unit is thou, write 5 thou"),
        ("top: {gap: {1: {exhaust: 12 mm}}}", "if the unit is thou, write 12 thou"),
        ("leak: {leak-down-supply: {1: 87}}", "if the unit is psi, write 87 psi"),
        ("leak: {leak-down-supply: {1: 0}}", "look at reading, unit and place again"),
    ],
)
def test_an_impossible_amount_says_what_was_probably_meant(readings: str, mend: str) -> None:
    """Outside the believable range the unit or the slip of the point that would make it right is offered."""
    problem = the_one(filled(readings))
    assert (problem.code, mend in problem.mend) == ("V310", True), problem.mend


def test_all_faults_are_told_at_once_in_file_order() -> None:
    """One bad line hides no other."""
    read = filled(
        "leak:\n  turns: fre\n  heard: {3: none}\ntop:\n  pitches: x\n  gap: {1: {inlet-1: 12 bar}}\n"
    )
    assert codes(read) == ["V313", "V304", "V312", "V201"]


def test_an_unknown_item_is_told_at_its_own_line() -> None:
    """The line of the misspelt word is told, not the first line below it."""
    assert the_one(filled("top:\n  gapp:\n    1: {exhaust: 1}\n")).place.line == 9


def test_a_second_instrument_of_a_kind_must_be_named() -> None:
    """With two feeler gauges declared the one used is asked for; naming it is enough."""
    two = INSTRUMENTS + "  old-blades: {kind: feeler gauge, resolution: 0.05}\n"
    assert the_one(filled(GAP + "{1: {exhaust: 0.2}}", two)).code == "V324"
    got = filled(GAP + "{with: old-blades, read: {1: {exhaust: 0.2}}}", two).value
    assert got is not None
    assert got.readings[0].instrument == "old-blades"


def test_a_kind_of_instrument_that_is_not_declared_is_told_once() -> None:
    """Two items that need a leak-down tester give one problem that names both."""
    problem = the_one(filled("leak:\n  leak-down-supply: {1: 6}\n  leak-down-cylinder: {1: 5}\n", ""))
    assert problem.code == "V325"
    assert "leak-down-supply, leak-down-cylinder" in problem.found


def test_an_item_without_instrument_needs_none() -> None:
    """Where the checklist asks for no instrument the reading has none."""
    got = filled("top: {free-length: 40}", "").value
    assert got is not None
    assert got.readings[0].instrument == ""


@pytest.mark.parametrize(
    ("named", "code", "said"),
    [
        ("bore-gage", "V322", "write 'bore-gauge' if that is meant"),
        ("tester", "V323", "tester, which reads pressure"),
    ],
)
def test_an_instrument_that_cannot_have_been_used(named: str, code: str, said: str) -> None:
    """An instrument that is not declared, or reads something else, is refused by name."""
    problem = the_one(filled(f"top: {{gap: {{with: {named}, read: {{1: {{exhaust: 0.2}}}}}}}}"))
    assert problem.code == code
    assert said in f"{problem.found} {problem.mend}"


def test_an_instrument_left_blank_matters_only_where_it_is_used() -> None:
    """A declared instrument without a resolution is asked for its resolution when a reading needs it."""
    blank = "instruments:\n  blades: {kind: feeler gauge, resolution: }\n"
    assert codes(filled("top: {free-length: 40}", blank)) == []
    problem = the_one(filled(GAP + "{1: {inlet-1: 0.2, exhaust: 0.2}}", blank))
    assert (problem.code, problem.place.line) == ("V327", 2)


def test_a_temperature_may_be_below_its_zero() -> None:
    """Amounts that can be negative are taken as they are."""
    got = filled("top: {oil-temperature: -5 °C}", "").value
    assert got is not None
    assert got.readings[0].values == (268.15,)


def test_finds_by_kind_and_amount() -> None:
    """A kind may say how much of it was found; a list says none, and an amount left empty was not found."""
    by_amount, by_kind = (
        filled("leak: {finds: {grey film: 2, sealant: 5, sludge: }}"),
        filled("leak: {finds: [grey film, sealant]}"),
    )
    assert by_amount.value is not None
    assert by_kind.value is not None
    assert [(a.chosen, a.amounts) for a in by_amount.value.answers] == [(("grey film", "sealant"), (2, 5))]
    assert [(a.chosen, a.amounts) for a in by_kind.value.answers] == [(("grey film", "sealant"), ())]


@pytest.mark.parametrize(
    ("written", "code", "path"),
    [
        ("{finds: {grey flim: 2}}", "V313", "readings.leak.finds.grey flim"),
        ("{finds: {grey film: 6}}", "V317", "readings.leak.finds.grey film"),
        ("{finds: {grey film: much}}", "V317", "readings.leak.finds.grey film"),
        ("{finds: {grey film: true}}", "V317", "readings.leak.finds.grey film"),
        ("{finds: {nothing: 0}}", "V318", "readings.leak.finds.nothing"),
        ("{turns: {free: 2}}", "V313", "readings.leak.turns"),
    ],
)
def test_finds_that_cannot_be(written: str, code: str, path: str) -> None:
    """Kinds not known, amounts off the scale, an amount of 0, or amounts where none are asked for."""
    problem = the_one(filled(f"leak: {written}"))
    assert (problem.code, problem.place.path) == (code, path)
