"""Answers of the version before are taken apart, and put together on the way back."""

import pytest
from django.db import connection
from django.db.migrations.executor import MigrationExecutor

WHOLE, PIECES = "0013_working_week_version", "0014_answers_in_pieces"
ANSWER = {
    "now": "2027-01-11T08:00",
    "jobs": {
        "weld": {"condition": "clear", "who": ["ana"]},
        "fit": {"condition": "waiting", "planned_start": "2027-01-11T08:00"},
    },
}


def at(name):
    executor = MigrationExecutor(connection)
    executor.migrate([("builds", name)])
    state = executor.loader.project_state([("builds", name)])
    return state.apps.get_model("builds", "Forecast")


@pytest.mark.django_db(transaction=True)
def test_an_answer_goes_there_and_back():
    try:
        old = at(WHOLE)
        row = old.objects.create(state="done", input_hash="x", answer=ANSWER)
        old.objects.create(state="queued")
        new = at(PIECES).objects.get(pk=row.pk)
        assert new.summary == {"now": ANSWER["now"]}
        fit, weld = new.jobs.order_by("key")
        assert (weld.key, weld.condition, weld.who) == ("weld", "clear", " ana ")
        assert fit.planned_start == "2027-01-11T08:00"
        assert fit.facts == ANSWER["jobs"]["fit"]
        assert at(WHOLE).objects.get(pk=row.pk).answer == ANSWER
    finally:
        executor = MigrationExecutor(connection)
        executor.migrate(executor.loader.graph.leaf_nodes("builds"))
