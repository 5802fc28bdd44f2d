"""The only room that talks to the engine: rows in, answers out."""
