"""
Turns an engine builder's strip-down inspection into a graded, priced condition report.

>>> from inspect_report import assess, load, render  # doctest: +SKIP
>>> assessment = assess(load("inspection.yaml"))  # doctest: +SKIP
>>> render(assessment, "reports")  # doctest: +SKIP
"""

import os
from importlib import import_module
from typing import TYPE_CHECKING, Any

from inspect_report.version import __version__

if TYPE_CHECKING:
    from inspect_report.assessment import Assessment, from_json, to_json
    from inspect_report.comparison.comparing import compare
    from inspect_report.knowledge.shelf import load
    from inspect_report.pipeline import assess
    from inspect_report.report.buyer_table import exposures
    from inspect_report.report.choice_tables import gaskets, shells
    from inspect_report.report.render import render
    from inspect_report.report.tables import findings, readings, shims

__all__ = [
    "Assessment",
    "__version__",
    "assess",
    "compare",
    "exposures",
    "findings",
    "from_json",
    "gaskets",
    "load",
    "readings",
    "render",
    "shells",
    "shims",
    "to_json",
]

# Looking through every installed package for plug-ins takes longer than reading a book; we have none.
os.environ.setdefault("PYDANTIC_DISABLE_PLUGINS", "__all__")

# Looked up on first use, so that `import inspect_report` and `--help` cost nothing.
_HOMES = {
    "Assessment": "assessment",
    "from_json": "assessment",
    "to_json": "assessment",
    "load": "knowledge.shelf",
    "assess": "pipeline",
    "compare": "comparison.comparing",
    "render": "report.render",
    "exposures": "report.buyer_table",
    "findings": "report.tables",
    "readings": "report.tables",
    "shims": "report.tables",
    "gaskets": "report.choice_tables",
    "shells": "report.choice_tables",
}


def __getattr__(name: str) -> Any:
    if name not in _HOMES:
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
    return getattr(import_module(f"{__name__}.{_HOMES[name]}"), name)
