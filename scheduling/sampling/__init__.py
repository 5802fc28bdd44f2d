"""Drawn futures: every job of every sample placed in time, in blocks.

`draws` makes the lengths; `kernel` places them, compiled where numba is there and as
numpy rows where it is not, with the same numbers.
"""
