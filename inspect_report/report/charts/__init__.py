"""Turns chart data into SVG; the only package that draws."""

from inspect_report.report.charts.drawing import Letters, svg

__all__ = ["Letters", "svg"]
