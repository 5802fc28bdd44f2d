"""The parts as they are rendered: names, links, no fraction cut off."""

import re
from datetime import datetime, timedelta

import pytest
from django.template.loader import render_to_string

from builds.charts import (
    Finish,
    HeldJob,
    Rung,
    RunInJob,
    knock_on,
    ladder,
    run_in,
    smear_strip,
)

NOW = datetime(2027, 1, 11, 8)
FINISH = Finish(*(NOW + timedelta(days=day) for day in (50, 60, 70, 75.5)))


def jobs(count: int) -> list[RunInJob]:
    kinds = ["bench", "outside", "order", "decision", "stand", "check", "mark"]
    return [
        RunInJob(
            str(at), f"Job <{at}>", f"/jobs/{at}/", "body", kinds[at % 7], "waiting",
            NOW + timedelta(days=at), NOW + timedelta(days=at + 1.3), vendor="Plater",
            ready=NOW, thread=at if at < 3 else None,
        )
        for at in range(count)
    ]  # fmt: skip


@pytest.mark.parametrize(("count", "roving"), [(20, False), (21, True)])
def test_every_job_of_the_run_in_is_a_named_link_and_a_row(count, roving):
    chart = run_in(
        jobs(count), now=NOW, move_in=NOW + timedelta(days=60), finish=FINISH
    )
    page = render_to_string("_parts/run_in.html", {"chart": chart})
    picture, lists = page.split("</svg>", 1)
    for at in range(count):
        assert picture.count(f'href="/jobs/{at}/" aria-label="Job &lt;{at}&gt;') == 1
        assert f'<a href="/jobs/{at}/">Job &lt;{at}&gt;</a>' in lists
    assert ("data-roving" in picture) == roving
    assert "style=" not in page
    assert not re.search(r'(?:x|y|d|width|points)=""', page)


def test_the_run_in_without_a_show_or_a_finish():
    chart = run_in(jobs(3), now=NOW, move_in=None, finish=None)
    page = render_to_string("_parts/run_in.html", {"chart": chart})
    assert 'class="post"' not in page
    assert "None" not in page


def test_the_run_in_with_nothing_to_do():
    chart = run_in([], now=NOW, move_in=None, finish=None)
    page = render_to_string("_parts/run_in.html", {"chart": chart})
    assert "Nothing is left to do." in page


def test_the_ladder_says_each_level_and_its_odds():
    rungs = [Rung("running", 0.74, FINISH, url="/r/"), Rung("complete", None, None)]
    drawn = ladder(rungs, now=NOW, move_in=NOW + timedelta(days=60), wanted="running")
    page = render_to_string("_parts/ladder.html", {"ladder": drawn})
    assert "74 in 100" in page
    assert "odds not worked out yet" in page
    assert page.index("Complete") < page.index("Running")


def test_the_knock_on_is_a_picture_and_a_list():
    picked = HeldJob("0", "Weld tank", "/0/", "clear", NOW, NOW)
    held = [HeldJob("1", "Fit tank", "/1/", "waiting", NOW, NOW, ("0",))]
    page = render_to_string("_parts/knock_on.html", {"chart": knock_on(picked, held)})
    assert 'aria-label="Fit tank, waiting, 11 Jan, after Weld tank"' in page
    assert '<a class="line__title" href="/1/">Fit tank</a>' in page


def test_a_strip_keeps_its_fractions():
    strip = smear_strip(FINISH, now=NOW, move_in=NOW + timedelta(days=61))
    page = render_to_string("_parts/smear.html", {"smear": strip})
    assert f'x="{strip.smear.x10}"' in page
    assert strip.smear.words in page
