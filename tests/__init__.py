"""Turns every promise of the project into a check; `python -m tests` runs them all."""
