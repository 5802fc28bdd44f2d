"""Views: gate, selector or action, render."""
