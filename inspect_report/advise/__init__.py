"""Turns findings into diagnoses, work, access and money."""
