"""`key__among=keys`: one of many, handed to the database as one value.

With `__in` each is a value of its own; hundreds take longer to write into the question
than to find.
"""

from __future__ import annotations

import json
from typing import Any

from django.db.backends.base.base import BaseDatabaseWrapper
from django.db.models import CharField, Lookup
from django.db.models.sql.compiler import SQLCompiler


@CharField.register_lookup
class Among(Lookup):
    """A list of words; may be empty."""

    lookup_name = "among"
    prepare_rhs = False

    def as_sql(self, compiler: SQLCompiler, connection: BaseDatabaseWrapper) -> Any:
        """Say it to PostgreSQL."""
        left, given = self.process_lhs(compiler, connection)
        return f"{left} = ANY(%s)", [*given, list(self.rhs)]

    def as_sqlite(self, compiler: SQLCompiler, connection: BaseDatabaseWrapper) -> Any:
        """Say it to SQLite, which knows no lists but those in JSON."""
        left, given = self.process_lhs(compiler, connection)
        listed = json.dumps(list(self.rhs))
        # Of the two, Django wrote the left side, and what is listed is a parameter.
        asked = f"{left} IN (SELECT value FROM json_each(%s))"  # nosec B608
        return asked, [*given, listed]
