r"""One line of JSON for each thing that happened, with nothing secret in it.

OWASP ASVS 5.0, 16.2.5 and 16.4.1: no credentials in logs, and nothing that somebody
typed may begin a line of its own. JSON writes a line break as two letters.
"""

from __future__ import annotations

import json
import logging
import re
from datetime import UTC, datetime
from typing import Any

from builds.upkeep import request_ids

# Words nobody would type: a token of forty letters or more with a capital among
# them, a key of 32 hexadecimal digits, the word of a database address.
SECRET = re.compile(
    r"(?<![\w-])(?=[\w-]*[A-Z])[\w-]{40,}=*(?![\w-])"
    r"|(?<![\w-])[0-9a-f]{32,}(?![\w-])"
    r"|(?<=://)[^/@\s\"]*:[^/@\s\"]+(?=@)",
    re.ASCII,
)


def mask(words: str) -> str:
    """Give the words with whatever looks like a secret taken out."""
    return SECRET.sub("[hidden]", words)


class JsonLines(logging.Formatter):
    """Write a record as one line; `facts` given as extra stand beside the words."""

    def format(self, record: logging.LogRecord) -> str:
        """Give the line."""
        line: dict[str, Any] = {
            "at": datetime.fromtimestamp(record.created, UTC).isoformat(),
            "level": record.levelname.lower(),
            "from": record.name,
            "says": record.getMessage(),
            "request": request_ids.current(),
            **getattr(record, "facts", {}),
        }
        if record.exc_info:
            line["trace"] = self.formatException(record.exc_info)
        return mask(json.dumps(line, default=str))
