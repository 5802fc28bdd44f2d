"""Reads: each gives frozen records made for one page."""
