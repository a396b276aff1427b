"""Every sentence, verdict, grade and job of a first page has its chain, and the grades follow from theirs."""

import json
import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field, fields
from html import unescape
from typing import Final

import pytest

from inspect_report.knowledge.catalogue import URGENCIES
from inspect_report.knowledge.shelf import load
from inspect_report.pipeline import assess
from inspect_report.records.inspection import Report
from inspect_report.report.explain import asked_ids, titled_steps, why, why_json
from inspect_report.report.explain_list import all_ids, all_ids_json
from inspect_report.report.figures import NBSP
from inspect_report.report.render import render
from inspect_report.report.reportview import FrontView, ReportView
from inspect_report.report.source import Source
from inspect_report.report.view import view
from tests.made import Reported
from tests.samples import SAMPLES

REPORTS: Final[tuple[tuple[str, Report], ...]] = (
    ("inline-four-strip", "rebuild quote"),
    ("used-machine-in-frame", "pre-purchase assessment"),
    ("kart-two-stroke", "rebuild quote"),
    ("kart-two-stroke-issue-1", "pre-purchase assessment"),
    ("race-team/c-5", "condition history"),
)
"""Four-strokes and two-strokes, and every kind of report."""
WORDS: Final = ("as new", "serviceable", "marginal", "unserviceable")
NUMBER: Final = re.compile(r"\d[\d,.]*\d|\d")
COUNTS: Final = re.compile(
    rf": ({'|'.join(WORDS)})(, which does not set the grade)?; (?:score )?([\d.]+)(?: left)? × "
    r"weight (\d+) = ([\d,.]+)$"
)
WEIGHTLESS: Final = re.compile(rf": ({'|'.join(WORDS)})(, which does not set the grade)?; weighs nothing")
CAP: Final = re.compile(rf": at most ({'|'.join(WORDS)}), score at most (\d+)")
CHECKS: Final = re.compile(r"(\d+) of (\d+) checks? of this depth graded(?:; (\d+) more)?")
CHAIN: Final = re.compile(r'<details class="why-chain"><summary>(.*?)</summary>(.*?)</details>', re.DOTALL)
Steps = dict[str, list[str]]


@dataclass(frozen=True)
class Made:
    """A report: what it is made from, its view, and its page without styles and drawings."""

    source: Source
    page: ReportView
    html: str
    told: dict[str, Steps] = field(default_factory=dict)

    def steps(self, asked: str) -> Steps:
        """What a chain tells, by label."""
        if asked not in self.told:
            told = self.told[asked] = {}
            for label, texts in titled_steps(self.source, asked)[1]:
                told.setdefault(label, []).extend(texts)
        return self.told[asked]


@pytest.fixture(scope="module", params=REPORTS, ids=lambda p: f"{p[0].replace('/', '-')}-{p[1][:3]}")
def made(
    request: pytest.FixtureRequest, reported: Reported, tmp_path_factory: pytest.TempPathFactory
) -> Made:
    """Each of the reports; those of the kind that the sample names are made once for all tests."""
    name, kind = request.param
    assessment = assess(load(SAMPLES / f"{name}.yaml"))
    if kind == assessment.inspection.head.report:
        path = reported(SAMPLES / f"{name}.yaml", "html")
    else:
        (path,) = render(assessment, tmp_path_factory.mktemp("page"), kind=kind, formats=("html",))
    bare = re.sub(r"<style>.*?</style>|<svg.*?</svg>", "", path.read_text(encoding="utf-8"), flags=re.DOTALL)
    return Made(Source(assessment), view(assessment, kind), bare)


def numbers(text: str) -> set[str]:
    """The numbers of a text."""
    return {n.replace(",", "") for n in NUMBER.findall(text)}


def first_page(page: ReportView) -> Iterator[tuple[str, str, str]]:
    """Every text of the first page that says something: its field, the text, the id of its chain."""
    front, verdict = page.front, page.front.verdict
    for name in ("headline", "sentence", "basis", "danger", "score"):
        yield "verdict", getattr(verdict, name), verdict.chain
    yield from (("verdict", text, verdict.chain) for text in (verdict.chip.word, *verdict.do_not_run))
    for job in front.todo:
        yield from (("todo", text, job.chain) for text in (job.name, job.where, job.because, job.choice))
    for name in ("todo_more", "nothing_to_do", "advised"):
        yield name, getattr(front, name), front.work_chain
    yield from (("declined", text, front.work_chain) for text in front.declined)
    for cost in front.costs:
        yield from (("costs", text, cost.chain) for text in (cost.gross, cost.on_request))
    yield "cost_total", front.cost_total, front.cost_total_chain
    yield "missing_groups", "", front.coverage_chain
    for group in front.missing_groups:
        yield from (("missing_groups", text, front.coverage_chain) for text in (group.names, group.reason))
    yield from (("failed", text, front.coverage_chain) for text in front.failed)
    for name, facts in (("engine_facts", front.engine_facts), ("people", sum(front.people, ()))):
        yield from ((name, fact.text, front.given_chain) for fact in facts)
    for name in ("said", "answer", "replaces"):
        yield name, getattr(front, name), front.given_chain


def heads(page: ReportView) -> Iterator[tuple[str, str]]:
    """What is said of each assembly and each job in their heads, with the id of its chain."""
    for grade in page.grades:
        yield from (
            (text, grade.chain) for text in (grade.chip.word, grade.score, grade.coverage, *grade.why)
        )
    for assembly in page.assemblies:
        yield from ((text, assembly.chain) for text in (assembly.chip.word, assembly.coverage))
    for job in (job for group in page.classes for job in group.jobs):
        yield from ((text, job.chain) for text in (job.name, job.where, job.plain, job.if_left, job.choice))
    if page.buyer:
        yield page.buyer.coverage, page.buyer.coverage_chain
        yield from ((part.looked, page.buyer.coverage_chain) for part in page.buyer.parts)


def test_no_field_of_the_first_page_is_forgotten(made: Made) -> None:
    """A text that is new on the first page must be given a chain here, or be named as none of its own."""
    named = {name for name, _, _ in first_page(made.page)}
    ground = {
        "photo",
        "plan",
        "cost_note",
        "cost_total_request",
        "work_chain",
        "coverage_chain",
        "given_chain",
        "cost_total_chain",
    }
    ground.add("next_limits")  # told with their readings and charts in the chapter on running time
    optional = {"todo", "declined", "failed", "missing_groups", "costs"}
    assert {f.name for f in fields(FrontView)} - ground - named <= optional


def test_every_number_stands_in_the_ground_of_its_chain(made: Made) -> None:
    """Whatever is counted, measured or added up on the first page and in heads can be found in its chain."""
    texts = [*((text, chain) for _, text, chain in first_page(made.page)), *heads(made.page)]
    found = 0
    for text, chain in texts:
        ground = numbers(" ".join(line for told in made.steps(chain).values() for line in told))
        assert numbers(text) <= ground, (text, chain)
        found += len(numbers(text))
    assert found > 30


def test_each_has_its_click(made: Made) -> None:
    """The page opens, for every id that a text of it names, the very lines that the command tells."""
    told = {
        tuple(re.findall(r"<dd>(.*?)</dd>", unescape(body).replace(NBSP, " "), re.DOTALL))
        for _, body in CHAIN.findall(made.html)
    }
    chains = {chain for _, _, chain in first_page(made.page)} | {chain for _, chain in heads(made.page)}
    assert {"verdict", "coverage", "given", "work"} <= chains
    for chain in chains:
        steps = json.loads(why_json(made.source.a, chain))["steps"]
        lines = tuple(text for step in steps if step["step"] != "judged by" for text in step["told"])
        assert told_on_page(lines, made.source) in told, chain


def told_on_page(lines: Iterable[str], source: Source) -> tuple[str, ...]:
    """Lines of the command as a page has them: the file by its name, not by where it lies, spaces alike."""
    return tuple(line.replace(f"{source.a.folder}/", "").replace(NBSP, " ") for line in lines)


def test_a_click_stands_beside_what_it_explains(made: Made) -> None:
    """Below the verdict, within each job of the first page, in each head of an assembly, below each job."""
    bare = CHAIN.sub(lambda m: f"<click>{m[1]}</click>", made.html)
    front = bare[bare.index('<section class="front">') :]
    assert re.search(r"Overall grade:.*?</p>\s*</div>\s*<click>why this verdict", front, re.DOTALL)
    for listed in re.findall(r'<ol class="todo">(.*?)</ol>', front, re.DOTALL):
        assert all("<click>why this job" in one for one in re.findall(r"<li>.*?</li>", listed, re.DOTALL))
    for section in re.findall(r'<section class="assembly".*?</h3>(.*?)</section>', bare, re.DOTALL):
        assert section.strip().startswith("<click>why this grade")
    jobs = re.findall(r'<div class="job">(.*?)</div>', bare, re.DOTALL)
    assert len(jobs) == sum(not job.covered_by for c in made.page.classes for job in c.jobs)
    included = [job.name for c in made.page.classes for job in c.jobs if job.covered_by]
    assert all(f"<click>why this job: {name}</click>" in bare for name in included)
    assert all("<click>why this job" in job for job in jobs)
    rows = re.findall(r'<table class="data grades">.*?<tbody>(.*?)</tbody>', bare, re.DOTALL)[0]
    assert rows.count("<click>why this grade") == len(made.page.grades)


def reckoned(steps: Steps) -> tuple[str, float | None]:
    """Word and score of a grade from nothing but what its chain tells."""
    graded = [m for m in map(COUNTS.search, steps.get("counts", ())) if m]
    words = [(m[1], not m[2]) for m in graded]
    words += [(m[1], not m[2]) for m in map(WEIGHTLESS.search, steps.get("counts", ())) if m]
    caps = [m for m in map(CAP.search, steps.get("rule", ())) if m]
    setting = [WORDS.index(word) for word, sets in words if sets]
    rest = [min(WORDS.index("marginal"), WORDS.index(word)) for word, _ in words]
    word = max((*(setting or rest), *(WORDS.index(cap[1]) for cap in caps)), default=-1)
    weight = sum(int(m[4]) for m in graded)
    for m in graded:
        assert float(m[5].replace(",", "")) == pytest.approx(float(m[3]) * int(m[4]), abs=0.1), m[0]
    if word < 0 or not weight:
        return "not graded" if word < 0 else WORDS[word], None
    mean = sum(float(m[3]) * int(m[4]) for m in graded) / weight
    return WORDS[word], min(mean, *(float(cap[2]) for cap in caps), 100.0)


def test_grades_are_reckoned_again_from_their_chains(made: Made) -> None:
    """Words, scores and counts of every assembly, and of the engine from its assemblies."""
    printed = {g.chain: (g.chip.word.removesuffix(" so far"), g.score) for g in made.page.grades}
    verdict = made.page.front.verdict
    printed[verdict.chain] = (verdict.chip.word, verdict.score)
    for chain, (word, score) in printed.items():
        told, exact = reckoned(made.steps(chain))
        assert told == word, chain
        assert (score == "–") == (exact is None), chain
        assert exact is None or float(score) == pytest.approx(exact, abs=0.51), chain
    assert sum(exact is not None for _, exact in (reckoned(made.steps(c)) for c in printed)) >= 4


def test_a_chain_says_how_many_kinds_a_grade_leaves_unnamed_where_it_does(made: Made) -> None:
    """Beside its count of findings exactly where the page names some and ends in "and n more"."""
    counted = 0
    for grade in made.page.grades:
        left = [m[1] for m in (re.fullmatch(r"and (\d+) more", text) for text in grade.why) if m]
        noted = [
            m[1]
            for text in made.steps(grade.chain).get("set by", ())
            for m in [re.search(r" findings?, 3 kinds of them named, (\d+) more$", text)]
            if m
        ]
        assert noted == left, grade.chain
        counted += len(left)
    assert bool(counted) == made.source.a.inspection.file.endswith("inline-four-strip.yaml")


def test_checks_add_up(made: Made) -> None:
    """Checks of the assemblies come to those of the engine, which are those the first page prints."""
    told = made.steps("verdict")["checks"]
    counts = [[int(n or 0) for n in m.groups()] for m in map(CHECKS.search, told) if m]
    assert (
        not counts[-1][2] or told[-1] == f"of every depth {counts[-1][0]} of {counts[-1][1] + counts[-1][2]}"
    )
    assert [sum(column) for column in zip(*counts[:-1], strict=True)] == counts[-1]
    assert {str(n) for n in counts[-1] if n} <= numbers(made.page.front.verdict.basis)
    for grade in made.page.grades:
        steps = made.steps(grade.chain)
        checks = CHECKS.search(steps["checks"][0])
        assert checks
        assert grade.coverage == f"{checks[1]} of {checks[2]}"
        missing = [re.search(r"(\d+) checks?, ", text) for text in steps.get("not graded", ())]
        assert int(checks[2]) - int(checks[1]) == sum(int(m[1]) for m in missing if m)


def test_the_headline_follows_from_the_chain(made: Made) -> None:
    """Findings are counted as the sentence counts them, each with its id; caps name who calls them."""
    steps, shown = made.steps("verdict"), made.page.front.verdict
    kinds = {"beyond": "beyond limit", "marginal": "marginal", "undecided": "undecided"}
    for label, verdict in kinds.items():
        ids = [
            i
            for line in steps.get(label, ())[1:]
            for i in re.findall(r"[a-z][\w.-]+", line.rpartition("(")[2])
        ]
        named = [i for i in ids if i in made.source.findings]
        assert sorted(named) == sorted(f.id for f in made.source.a.judged.findings if f.verdict == verdict)
        assert not named or steps[label][0].startswith(f"{len(named)} finding")
    forbidden = any("must not be run" in rule for rule in steps.get("rule", ()))
    assert forbidden == bool(shown.do_not_run) == (shown.headline == "Do not run this engine")
    assert len(steps.get("called by", ())) >= len(steps.get("rule", ()))


def test_a_job_says_why_now(made: Made) -> None:
    """Of its reasons the most urgent is its own; each names a finding or a rule that can be asked in turn."""
    for item in made.source.a.advice.work:
        steps = made.steps(f"job.{item.job}")
        asked = steps["asked by"]
        urgencies = [
            u for line in asked for u in URGENCIES if line.endswith(u) or f"{u}; in place of" in line
        ]
        assert min(urgencies, key=URGENCIES.index) == item.urgency, item.job
        assert steps["urgency"][0].startswith(item.urgency)
        for some_id in item.why:
            assert any(some_id in line for line in asked), (item.job, some_id)
            assert why(made.source.a, some_id)


def test_everything_listed_can_be_asked(made: Made) -> None:
    """Without an id the command lists all: each has a title and steps, on the terminal and for a program."""
    a = made.source.a
    listed = json.loads(all_ids_json(a))
    assert [one["of"] for one in listed] == [*asked_ids(made.source), *made.source.findings]
    terminal = all_ids(a)
    for one in listed[: len(asked_ids(made.source))]:
        assert re.search(rf"^  {re.escape(one['of'])} +\S", terminal, re.MULTILINE), one
        assert why(a, one["of"]).startswith(f"{one['of']}: {one['title']}")


def test_a_wrong_chain_is_seen() -> None:
    """The reckoning itself tells a word or a score that does not follow."""
    steps = {
        "counts": [
            "Bore wear (bore-wear): marginal; 20.00 left × weight 8 = 160.0",
            "Carbon (carbon): unserviceable, which does not set the grade; 0.00 left × weight 2 = 0.0",
        ],
        "rule": [],
    }
    assert reckoned(steps) == ("marginal", 16.0)
    steps["rule"] = ["Cracked part: at most unserviceable, score at most 10; the engine must not be run."]
    assert reckoned(steps) == ("unserviceable", 10.0)
    with pytest.raises(AssertionError):
        reckoned({"counts": ["Bore wear (bore-wear): marginal; 20.00 left × weight 8 = 161.0"]})
