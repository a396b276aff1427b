"""Defines what a page template may use of a diagnosis, as text ready to print."""

from dataclasses import dataclass

from inspect_report.report.shown import shown


@dataclass(frozen=True, slots=True)
class EvidenceView:
    """A piece of evidence for a diagnosis."""

    text: str = shown("what was met, in words")
    findings: tuple[str, ...] = shown("findings with their values")


@dataclass(frozen=True, slots=True)
class ExplanationView:
    """What could be at work, and how strongly the evidence speaks for it."""

    name: str = shown("the cause in a customer's words")
    word: str = shown("what the evidence says of it: 'the evidence points strongly to it'")
    odds: str = shown("its odds, with how often it is met at all: 'about 4 to 1', 'about 1 to 10'")
    is_told: bool = shown("whether it is the cause that the diagnosis names")
    likelihood: str = shown("how likely it is by all that is known: 'very likely', 'unlikely'")


@dataclass(frozen=True, slots=True)
class LikelihoodView:
    """Causes that are alike in likelihood."""

    word: str = shown("how likely they are: 'Very likely'")
    causes: tuple[str, ...] = shown("the causes in a customer's words, the likeliest first")


@dataclass(frozen=True, slots=True)
class NextCheckView:
    """A check not yet made that would settle most."""

    does: str = shown("what is to be done")
    needs: str = shown("what must be opened for it, with hours; empty where nothing must")


@dataclass(frozen=True, slots=True)
class DiagnosisView:
    """What a pattern of findings means: an opinion with its evidence and its doubts."""

    title: str = shown("the diagnosis in a customer's words")
    why: str = shown("why the pattern reads so")
    evidence: tuple[EvidenceView, ...] = shown("what it rests on")
    against: tuple[EvidenceView, ...] = shown("what speaks against it")
    explanations: tuple[ExplanationView, ...] = shown("its cause and others, the likeliest first")
    likelihoods: tuple[LikelihoodView, ...] = shown("the same by likelihood, the greatest first")
    doubts: tuple[str, ...] = shown("further explanations, not weighed")
    could_also_be: tuple[str, ...] = shown("every other explanation, weighed or not")
    tells_them_apart: str = shown("what would tell them apart, or nothing")
    next_checks: tuple[NextCheckView, ...] = shown("the check that would settle most, or nothing")
    work: str = shown("jobs it asks for, in words, or nothing")
    urgency: str = shown("how urgent: as the most urgent of its jobs")
    if_left: str = shown("what happens if it is left")
    source: str = shown("where the rule comes from")
    chain: str = shown("id of the chain behind it, in 'chains'")
    normal: bool = shown("whether it is found in sound engines and asks for nothing")
