"""Turns a command line into options: every command of the program, with its words of help."""

import argparse
from pathlib import Path
from typing import TypeAlias

from inspect_report.places import languages
from inspect_report.version import __version__

KINDS = ("pre-purchase assessment", "rebuild quote", "condition history")
DEPTHS = ("in the frame", "top end off", "fully stripped", "after assembly")
FORMATS = ("html", "pdf", "json")
CARRIES = ("fitting", "all", "files", "list")
UNITS = ("metric", "imperial", "both")

_CODES = """exit codes:
  0  done
  1  done, but a check of ours failed; the report says which
  2  a file or the command is at fault; what is printed says where and how to mend it
  3  a fault of this program, or a page could not be made or written
  4  verify: unknown, whether a file is as it was issued
  5  verify: altered
130  stopped by the keyboard
"""
_IDS = """what can be asked for; without an ID every one of this inspection is listed:
  valve-clearance.2.inlet-1     a finding: from the reading to verdict, work and price
  verdict                       the verdict on the engine, and every sentence below it
  grade.ASSEMBLY                the grade and score of an assembly
  rings-or-bore.3               a diagnosis: evidence, explanations weighed, the next check
  work, job.JOB                 the work and its order; why this job, this urgency, this price
  coverage                      what was looked at, by count and by weight, and what was not
  given                         facts as they stand in the inspection file
  least, advised, complete, ordered                  an order: jobs, lines, sums, what it leaves
  sum-must, sum-advised, sum-can-wait, sum-all       a sum of the estimate
  while-open.JOB                what a job adds while the engine is open
  changed.SUM                   what changed a sum since the issue before
  known, likely, hidden         the buyer's view of cost
"""

_VERIFY_CODES = """exit codes:
  0  genuine: signed for every byte of the file, by somebody whom you trust; or unsigned, the same
     when made again from the files it carries, and of the digest you gave
  2  a file or the command is at fault; what is printed says where and how to mend it
  3  a fault of this program
  4  unknown: nothing against it, but not signed, or by nobody whom you named as trusted
  5  altered: changed since it was signed or made, or its files are not those of its list
of several files the greatest counts
"""


def parser() -> argparse.ArgumentParser:
    """All commands with their options; ``run`` holds the name of the command."""
    parser = argparse.ArgumentParser(
        prog="inspect-report",
        description="Makes a graded, priced condition report from an engine inspection.",
        epilog=_CODES,
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    parser.add_argument("--version", action="version", version=f"inspect-report {__version__}")
    commands = parser.add_subparsers(required=True, metavar="COMMAND")
    making = (_add_new, _add_sheet, _add_check, _add_report, _add_history)
    reading = (_add_why, _add_changes, _add_keep, _add_unpack)
    for add in (*making, *reading, _add_certificate, _add_verify, _add_method):
        add(commands)
    return parser


Commands: TypeAlias = "argparse._SubParsersAction[argparse.ArgumentParser]"


def _add_manner(command: argparse.ArgumentParser) -> None:
    command.add_argument(
        "--language",
        choices=languages(),
        default="",
        help="language of the report, when not the one of the inspection or the workshop file",
    )
    command.add_argument(
        "--units",
        choices=UNITS,
        default="",
        help="units amounts are told in, when not those of the inspection or the workshop file",
    )


def _add_engine(command: argparse.ArgumentParser, *, required: bool) -> None:
    command.add_argument(
        "--spec-sheet", type=Path, required=required, metavar="FILE", help="the engine's spec sheet"
    )
    command.add_argument(
        "--depth", choices=DEPTHS, required=required, help="how deep the engine will be opened"
    )
    command.add_argument(
        "--checklist",
        default="",
        metavar="ID|FILE",
        help="shipped checklist or file (default: by the engine's strokes)",
    )
    command.add_argument("--workshop", type=Path, metavar="FILE", help="workshop file")


def _add_new(commands: Commands) -> None:
    command = commands.add_parser("new", help="write an inspection file to fill in")
    _add_engine(command, required=True)
    command.add_argument(
        "--out", type=Path, required=True, metavar="FILE", help="file to write; never overwritten"
    )
    command.set_defaults(run="new")


def _add_sheet(commands: Commands) -> None:
    command = commands.add_parser(
        "sheet",
        help="print the checklist as a PDF to fill in with a pencil, blank or with what was read so far",
        epilog="Blank: --spec-sheet and --depth. With what was read so far: the inspection FILE alone.",
    )
    command.add_argument(
        "file", nargs="?", type=Path, metavar="FILE", help="inspection; what it holds stands in its boxes"
    )
    _add_engine(command, required=False)
    _add_manner(command)
    command.add_argument("--out", type=Path, required=True, metavar="FILE", help="PDF to write")
    command.set_defaults(run="sheet")


def _add_check(commands: Commands) -> None:
    command = commands.add_parser(
        "check", help="name every mistake in inspection files, spec sheets and other books"
    )
    command.add_argument("files", nargs="+", type=Path, metavar="FILE")
    command.set_defaults(run="check")


def _add_out(command: argparse.ArgumentParser) -> None:
    command.add_argument("--out", type=Path, required=True, metavar="DIR", help="folder to write to")
    _add_manner(command)
    command.add_argument(
        "--only",
        action="append",
        choices=FORMATS,
        metavar="FORMAT",
        help="html, pdf or json; all three when left out",
    )
    command.add_argument(
        "--templates",
        type=Path,
        metavar="DIR",
        help="folder of own templates and style sheets, used in place of shipped ones of the same name",
    )
    command.add_argument(
        "--anew", action="store_true", help="make everything anew, also where nothing has changed since"
    )


def _add_report(commands: Commands) -> None:
    command = commands.add_parser("report", help="make the report of each inspection: HTML, PDF and JSON")
    command.add_argument("files", nargs="+", type=Path, metavar="FILE")
    command.add_argument(
        "--kind", choices=KINDS, help="kind of report, when not the one the inspection names"
    )
    _add_out(command)
    command.add_argument(
        "--carry",
        choices=CARRIES,
        default="fitting",
        help="what of its evidence the PDF carries: all; files, which leaves out pictures; the list of "
        "digests alone, without the JSON, which holds your prices; or what is fitting, which is all, but "
        "more than 8 MB of pictures (default: fitting)",
    )
    command.add_argument(
        "--replaced-by",
        type=Path,
        metavar="FILE",
        help="issue that replaces this one, inspection or JSON report: every page of this one tells so",
    )
    command.add_argument(
        "--unsigned", action="store_true", help="do not sign, though the workshop file names a certificate"
    )
    command.set_defaults(run="report")


def _add_history(commands: Commands) -> None:
    command = commands.add_parser(
        "history", help="make one condition history of several inspections and engines"
    )
    command.add_argument("files", nargs="+", type=Path, metavar="FILE")
    command.add_argument("--title", default="", help="what the history is of")
    _add_out(command)
    command.set_defaults(run="history")


def _add_why(commands: Commands) -> None:
    command = commands.add_parser(
        "why",
        help="tell how a verdict, a grade, a job, a sum or a sentence of the report came about",
        epilog=_IDS,
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    command.add_argument("file", type=Path, metavar="FILE")
    command.add_argument(
        "id", nargs="?", default="", metavar="ID", help="what is asked for; left out: list all that can be"
    )
    _add_manner(command)
    command.add_argument("--budget", action="store_true", help="add where its uncertainty comes from")
    command.add_argument("--json", action="store_true", help="as JSON, for another program")
    command.set_defaults(run="why")


def _add_changes(commands: Commands) -> None:
    command = commands.add_parser(
        "changes", help="tell what a later assessment of an engine says otherwise, and by which cause"
    )
    command.add_argument("before", type=Path, metavar="BEFORE", help="inspection, or JSON of its report")
    command.add_argument("after", type=Path, metavar="AFTER", help="the same, later or by other books")
    command.add_argument("--json", action="store_true", help="as JSON, for another program")
    command.set_defaults(run="changes")


def _add_keep(commands: Commands) -> None:
    command = commands.add_parser(
        "keep",
        help="copy an inspection with every file and book it rests on, to judge it again in later years",
    )
    command.add_argument("file", type=Path, metavar="FILE")
    command.add_argument("--out", type=Path, required=True, metavar="DIR", help="new folder to keep it in")
    command.add_argument(
        "--sent",
        type=Path,
        metavar="JSON",
        help="JSON report as sent out; nothing is kept unless the inspection still gives it, byte for byte",
    )
    command.set_defaults(run="keep")


def _add_certificate(commands: Commands) -> None:
    command = commands.add_parser(
        "certificate",
        help="make a certificate of your own to sign reports with; nobody but you vouches for its name",
        epilog="The passphrase is asked for, or taken from INSPECT_REPORT_PASSPHRASE.",
    )
    command.add_argument("--for", dest="name", required=True, metavar="NAME", help="whom it is of")
    command.add_argument(
        "--out", type=Path, required=True, metavar="FILE.p12", help="file to write; never overwritten"
    )
    command.add_argument("--years", type=int, default=5, metavar="N", help="how long it holds (default: 5)")
    command.set_defaults(run="certificate")


def _add_verify(commands: Commands) -> None:
    command = commands.add_parser(
        "verify",
        help="tell whether a report is genuine, altered or unknown, by whose word, and what is not shown",
        epilog=_VERIFY_CODES,
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    command.add_argument("files", nargs="+", type=Path, metavar="FILE", help="PDF, or a file of its report")
    command.add_argument(
        "--trust",
        action="append",
        default=[],
        metavar="CERT|SHA-256",
        help="certificate you trust (PEM, DER, .p12), or its fingerprint; may be given several times",
    )
    command.add_argument(
        "--workshop", type=Path, metavar="FILE", help="workshop file, whose own certificate is trusted"
    )
    command.add_argument(
        "--digest", default="", metavar="SHA-256", help="digest by which you know the report, as from paper"
    )
    command.add_argument(
        "--against",
        type=Path,
        metavar="PDF",
        help="PDF of the report a file belongs to (JSON, HTML, photo, books), or of a later issue",
    )
    command.add_argument("--json", action="store_true", help="as JSON, for another program")
    command.set_defaults(run="verify")


def _add_unpack(commands: Commands) -> None:
    command = commands.add_parser(
        "unpack", help="take the files that the PDF of a report carries out of it, and make the report again"
    )
    command.add_argument("file", type=Path, metavar="PDF")
    command.add_argument("--out", type=Path, required=True, metavar="DIR", help="new folder for the files")
    command.add_argument(
        "--again",
        action="store_true",
        help="make the report from them again, and say of each format whether it is the same, byte for byte",
    )
    command.add_argument(
        "--missing-from",
        type=Path,
        metavar="DIR",
        help="folder with files that are listed but not carried, such as pictures; taken only as listed",
    )
    command.set_defaults(run="unpack")


def _add_method(commands: Commands) -> None:
    command = commands.add_parser(
        "method", help="tell how a quantity is measured, by which formula, how surely and on what source"
    )
    command.add_argument("name", nargs="?", default="", metavar="NAME", help="left out: list them all")
    command.set_defaults(run="method")
