"""Every sum printed on a page opens its chain, and the chain's numbers come to the sum, to the coin."""

import json
import re
from decimal import ROUND_HALF_UP, Decimal
from html import unescape

import pytest

from inspect_report.knowledge.shelf import load
from inspect_report.pipeline import assess
from inspect_report.report.explain import asked_ids, why_json
from inspect_report.report.source import Source
from inspect_report.report.view import view
from inspect_report.report.view_quote import known_orders
from tests.made import Reported
from tests.samples import samples_unlike

SAMPLES = samples_unlike()
Ends = tuple[Decimal, Decimal]
"""An amount at least and at most."""

CHAIN = re.compile(r'<details class="why-chain"><summary[^>]*>(.*?)</summary>(.*?)</details>', re.DOTALL)
MONEY = re.compile(r"[£€]\d{1,3}(?:,\d{3})*(?:\.\d+)?")
STEP = re.compile(r"<dt>(.*?)</dt>((?:<dd>.*?</dd>)*)", re.DOTALL)
TIMES = re.compile(r": ([\d.,]+(?: to [\d.,]+)?)(?:\xa0h| h)? × ([£€]\S+(?: to [£€]\S+)?) = ([£€][^;]+)")
TAX = re.compile(r"([\d.]+)\xa0?\s?% of (.+) = (.+)")


@pytest.fixture(scope="module", params=SAMPLES, ids=lambda p: f"{p.parent.name}-{p.stem}")
def made(request: pytest.FixtureRequest, reported: Reported) -> tuple[Source, str]:
    """Each sample's assessment, and its report as HTML without styles and drawings."""
    page = reported(request.param, "html").read_text(encoding="utf-8")
    bare = re.sub(r"<style>.*?</style>|<svg.*?</svg>", "", page, flags=re.DOTALL)
    return Source(assess(load(request.param))), bare


@pytest.fixture
def page(made: tuple[Source, str]) -> str:
    """The page of each sample."""
    return made[1]


def amount(text: str) -> Decimal:
    """A printed number or amount of money, exactly."""
    return Decimal(re.sub("[£€,]", "", text.strip()).replace("−", "-"))


def ends(text: str) -> Ends:
    """An amount, or one from … to …, with or without brackets."""
    low, _, high = text.strip().strip("()").partition(" to ")
    return amount(low), amount(high or low)


def rounded(value: Decimal) -> Decimal:
    """To the penny, halves up."""
    return value.quantize(Decimal("0.01"), rounding=ROUND_HALF_UP)


def added(terms: list[Ends]) -> Ends:
    """Amounts added end by end."""
    return sum((t[0] for t in terms), Decimal(0)), sum((t[1] for t in terms), Decimal(0))


def steps(chain: str) -> list[tuple[str, str]]:
    """Each line of a chain with its label."""
    found = []
    for label, told in STEP.findall(chain):
        found += [(label, unescape(text)) for text in re.findall(r"<dd>(.*?)</dd>", told, re.DOTALL)]
    return found


def reckoned_anew(chain: str) -> list[Ends]:
    """
    The results of a chain in their order, each held against what stands before its equals sign.

    Lines add up to the net sum below them, the tax is its share of that, sums are those of their terms.
    """
    results: list[Ends] = []
    lines: list[Ends] = []
    opening: list[Ends] = []
    for label, text in steps(chain):
        if times := TIMES.search(text):
            quantity, each, price = (ends(part) for part in times.groups())
            assert price == (rounded(quantity[0] * each[0]), rounded(quantity[1] * each[1])), text
            lines.append(price)
            opening += [price] if label == "Opening" else []
        elif label == "Opening" and text.startswith("All "):
            assert added(opening) == ends(text.rpartition(" together ")[2]), text
        elif label == "Net" and ", the lines together" in text:
            assert added(lines) == ends(text.removesuffix(", the lines together")), text
            lines, opening = [], []
        elif label == "Tax":
            found = TAX.search(text)
            assert found, text
            rate, net, tax = Decimal(found[1]) / 100, ends(found[2]), ends(found[3])
            assert tax == (rounded(net[0] * rate), rounded(net[1] * rate)), text
        elif ", less " in text:
            left, _, result = text.rpartition(" = ")
            more, less = (re.sub(r" (with it|without it|now|before)$", "", t) for t in left.split(", less "))
            more = more.rpartition(": ")[2]
            (a, b), (c, d) = ends(more), ends(less)
            assert ends(result) == (a - c, b - d), text
            if label == "Line":
                lines.append(ends(result))
            elif label == "Net" and lines:
                assert added(lines) == ends(result), text
            results.append(ends(result))
        elif " = " in text and MONEY.search(text):
            terms, _, result = text.rpartition(" = ")
            assert added([ends(t) for t in re.split(r" \+ ", terms)]) == ends(result), text
            results.append(ends(result))
    return results


def money_chains(page: str) -> list[tuple[str, str]]:
    """Summary and body of every chain that tells how a sum came about."""
    found = [(unescape(opens), body) for opens, body in CHAIN.findall(page)]
    return [(opens, body) for opens, body in found if opens.startswith("how ")]


def test_every_amount_on_a_page_stands_in_a_chain(page: str) -> None:
    """What is printed of money outside chains is found in one, but for the labour rate, which is given."""
    outside = unescape(CHAIN.sub("", page))
    inside = {m for _, body in money_chains(page) for m in MONEY.findall(unescape(body))}
    assert inside
    assert set(MONEY.findall(outside)) - inside - set(re.findall(r"([£€]\S+) an hour", outside)) == set()


def test_every_cell_of_a_sum_has_its_chain(page: str) -> None:
    """The three classes and all together on the first page, and each estimate, each order, what is added."""
    opened = [opens for opens, _ in money_chains(page)]
    printed = re.findall(r'<td class="money">(.*?)</td>', page)
    printed += re.findall(r'<tr class="total">(?:(?!</tr>).)*<td class="num">([^<]*)</td></tr>', page)
    assert len(printed) >= 3
    for text in printed:
        assert any(f"how {unescape(text)} comes about" in opens for opens in opened), text


def test_the_numbers_of_a_chain_come_to_its_sum(page: str) -> None:
    """Hours and parts times price, lines to net, tax on it, both to the total: the sum that is printed."""
    reckoned = 0
    for opens, body in money_chains(page):
        results = reckoned_anew(body)
        told = re.match(r"how ([£€]\S+(?: to [£€]\S+)?) comes about", opens)
        if told and results:
            assert ends(told[1]) in results, opens
            reckoned += 1
    assert reckoned >= 3


def orders_on_page(source: Source) -> set[str]:
    """Orders that the report prints: side by side, and on the page to order by."""
    made = view(source.a)
    side_by_side = {order.chain for order in made.orders.sums} if made.orders else set()
    return side_by_side | ({c.chain for c in made.order_form.choices} if made.order_form else set())


def loosely(text: str) -> str:
    """A text with a plain space where a page lets no line end."""
    return text.replace("\u00a0", " ").replace("\u202f", " ")


def test_the_page_opens_what_why_tells(made: tuple[Source, str]) -> None:
    """Whatever can be asked opens the very words of the command: one source, whoever asks."""
    source, page = made
    on_page = {tuple(loosely(text) for _, text in steps(body)) for _, body in CHAIN.findall(page)}
    left_out = () if 'id="buyer"' in page else ("known", "likely", "hidden")
    ordered = orders_on_page(source)
    left_out = (*left_out, *(order.id for order in known_orders(source) if order.id not in ordered))
    shown = [i for i in asked_ids(source) if i not in left_out]
    assert len(shown) >= 3
    for asked in shown:
        told = [s for s in json.loads(why_json(source.a, asked))["steps"] if s["step"] != "judged by"]
        lines = (loosely(text.replace(f"{source.a.folder}/", "")) for step in told for text in step["told"])
        assert tuple(lines) in on_page, asked


def test_a_wrong_number_is_seen() -> None:
    """The check itself fails on a line, a sum or a tax that is out by a penny."""
    good = (
        "<dt>Part</dt><dd>Reed: 2 × £3.50 = £7.00; for 2 jobs</dd>"
        "<dd>Pin: 0 to 2 × £1.00 = £0.00 to £2.00</dd>"
        "<dt>Net</dt><dd>£7.00 to £9.00, the lines together</dd>"
        "<dt>Tax</dt><dd>VAT 20\xa0% of (£7.00 to £9.00) = £1.40 to £1.80</dd>"
        "<dt>Total</dt><dd>(£7.00 to £9.00) + (£1.40 to £1.80) = £8.40 to £10.80</dd>"
    )
    assert reckoned_anew(good) == [(Decimal("8.40"), Decimal("10.80"))]
    for right, wrong in (
        ("= £7.00", "= £7.01"),
        ("= £1.40", "= £1.41"),
        ("£10.80", "£10.81"),
        ("9.00,", "9.01,"),
    ):
        with pytest.raises(AssertionError):
            reckoned_anew(good.replace(right, wrong))
