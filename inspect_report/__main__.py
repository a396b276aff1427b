"""Turns `python -m inspect_report` into the same command as `inspect-report`."""

import sys

from inspect_report.cli import run

if __name__ == "__main__":
    sys.exit(run())
