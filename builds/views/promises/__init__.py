"""Calls, private links, orders and choices: what is arranged with outside firms."""
