"""Turns an engine builder's strip-down inspection into a graded, priced condition report."""

from inspect_report.version import __version__

__all__ = ["__version__"]
