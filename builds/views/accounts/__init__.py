"""Signing in, second factors, and where one is signed in."""
