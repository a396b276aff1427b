"""Turns chart data into SVG; the only package that draws."""

from inspect_report.report.charts.drawing import svg

__all__ = ["svg"]
