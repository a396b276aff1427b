"""Turns files that people write into typed records, or into problems that say how to mend them."""
