"""The lead's morning, at a desk."""

import pytest

pytestmark = pytest.mark.browser


def test_reads_the_sheet_and_opens_the_car_that_is_in_doubt(visit):
    lead = visit("lead")
    page = lead.page
    assert page.url.endswith("/morning/")
    for heading in ("What holds up most", "What moves the date", "Who to ring"):
        assert page.get_by_role("heading", name=heading).is_visible()
    assert page.get_by_text("in 100").first.is_visible()
    page.get_by_role("link", name="Q-114").first.click()
    page.get_by_role("heading", level=1, name="Q-114 Halvane").wait_for()
    assert page.get_by_role("heading", name="How ready, how sure").first.is_visible()


def test_opens_the_job_that_holds_up_most(visit):
    page = visit("lead").page
    holds = page.locator("section", has=page.get_by_role("heading", name="What holds"))
    first = holds.locator("li").first.locator("a").first
    title = first.inner_text()
    first.click()
    page.get_by_role("heading", level=1, name=title).wait_for()


def test_a_link_that_would_close_a_ring_is_refused_by_name(visit):
    """The tank is welded after its trial fit, so the fit cannot wait for the weld."""
    lead = visit("lead")
    lead.expected = ("422 (Unprocessable",)
    lead.open("/jobs/q114-x02/first/?q=Tank welded up")
    lead.page.get_by_role("button", name="Tank welded up").click()
    refusal = lead.page.get_by_text("would wait for each other in a ring").first
    refusal.wait_for()
    for title in ("Tank trial fitted", "Tank welded up"):
        assert title in refusal.inner_text()


def test_finishing_a_job_changes_the_answer(visit):
    lead = visit("lead")
    page = lead.page
    section = page.locator("section", has=page.get_by_role("heading", name="How ready"))
    lead.open("/cars/q109/")
    before = section.first.inner_text()
    lead.open("/jobs/q109-i04/")
    page.get_by_role("button", name="Finished").click()
    page.get_by_text("is done.").first.wait_for()
    lead.open("/cars/q109/")
    after = section.first.inner_text()
    assert "in 100" in before
    assert "in 100" in after
    assert before != after
    lead.open("/morning/")
    changed = page.locator(
        "section", has=page.get_by_role("heading", name="What changed")
    )
    assert "Loom laid in the painted shell" in changed.inner_text()
