"""Turns two assessments of one engine into what the later says otherwise."""
