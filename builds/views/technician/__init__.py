"""Pages of the people who work on the cars."""
