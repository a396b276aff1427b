"""Turns readings into quantities: value, standard uncertainty, the readings they came from, the formula."""
