"""Turns a report that somebody was handed into whether it is as issued, and by whose word."""
