"""Turns every run of the tests into the same run: random trials start from one seed, without a deadline."""

from hypothesis import settings

settings.register_profile("repeatable", derandomize=True, deadline=None)
settings.load_profile("repeatable")
