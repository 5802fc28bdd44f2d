"""Commands for whoever looks after the machine."""
