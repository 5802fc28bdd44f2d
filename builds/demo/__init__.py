"""An invented workshop to try the tool on; plain Python, no database."""
