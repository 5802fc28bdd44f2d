"""What people do: one function for each, keyword-only, whole or not at all.

Every action writes one Event with it and asks for a new forecast. What cannot be
done is raised (`errors`), with the words for the page.
"""
