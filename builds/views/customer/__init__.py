"""Pages of the people who own the cars."""
