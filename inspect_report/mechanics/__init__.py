"""Turns readings in SI units into the engine quantities of the trade, by pure formulas on floats and arrays.

One subject a file. No input or output, no records: a formula takes numbers and gives numbers, or raises
`inspect_report.mechanics.errors.OutOfRange` when it does not hold for what it was given. Ratios and shares
are plain fractions; only a formula with `percent` in its name gives a percentage.
"""
