"""What the lead sees and does."""
