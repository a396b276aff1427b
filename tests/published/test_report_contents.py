"""
A report against what ISO/IEC 17020:2012 asks an inspection report to hold.

7.4.2 and 7.4.4 (paraphrase seen at norac.org.uk and 17020.world), FAQ 20 and 42 of the accreditation bodies
(ilacfaq.org, seen); optional items of annex B from memory.
"""

import re
from html import unescape

import pytest

from tests.made import Reported
from tests.samples import SAMPLES


@pytest.fixture(scope="module")
def printed(reported: Reported) -> str:
    """The words of the largest sample's report, without its marks."""
    text = reported(SAMPLES / "inline-four-strip.yaml", "html").read_text(encoding="utf-8")
    plain = re.sub(r"<[^>]+>", " ", re.sub(r"<(style|script).*?</\1>", "", text, flags=re.DOTALL))
    return " ".join(unescape(plain).split())


@pytest.mark.parametrize(
    ("asked", "words"),
    [
        ("7.4.2 who issues it", ["Hollin Bridge"]),
        ("7.4.2 unique number", ["HB-2026-041"]),
        ("7.4.2 day of issue", ["Issued 9 March 2026"]),
        ("7.4.2 days of inspection", ["Inspected 5 March 2026 to 6 March 2026"]),
        ("7.4.2 what was inspected", ["Corvane", "Tarn 600", "CT6-018842"]),
        ("7.4.2 approval by a person", ["M. Stannard", "Signature"]),
        ("7.4.2 statement of conformity", ["beyond limit", "Decision rule: shown at 95 % confidence"]),
        ("7.4.2 results", ["27.3 ± 1.5 %"]),
        ("7.4.2 results by pictures, FAQ 20", ["Photo"]),
        ("FAQ 42: what the client says kept apart", ["As told by owner or seller, not checked"]),
        ("annex B: client and order", ["R. Ellery", "Down on power, blue haze under load"]),
        ("annex B: what was left out", ["Left out:", "Not inspected says nothing about condition"]),
        ("annex B: equipment with its numbers", ["LD-1", "BG-2"]),
        ("annex B: place and environment", ["Workshop, Hollin Bridge", "17 °C"]),
        ("annex B: holds for the item alone", ["It is no warranty"]),
        ("annex B: names of inspectors", ["Inspected by M. Stannard"]),
    ],
)  # fmt: skip
def test_report_holds_what_the_standard_asks(printed: str, asked: str, words: list[str]) -> None:
    """Each content asked for stands in the report of the sample, in its own words."""
    found = printed.replace("\u00a0", " ")
    assert [word for word in words if word not in found] == [], asked
