"""Searches orders of jobs for the plan that serves the lead's wishes best."""
