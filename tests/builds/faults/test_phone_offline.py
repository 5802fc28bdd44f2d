"""A phone in the far corner of the workshop: thirty acts, sent two hours later."""

from __future__ import annotations

from contextlib import suppress

import pytest
from playwright.sync_api import TimeoutError as TooLong

from tests.browser.visitor import DESK, opened, serve_demo
from tests.builds.faults.phone import box, browser, keep, rows, technician

pytestmark = [pytest.mark.faults, pytest.mark.fault("F14")]

JOBS = [f"q121-s0{number}" for number in range(1, 7)]
CHANGED = "q121-s03"
HOURS = 2
TROUBLE = "reported trouble"
# Every fourth answer is lost on its way: the phone has to send that act once more.
LOSSY = """{
  const real = window.fetch;
  let posts = 0;
  window.fetch = async (...asked) => {
    const answer = await real(...asked);
    const counts = asked[1]?.method === "POST";
    if (counts && (posts += 1) % 4 === 0) throw new TypeError("lost");
    return answer;
  };
}"""
# Two hours go by, and the rows come to lie the wrong way round.
LATER = """async (hours) => {
  const asked = indexedDB.open("outbox");
  await new Promise((on) => (asked.onsuccess = on));
  const within = asked.result.transaction("acts", "readwrite");
  const acts = within.objectStore("acts");
  const found = acts.getAll();
  await new Promise((on) => (found.onsuccess = on));
  acts.clear();
  for (const one of found.result.reverse())
    acts.put({ ...one, at: one.at - hours * 3600_000 });
  await new Promise((on) => (within.oncomplete = on));
  return found.result.length;
}"""
ABLE = """insert into builds_persontrade (person_id, trade, level)
select id, trade, 3 from builds_person, (select 'mechanical' as trade union select
'electrical') where key = 'rafe' and true
on conflict (person_id, trade) do update set level = 3"""
DONE = """select job.key, event.verb, event.words
from builds_event event join builds_job job on job.id = event.job_id
join builds_user by on by.id = event.by_id
where by.username = 'rafe' and event.id > ? order by event.id"""
LATE = """select min(julianday(at) - julianday(pressed_at)) * 24,
max(julianday(at) - julianday(pressed_at)) * 24, count(*) = count(pressed_at)
from builds_event where id > ?
and by_id = (select id from builds_user where username = 'rafe')"""


@pytest.fixture(scope="module")
def chromium():
    with browser() as chromium:
        yield chromium


@pytest.fixture(scope="module")
def room(tmp_path_factory):
    """Where the demo's database is."""
    return tmp_path_factory.mktemp("demo") / "demo.sqlite3"


@pytest.fixture(scope="module")
def site(room):
    """The demo, in which the technician is able to do the jobs below."""
    with serve_demo(
        room.parent, FORECAST_SCHEDULES="1", FORECAST_SAMPLES="20"
    ) as address:
        rows(room, ABLE)
        yield address


def wrong(page, words: str) -> None:
    page.locator("#trouble summary").click()
    page.get_by_label("It does not fit").check()
    page.locator("#id_trouble_words").fill(words)
    page.get_by_role("button", name="Tell the lead").click()


def put_down(page, left: str, words: str) -> None:
    page.locator("#stop summary").click()
    page.get_by_label("Not done").check()
    page.get_by_label("How much is left").fill(left)
    page.locator("#id_stop_words").fill(words)
    page.get_by_role("button", name="Put it down").click()


def five_acts(page, job: str, begun: int) -> list[tuple[str, str, str]]:
    """Press five buttons on a job's kept page; gives what should come of them."""
    presses = (
        lambda: page.get_by_role("button", name="Start", exact=True).click(),
        lambda: wrong(page, f"{job} a"),
        lambda: put_down(page, "3h", f"{job} b"),
        lambda: wrong(page, f"{job} c"),
        lambda: put_down(page, "1h", f"{job} d"),
    )
    for number, press in enumerate(presses, begun + 1):
        press()
        page.get_by_text(f"{number} waiting to be sent").wait_for()
    verbs = ("started job", *(TROUBLE, "stopped job") * 2)
    words = ("", *(f"{job} {letter}" for letter in "abcd"))
    return [(job, *one) for one in zip(verbs, words, strict=True)]


def send_all(page, until: str) -> None:
    """Press as somebody would who sees that there was no answer."""
    for _ in range(60):
        button = page.locator("[data-outbox-send]")
        if until in box(page):
            return
        if button.is_visible():
            with suppress(TooLong):  # it may go while it is being pressed
                button.click(timeout=1000)
        page.wait_for_timeout(500)
    raise AssertionError(box(page))


def test_thirty_acts_are_done_once_each_in_their_order(chromium, site, room):
    tom = technician(chromium, site)
    page, phone = tom.page, tom.page.context
    phone.add_init_script(LOSSY)
    keep(page, *(f"/bench/{job}/" for job in JOBS), "/bench/")
    ((last,),) = rows(room, "select coalesce(max(id), 0) from builds_event")

    phone.set_offline(True)
    wanted = []
    for job in JOBS:
        page.goto(f"{site}/bench/{job}/")
        assert "no connection" in page.locator("[data-as-of]").inner_text()
        wanted += five_acts(page, job, len(wanted))
    assert len(wanted) == 30

    lead = opened(chromium, site, DESK)
    lead.enter("lead")
    lead.open(f"/jobs/{CHANGED}/")
    lead.page.get_by_role("button", name="Start", exact=True).click()
    lead.page.wait_for_load_state()

    assert page.evaluate(LATER, HOURS) == 30
    other = phone.new_page()
    other.goto(f"{site}/bench/")
    phone.set_offline(False)
    decide = "2 waiting to be sent, 1 for you to decide"
    send_all(page, until=decide)

    held = [one for one in wanted if one[0] == CHANGED and one[1] != TROUBLE]
    taken = [one for one in wanted if one not in held]
    for _ in range(120):  # the box may count before the last of them is through
        if len(rows(room, DONE, last)) >= len(taken):
            break
        page.wait_for_timeout(250)
    assert rows(room, DONE, last) == taken
    least, most, all_noted = rows(room, LATE, last)[0]
    assert HOURS <= least <= most < HOURS + 0.2
    assert all_noted
    assert "has changed since. Look at it, then decide." in box(page)

    page.get_by_role("button", name="Send it all the same").click()
    send_all(page, until="All sent")
    assert rows(room, DONE, last)[-2:] == held[1:]
    assert len(rows(room, DONE, last)) == 29  # the lead had started it
    assert page.evaluate("Outbox.all()") == []
    assert tom.wrong == []


def test_an_ended_visit_keeps_them_until_somebody_signs_in(chromium, site, room):
    tom = technician(chromium, site)
    page, phone = tom.page, tom.page.context
    keep(page, f"/bench/{JOBS[0]}/")
    phone.set_offline(True)
    page.goto(f"{site}/bench/{JOBS[0]}/")
    wrong(page, "while it was away")
    page.get_by_text("1 waiting to be sent").wait_for()

    phone.clear_cookies()
    phone.set_offline(False)
    page.get_by_text("You are signed out. Sign in again, and they are sent.").wait_for()
    page.get_by_role("link", name="Sign in again").click()
    page.get_by_text("1 kept on this phone, waiting to be sent").wait_for()
    page.click("button[value=technician]")
    page.get_by_text("All sent").wait_for()
    told = "select count(*) from builds_event where words = 'while it was away'"
    assert rows(room, told) == [(1,)]


@pytest.mark.parametrize("status", [429, 500, 503])
def test_a_machine_in_trouble_loses_nothing(chromium, site, room, status):
    tom = technician(chromium, site)
    page = tom.page
    tom.expected = ("htmx:", "Failed to load resource")
    page.goto(f"{site}/bench/{JOBS[0]}/")
    answer = {"status": status, "headers": {"Retry-After": "1"}, "body": "no"}
    page.route("**/trouble/", lambda route: route.fulfill(**answer))
    wrong(page, f"answered {status}")
    page.get_by_text("No proper answer yet. Tried again at").wait_for()
    assert "1 waiting to be sent" in box(page)
    page.unroute("**/trouble/")
    page.get_by_text("All sent").wait_for()
    told = "select count(*) from builds_event where words = ?"
    assert rows(room, told, f"answered {status}") == [(1,)]
