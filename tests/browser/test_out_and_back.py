"""From two cars to the zinc plater and back again, in part."""

import re

import pytest

from tests.browser.conftest import PHONE

pytestmark = pytest.mark.browser

PATIENCE = 60_000  # ms: each act works out a forecast on the spot
TIN = "/out/second-tin/"


def finish(visitor, job):
    visitor.open(f"/jobs/{job}/")
    visitor.page.get_by_role("button", name="Finished").click()
    visitor.page.get_by_text("is done.").first.wait_for()


def promise(visitor, job, day, words):
    visitor.open(f"/jobs/{job}/?ask=promise")
    visitor.page.get_by_label("Promised for").fill(day)
    visitor.page.get_by_label("What was said").first.fill(words)
    visitor.page.get_by_role("button", name="Keep the date").click()
    visitor.page.get_by_text("is promised for").first.wait_for()


def make_up(visitor):
    """What is ready of two cars is offered together, and put together."""
    page = visitor.page
    visitor.open("/out/zinc-tin/")
    page.get_by_role("button", name="Take it apart").click()
    page.get_by_text("is taken apart").wait_for()
    for job in ("q109-x05", "q121-x04"):
        finish(visitor, job)
    visitor.open("/out/")
    page.get_by_text("2 jobs of 2 cars could go together.").wait_for()
    visitor.open("/new/consignment/?vendor=brindle")
    page.get_by_label("What you call it").fill("Second tin")
    for title in ("Hood and windscreen fixings", "Carpet rails, brackets"):
        assert page.get_by_label(title).is_checked()
    page.get_by_role("button", name="Put these together").click()
    page.get_by_role("heading", level=1, name="Second tin").wait_for()
    assert page.get_by_text("55 pieces of 2 cars.").is_visible()


def plan_the_next_step(visitor):
    """Something that waits for the rails alone, so that their coming frees it."""
    page = visitor.page
    visitor.open("/cars/q121/jobs/new/")
    page.get_by_label("What is to be done").fill("Rails sorted into kits")
    page.get_by_label("What it most likely takes").fill("2h")
    page.get_by_role("button", name="Add the job").click()
    page.wait_for_url("**/jobs/rails-sorted-into-kits/**")
    visitor.open("/jobs/rails-sorted-into-kits/first/?q=Carpet rails")
    page.get_by_role("button", name="Carpet rails").click()
    page.get_by_text("comes first now").wait_for()


def print_labels(visitor):
    """A label for each line of the list, with its code; on paper, without buttons."""
    page = visitor.page
    visitor.open(TIN + "sheet/")
    assert page.locator(".label-tag").count() == 2
    page.emulate_media(media="print")
    assert page.locator(".label-tag svg").first.is_visible()
    assert not page.get_by_role("button", name="Print sheet").is_visible()
    assert len(page.pdf()) > 5_000
    page.emulate_media(media="screen")


def send(visitor):
    page = visitor.page
    visitor.open(TIN)
    page.get_by_label("Counted: Hood").fill("23")
    page.get_by_label("Counted: Carpet").fill("31")
    page.get_by_label("Who takes it there").fill("Tomos Greel")
    page.get_by_role("button", name="It has left").click()
    page.get_by_text("the list says 24 and 23 were counted").first.wait_for()
    page.get_by_label("Counted: Hood").fill("24")
    page.get_by_role("button", name="It has left").click()
    page.get_by_text("has left with Tomos Greel").wait_for()
    page.get_by_text("Left Mon 11 Jan, 08:00 with Tomos Greel").wait_for()


def receive_in_part(visitor):
    """24 out: 20 good, 1 rejected, 3 still there; their note says 24. 31 all good."""
    page = visitor.page
    visitor.open("/goods-in/")
    page.get_by_role("link", name="Second tin, from Brindle Tank").click()
    hood, rails = page.locator("form > fieldset").all()
    hood.get_by_label("Good", exact=True).fill("20")
    hood.get_by_text("Not all of it is there").click()
    hood.get_by_label("Rejected").fill("1")
    hood.get_by_label("What is wrong with it").fill("bare in the thread")
    hood.get_by_label("Pieces on their note").fill("21")
    hood.get_by_label("The good ones are looked over").check()
    rails.get_by_label("Good", exact=True).fill("31")
    rails.get_by_label("The good ones are looked over").check()
    page.get_by_label("Signed for by").fill("Petra Lunde")
    page.get_by_role("button", name="Sign and book in").click()
    page.get_by_role("heading", name="The count does not agree").wait_for()
    assert page.get_by_text("24 are out and 21 were counted.").is_visible()
    page.get_by_role("button", name="Sign and book in").click()
    page.get_by_text("“Second tin” is counted in.").wait_for()


def test_the_whole_way_of_a_consignment(visit):
    lead = visit("lead")
    lead.expected = ("422 (Unprocessable",)
    page = lead.page
    page.set_default_timeout(PATIENCE)
    make_up(lead)
    plan_the_next_step(lead)
    print_labels(lead)
    send(lead)
    promise(lead, "q109-x04", "20 jan", "Eight days, says the foreman")
    promise(lead, "q109-x04", "27 jan", "A week more: the line is down")
    lead.open("/out/")
    row = page.locator("tr", has_text="Hood and windscreen fixings")
    assert "Wed 27 Jan" in row.inner_text()
    assert "24" in row.inner_text()
    phone = visit("lead", width=PHONE)
    phone.expected = lead.expected
    phone.page.set_default_timeout(PATIENCE)
    receive_in_part(phone)

    lead.open(TIN)
    came = page.locator("#came-of-it")
    words = came.inner_text()
    assert "Now these can be got on with" in words
    assert "Rails sorted into kits" in words
    for show in ("Fennimore Hall Motor Gathering", "Saltmere Harbour"):
        assert re.search(rf"{show}[^\n]*\s+\d+ in 100 before, now", words)
    lead.open("/out/")
    assert page.get_by_text("3 still to come").first.is_visible()
    assert page.get_by_label("1 rejected, to be done again").is_checked()
    lead.open("/jobs/q109-x04/")
    assert page.locator("main").get_by_text("done").first.is_visible()


def test_a_phone_counts_with_gloves_on(visit):
    """The acts are 64 px high, our own rule for gloves, and the page fits a phone."""
    page = visit("technician", width=PHONE, has_touch=True).page
    page.get_by_role("link", name="Goods in").click()
    page.get_by_role("link", name=re.compile("Count in.*At the chrome")).click()
    for act in page.locator(".act:visible").all():
        assert act.bounding_box()["height"] >= 64
    assert page.evaluate("document.documentElement.scrollWidth") <= PHONE
