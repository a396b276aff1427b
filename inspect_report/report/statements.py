"""Turns the workshop's decision rule into sentences, and states what a report says and what it does not."""

from typing import Final

from inspect_report.records.workshop import DecisionRule
from inspect_report.report.figures import Figures
from inspect_report.telling.manner import figure, message, say

SCOPE: Final = (
    message(
        "This report states the condition of the engine at the time and to the depth of the "
        "inspection, and of nothing else. What was not inspected is not stated to be good."
    ),
    message("It is no warranty and no promise of how long the engine or any part of it will last."),
    message(
        "Results of measurement and verdicts by a stated rule are facts of this inspection. "
        "Diagnoses, advice, urgency and forecasts are opinions of the inspector, resting on the "
        "evidence named, and are marked as opinions."
    ),
    message(
        "Where this report and the maker's manual differ, the manual holds, for limits, torques, "
        "sequences and one-use parts alike. Local law holds, and work that it keeps for licensed "
        "trades is left to them."
    ),
)
OF_WEIGHTS: Final = message(
    "How likely a cause is: each begins with how often it is met, and every sign that was looked at "
    "speaks for or against it by how often it is seen with that cause and without it. These shares "
    "are estimates of the trade, kept in the rulebook; a measured sign counts by its probability, "
    "one not looked at for nothing. “Very likely” stands for ten to one or more, “likely” for two "
    "to one, “as likely as not” for less than that either way; causes are weighed one by one, since "
    "two can be at work at once."
)
OF_RATINGS: Final = message(
    "Visual findings are rated from 0 to 5 for amount, and for size or strength; 0 is nothing, 5 "
    "is so severe that further steps would make no sense."
)
OF_PRICES: Final = message(
    "Prices hold for the work named; what is found once the engine is open further is agreed anew."
)
OF_FORECASTS: Final = message(
    "A forecast carries the readings so far on in a straight line; it is an opinion, holds for "
    "running as before, and is no promise."
)
SHIMS: Final = message(
    "Shims are chosen for all valves together, from the engine, the workshop's box and the sizes "
    "on sale: every gap comes back into its range as surely as can be, with as few shims to buy "
    "as can be, then as near to its aim as can be. A shim nobody measured counts as within 0.005 "
    "mm of its size (common practice). Torque, fitting and the final check of each gap follow "
    "the maker's manual."
)
OF_WARMTH: Final = message(
    "Diameters read warmer or colder than 20 °C are brought to 20 °C where the temperature of the part was "
    "read with them: results and charts show them so, readings stand as they were taken."
)
SQUISH: Final = message(
    "The squish gap is what is left between the piston's edge and the head when the piston is highest: small "
    "is good for burning, but it must never close."
)
GASKETS: Final = message(
    "To fit is the thinnest gasket that keeps these bounds at the worst cylinder: {bounds}."
)
GASKETS_UNBOUND: Final = message("No bound of the squish gap is known, so that no gasket is chosen.")
SHELLS: Final = message(
    "Shells are chosen by the maker's table. A size that was measured goes before a mark, since "
    "parts wear. The clearance to expect takes the walls of new shells as printed; it is "
    "measured again when they are in."
)
_SIMPLE: Final = message(
    "Decision rule: simple acceptance. A value at or inside its limit is accepted, a value "
    "beyond it is not; the uncertainty of measurement is stated beside each value and plays no "
    "part in the verdict."
)
_GUARDED: Final = message(
    "Decision rule: guard band. A value counts as inside or beyond its limit only where it lies there "
    "by more than its expanded uncertainty. Everything between is called undecided."
)
_GUARDED_BY: Final = message(
    "Decision rule: guard band. A value counts as inside or beyond its limit only where it lies there "
    "by more than {times} times its expanded uncertainty. Everything between is called undecided."
)
_ALWAYS: Final = (
    message(
        "Uncertainty: from each instrument's resolution and permissible error and from repeated "
        "readings, carried through every formula. It is stated as expanded uncertainty, twice the "
        "standard uncertainty (k = 2), or more times where a few repeats have to tell the scatter "
        "(Student's t), which covers about 95 % of the values that can reasonably be meant."
    ),
    message(
        "Wear allowance used: how far a value has gone from the edge of its standard range towards "
        "its limit. 0 % is inside the range for new parts, 100 % is at the limit. No limit known: no "
        "share is given."
    ),
    OF_RATINGS,
    message(
        "Limits come from the spec sheet of this engine, with work and page. Where it has none, a "
        "limit of common practice may be used; it is a starting value of the trade, so marked."
    ),
)


def limits_note(manual: str) -> str:
    """How limits of the spec sheet and limits of common practice are told apart."""
    pages = say(" Pages without a title are those of: {manual}.", manual=manual) if manual else ""
    return say(
        "Limits marked “spec sheet” or with a page are the maker's; those marked “common practice”, "
        "underlined and slanted, are starting values of the trade, used where the maker's are not "
        "known.{pages}",
        pages=pages,
    )


def decision_sentences(rule: DecisionRule, figures: Figures) -> tuple[str, ...]:
    """How a verdict is reached, the decision rule first."""
    if rule.kind == "simple acceptance":
        return (say(_SIMPLE), *map(say, _ALWAYS))
    if rule.kind == "guard band":
        guard = figure(f"{rule.guard:g}")
        guarded = say(_GUARDED) if rule.guard == 1.0 else say(_GUARDED_BY, times=guard)
        return (guarded, *map(say, _ALWAYS))
    whole = round(100 * rule.confidence, 6) % 1 == 0
    sure = figures.percent(rule.confidence, 0 if whole else 1)
    shown = say(
        "Decision rule: shown at {sure} confidence. A value counts as inside or beyond its limit "
        "only where the probability of that, from the value and its uncertainty by a normal "
        "distribution (Student's t where a few repeats tell the scatter), is at least {sure}. "
        "Everything between is called undecided.",
        sure=sure,
    )
    return (shown, *map(say, _ALWAYS))
