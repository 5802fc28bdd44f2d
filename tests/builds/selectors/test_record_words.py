"""Every act on a record is told in words, not by the name it is kept under."""

import re
from pathlib import Path

import builds.actions
from builds.selectors.job_history import VERBS
from builds.selectors.record_page import OTHERS

KEPT_AS = re.compile(
    r'"((?:added|cancelled|changed|created|left out|removed|restored) [a-z ]+)"'
)


def test_no_act_is_told_by_its_name() -> None:
    folder = Path(next(iter(builds.actions.__path__)))
    kept = {
        name
        for path in folder.glob("*.py")
        for name in KEPT_AS.findall(path.read_text(encoding="utf-8"))
    }
    assert len(kept) > 20
    assert kept - set(VERBS) - set(OTHERS) == set()
