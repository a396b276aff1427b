"""Defines which files stand in for shipped books: what an inspection or a workshop file names as its own."""

from inspect_report.records.shape import Record, Text


class OwnBooks(Record):
    """Books in place of shipped ones, each a file named from the folder of the file that names it."""

    characteristics: Text = ""
    """What each judged characteristic is called, belongs to and weighs."""
    scales: Text = ""
    """Kinds of damage and the verdict of each step."""
    scoring: Text = ""
    """How verdicts become grades."""
    practice: Text = ""
    """Starting limits of common practice."""
    cautions: Text = ""
    """Cautions that sheets and reports carry."""


class InspectionBooks(OwnBooks):
    """The same for one inspection, and its workbook; they come before those of the workshop."""

    workbook: Text = ""
    """Access steps and jobs; the one its checklist names when left out."""
