"""The lead looks for hands, gives a job away, and a technician reads the week."""

import pytest

from tests.browser.conftest import PHONE

pytestmark = pytest.mark.browser


def test_finds_who_is_asked_for_too_much_and_what_makes_up_the_week(visit):
    lead = visit("lead")
    page = lead.page
    page.get_by_role("link", name="Hands").click()
    page.get_by_role("heading", level=1, name="Who is asked for what").wait_for()
    assert "hours in the week of" in page.locator(".lede").inner_text()
    jory = page.get_by_role("article", name="Jory Pellmount")
    assert "over" in jory.locator(".tally").first.inner_text()
    assert "full" in jory.locator(".tally").first.inner_text()
    jory.get_by_role("link", name="In figures, and the jobs").click()
    table = jory.get_by_role("table", name="Jory Pellmount week by week")
    assert "Q-1" in table.inner_text()
    assert table.locator("a[href$='/who/']").count() > 5
    jory.get_by_role("link", name="Fold the figures away").click()
    table.wait_for(state="detached")
    jory.get_by_role("heading").get_by_role("link").click()
    page.get_by_role("heading", level=1, name="Jory Pellmount, week by week").wait_for()


def test_more_weeks_are_one_press_away(visit):
    page = visit("lead").page
    page.get_by_role("link", name="Hands").click()
    rows = page.get_by_role("article", name="Jory Pellmount").locator(".tally")
    assert rows.count() == 12
    page.get_by_role("link", name="Show 24 weeks").click()
    page.wait_for_url("**/hands/?weeks=24")
    assert rows.count() == 24


def test_gives_a_job_to_somebody_after_seeing_the_odds_and_takes_it_back(visit):
    """Two people may do mechanical work; the plan gives this job to one of them."""
    lead = visit("lead")
    page = lead.page
    lead.open("/jobs/q116-h07/who/")
    page.get_by_label("Imogen Vasterling").check()
    page.get_by_role("button", name="See what it does to the odds").click()
    page.get_by_role("heading", name="Given to Imogen Vasterling").wait_for()
    assert page.get_by_text("in 100").first.is_visible()
    page.get_by_role("button", name="Give it to Imogen Vasterling").click()
    page.get_by_text("is given to Imogen Vasterling.").wait_for()
    page.get_by_role("button", name="Undo").click()
    page.get_by_text("goes to whoever is free.").wait_for()


def test_somebody_without_the_trade_is_not_offered_and_the_page_says_why(visit):
    lead = visit("lead")
    lead.open("/jobs/q116-h07/who/")
    assert not lead.page.get_by_label("Rafe Tindlock").count()
    assert lead.page.get_by_text("Rafe Tindlock does no mechanical work.").is_visible()


def test_keeps_the_old_order_and_follows_the_new_plan_again(visit):
    lead = visit("lead")
    page = lead.page
    lead.open("/moved/")
    page.get_by_role("button", name="Follow the new plan").click()
    page.get_by_text("Everybody follows the new plan.").wait_for()
    page.get_by_role("button", name="Keep the old order").click()
    page.get_by_text("The old order is kept: a job moves only where").wait_for()
    page.get_by_role("button", name="Follow the new plan").click()
    page.get_by_text("People follow the new plan as soon as").wait_for()


def test_a_technician_reads_their_own_week_on_a_phone(visit):
    technician = visit("technician", width=PHONE)
    page = technician.page
    page.get_by_role("link", name="Your weeks, day by day").click()
    page.get_by_role("heading", level=1, name="week by week").wait_for()
    assert page.get_by_role("heading", name="11 to 15 January").is_visible()
    page.get_by_role("link", name="Weeks after").click()
    page.get_by_role("heading", name="8 to 12 February").wait_for()
    page.get_by_role("link", name="Weeks before").click()
    page.get_by_role("heading", name="11 to 15 January").wait_for()
