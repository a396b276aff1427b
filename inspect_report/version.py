"""Turns the release into the one number that the wheel, the command line and each report print."""

__version__ = "0.1.0"
