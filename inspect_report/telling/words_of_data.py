"""
Defines the words that stand in files and in data in English and are shown in the language of a report.

A verdict, an urgency or a depth is a key: it is compared, written to JSON and typed by inspectors, and never
translated there. ``word`` shows it. Words of the shipped books stand in the catalogue of the books.
"""

from typing import Final

from inspect_report.telling.manner import message, message_as

VERDICTS: Final = (
    message("as new"),
    message("serviceable"),
    message("marginal"),
    message("undecided"),
    message("beyond limit"),
    message("not inspected"),
    message("not applicable"),
    message("no limit known"),
    message("check failed"),
)
GRADES: Final = (*VERDICTS[:3], message("unserviceable"), message("not graded"))
URGENCIES: Final = (
    message("before running"),
    message("at this opening"),
    message("next opening"),
    message("watch"),
)
DEPTHS: Final = (
    message("in the frame"),
    message("top end off"),
    message("fully stripped"),
    message("after assembly"),
)
REPORTS: Final = (
    message("pre-purchase assessment"),
    message("rebuild quote"),
    message("condition history"),
)
ENGINE_STATES: Final = (message("cold"), message("warm"), message("hot"))
ORIGINS: Final = (message("spec sheet"), message("common practice"), message("from memory"))
BOOKS: Final = (
    message("spec sheet"),
    message("checklist"),
    message("workshop file"),
    message("rulebook"),
    message("workbook"),
    message("characteristics book"),
    message("scales"),
    message("scoring"),
    message("practice"),
    message("cautions"),
)
TAXES: Final = (message("VAT"),)
"""Names of taxes in workshop files that other languages have one of their own for."""
CARRIED: Final = (
    message("inspection"),
    message("earlier inspection"),
    message("issue replaced"),
    message("book of the release"),
    message("picture"),
    message("record of an earlier inspection"),
    message("template"),
)
CAUSES_OF_DOUBT: Final = (
    message("resolution"),
    message("repeats"),
    message("scatter"),
    message("permissible error"),
)
FORM: Final = "form of a bore"
FORMS: Final = (
    message_as("form of a bore", "barrel"),
    message_as("form of a bore", "waist"),
    message_as("form of a bore", "bell at the top"),
    message_as("form of a bore", "bell at the bottom"),
    message_as("form of a bore", "taper, wide at the top"),
    message_as("form of a bore", "taper, wide at the bottom"),
    message_as("form of a bore", "straight"),
)
DIMENSIONS: Final = (
    message("angle"),
    message("count"),
    message("flow"),
    message("force"),
    message("length"),
    message("mass"),
    message("pressure"),
    message("ratio"),
    message("temperature"),
    message("time"),
    message("torque"),
    message("voltage"),
    message("volume"),
)
SIDES: Final = (
    message("inlet"),
    message("exhaust"),
    message("left"),
    message("right"),
    message("second"),
    message("oil"),
)
STEPS: Final = (
    message("readings"),
    message("instrument"),
    message("formula"),
    message("quantity"),
    message("seen"),
    message("new"),
    message("limit"),
    message("source"),
    message("rule"),
    message("inside"),
    message("used"),
    message("verdict"),
    message("means"),
    message("if beyond"),
    message("diagnosis"),
    message("because"),
    message("rules"),
    message("evidence"),
    message("against"),
    message("explained"),
    message("could be"),
    message("tells apart"),
    message("next check"),
    message("work"),
    message("price"),
    message("while open"),
    message("if left"),
    message("decided"),
    message("changed"),
    message("likely"),
    message("hidden"),
    message("does"),
    message("leaves"),
    message("sum"),
    message("jobs"),
    message("mean"),
    message("nothing"),
    message("draws"),
    message("chance"),
    message("at most"),
    message("judged by"),
    message("machining"),
    message("hours"),
    message("labour"),
    message("parts"),
    message("tax"),
    message("total"),
    message("besides"),
    message("opening"),
    message("strip-down"),
    message("part"),
    message("rounding"),
    message("with above"),
    message("found open"),
    message("covered"),
    message("net"),
    message("class"),
    message("together"),
    message("added now"),
    message("alone"),
    message("line"),
    message("weighed"),
    message("no cost"),
    message("grade"),
    message("headline"),
    message("counts"),
    message("score"),
    message("not graded"),
    message("checks"),
    message("depth"),
    message("urgency"),
    message("order"),
)
"""Labels of the steps of a chain."""
