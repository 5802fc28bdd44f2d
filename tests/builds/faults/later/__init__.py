"""A version to come: this one and one migration more."""
