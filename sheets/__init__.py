"""Spreadsheets in and out: plain tables of words, with the numbers of their rows."""
