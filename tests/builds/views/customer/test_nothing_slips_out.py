"""No price, key, note, or name of staff, vendor or other customer on the page.

OWASP ASVS 5.0, 15.3.1: only the fields that are needed are returned.
"""

import html
import re
from dataclasses import fields

from builds.actions.demo import load_demo
from builds.demo.cast import cast
from builds.demo.plan import demo_plan
from builds.models import Kind, User
from builds.planning.replan import replan
from builds.selectors import owner
from tests.conftest import client_of
from tests.factories.job import JobFactory, OutsideJobFactory

MAY_KNOW = {
    "OwnCar": {"key", "name"},
    "Word": {"day", "words"},
    "Level": {"name", "when"},
    "OwnShow": {"name", "move_in", "wanted", "chance", "best"},
    "Step": {"name", "when"},
    "Need": {"question", "by", "overdue", "later"},
    "OwnerPage": {
        "car", "resting", "this_week", "earlier", "needs", "steps", "shows",
        "levels", "worked_out", "workshop", "address", "phone",
    },
}  # fmt: skip

PLAN = demo_plan()


def test_the_page_holds_what_a_customer_may_know_and_no_more():
    for name, allowed in MAY_KNOW.items():
        assert {field.name for field in fields(getattr(owner, name))} == allowed


def words_of(page) -> str:
    """The page as it is read, and its source, without the reader's own name."""
    return html.unescape(page.content.decode())


def test_no_name_of_the_demo_slips_out(db, settings):
    settings.DEMO = True
    load_demo()
    assert replan().state == "done"
    for login in cast():
        if login.role == "customer":
            client = client_of(User.objects.get(username=login.username))
            text = words_of(client.get("/my-car/"))
            assert "Dates and odds as worked out" in text
            (own,) = login.builds
            assert [name for name in secrets(own) if name in text] == []
            assert not re.search(r"[£$€]|\bprice", text)
            assert not re.search(rf"\b{own}-\w\d\d\b", text), "the key of a job"


def secrets(own: str) -> list[str]:
    """Names and notes of the demo that the owner of this car must not read."""
    others = [one for one in PLAN["builds"] if one["id"] != own]
    names = [one["name"] for one in (*PLAN["people"], *PLAN["vendors"], *others)]
    names += [one["customer"] for one in others]
    last = [word for name in names for word in surnames(name)]
    notes = [job["note"] for job in PLAN["jobs"] if job.get("note")]
    assert len(last) > 10
    return names + last + notes


def surnames(name: str) -> list[str]:
    return re.findall(r"\b(?!Motor|Paint|Engines|House)[A-Z][a-z]{5,}$", name)


def test_names_put_into_a_job_do_not_reach_the_page(customer_client, car, answered):
    JobFactory(
        key="weld", build=car, title="Tom welds at Brindle", note="600 pounds",
        holder="Brindle", phase="Metalwork",
    )  # fmt: skip
    OutsideJobFactory(build=car, title="Brindle plates", vendor__name="Brindle")
    JobFactory(build=car, title="Colour", kind=Kind.DECISION, note="Tom asked")
    answered(
        jobs={
            "weld": {
                "p50": "2027-02-01T12:00",
                "p80": "2027-02-05T12:00",
                "reasons": ["With Brindle"],
                "who": ["tom"],
            }
        }
    )
    text = words_of(customer_client.get("/my-car/"))
    assert "Metalwork" in text
    assert "Colour" in text
    for secret in ("Tom", "Brindle", "600", "weld"):
        assert secret not in text
