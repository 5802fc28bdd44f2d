"""The run-in: nothing overlaps, nothing leaves the paper, the post stands right."""

from dataclasses import replace
from datetime import datetime, timedelta
from itertools import combinations, pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from builds.charts import Closed, Finish, RunInJob, run_in
from builds.charts.axis import weeks_to_go
from builds.charts.bars import BAR, STYLES

NOW = datetime(2027, 1, 11, 8)  # a Monday: ISO week date 2027-W02-1
DAY = timedelta(days=1)
MOVE_IN = datetime(2027, 6, 11, 16)


def job(at: int, start: float, length: float, **facts) -> RunInJob:
    given = {
        "id": str(at),
        "title": f"Job {at}",
        "url": f"/jobs/{at}/",
        "area": "body",
        "kind": "bench",
        "condition": "waiting",
        "start": NOW + start * DAY,
        "finish": NOW + (start + length) * DAY,
    }
    return RunInJob(**given | facts)


def draw(jobs, **facts):
    given = {"now": NOW, "move_in": MOVE_IN, "finish": None}
    return run_in(jobs, **given | facts)


some_jobs = st.lists(
    st.builds(
        lambda start, length, title, area, kind, vendor, wait: {
            "start": start,
            "length": length,
            "title": title,
            "area": area,
            "kind": kind,
            "vendor": vendor if kind in ("outside", "order") else "",
            "ready": NOW + max(0.0, start - wait) * DAY,
        },
        st.floats(-20, 200),
        st.floats(0, 60),
        st.text("abc def", min_size=1, max_size=50),
        st.sampled_from(["body", "paint", "engine", ""]),
        st.sampled_from(sorted(STYLES)),
        st.sampled_from(["", "Plater", "A firm with a long name"]),
        st.floats(0, 30),
    ),
    min_size=1,
    max_size=40,
)


@settings(max_examples=60, deadline=None)
@given(some_jobs)
def test_nothing_overlaps_and_nothing_leaves_the_paper(rows):
    jobs = [job(at, row.pop("start"), row.pop("length"), **row)
            for at, row in enumerate(rows)]  # fmt: skip
    finish = Finish(*(NOW + days * DAY for days in (100, 130, 160, 190)))
    chart = draw(jobs, finish=finish)
    for area in chart.areas:
        for one, other in combinations(area.bars, 2):
            if one.y == other.y:
                (a, b), (c, d) = one.measured.stretch, other.measured.stretch
                assert b < c or d < a
    for bar in chart.bars:
        left, right = bar.measured.stretch
        assert chart.scale.left - BAR <= left <= right <= chart.width
        assert 0 <= bar.y <= bar.y + BAR <= chart.height
    for over, under in pairwise(chart.areas):
        assert over.y + over.height <= under.y
        assert all(bar.y + BAR <= under.y for bar in over.bars)


def test_the_post_stands_at_the_right_edge_when_all_is_in_time():
    chart = draw([job(1, 3, 10)])
    assert chart.post == pytest.approx(chart.scale.right, rel=0.02)
    assert chart.past < 15


def test_a_late_finish_runs_past_the_post():
    late = Finish(
        MOVE_IN - DAY, MOVE_IN + 5 * DAY, MOVE_IN + 20 * DAY, MOVE_IN + 30 * DAY
    )
    chart = draw([job(1, 3, 10)], finish=late)
    assert chart.smear.x10 < chart.post < chart.smear.x50 < chart.smear.x80
    assert chart.smear.x90 <= chart.scale.right


def test_places_are_in_proportion_to_time():
    chart = draw([job(1, 10, 20), job(2, 20, 20)])
    first, second = (bar.measured for bar in chart.bars)
    ten_days = second.x - first.x
    assert first.end - first.x == pytest.approx(2 * ten_days, abs=0.3)
    assert first.x - chart.scale.left == pytest.approx(ten_days, abs=0.3)


def test_the_thread_runs_through_the_chain_in_order():
    jobs = [
        job(1, 0, 5, thread=0),
        job(2, 5, 10, thread=1, area="paint"),
        job(3, 15, 3, thread=2),
        job(4, 2, 9),
    ]
    chart = draw(list(reversed(jobs)))
    assert [one.id for one in chart.chain] == ["1", "2", "3"]
    points = [tuple(map(float, p.split(","))) for p in chart.thread.split()]
    bars = {bar.job.id: bar for bar in chart.bars}
    starts = [points.index((bars[k].measured.x, bars[k].y + BAR + 2.5)) for k in "123"]
    assert starts == sorted(starts)
    # Each step runs along or straight up or down: one line, never broken.
    assert all(a[0] == b[0] or a[1] == b[1] for a, b in pairwise(points))
    assert points[-1] == (bars["3"].measured.end, chart.smear_y)


def test_done_and_left_out_are_counted_not_drawn():
    jobs = [
        job(1, -9, 2, condition="done"),
        job(2, 1, 1),
        job(3, 4, 2, condition="left out"),
    ]
    chart = draw(jobs)
    assert [bar.job.id for bar in chart.bars] == ["2"]
    assert chart.areas[0].done == 1
    assert chart.sentence.startswith("1 job to go, 1 done.")


def test_a_job_without_dates_is_listed_not_drawn():
    chart = draw([replace(job(1, 1, 1), start=None, finish=None), job(2, 1, 1)])
    assert [bar.job.id for bar in chart.bars] == ["2"]
    assert [row.job.id for row in chart.areas[0].rows] == ["2", "1"]


def test_the_axis_counts_working_weeks_down():
    # Mondays 24 May, 31 May and 7 June stand before Friday 11 June, ISO weeks 21-23.
    assert weeks_to_go(datetime(2027, 5, 24), MOVE_IN, []) == 3
    shut = [Closed(datetime(2027, 5, 31), datetime(2027, 6, 7))]
    assert weeks_to_go(datetime(2027, 5, 24), MOVE_IN, shut) == 2
    chart = draw([job(1, 3, 10)])
    weeks = [tick.weeks for tick in chart.ticks]
    assert weeks == sorted(weeks, reverse=True)
    assert [tick.x for tick in chart.ticks] == sorted(tick.x for tick in chart.ticks)
    assert all(b.x - a.x >= 50 for a, b in pairwise(chart.ticks))


def test_without_a_show_there_is_no_post_and_no_count():
    chart = draw([job(1, 3, 40)], move_in=None)
    assert chart.post is None
    assert chart.past == 0
    assert {tick.weeks for tick in chart.ticks} == {None}


def test_nothing_to_do_is_a_picture_too():
    chart = draw([])
    assert chart.areas == ()
    assert chart.thread == ""


def test_a_bar_says_everything_it_shows():
    one = job(1, 0, 3, kind="outside", vendor="Plater", condition="away", thread=0)
    assert one.name == (
        "Job 1, away, 11 to 14 January, at Plater, on the chain that sets the date"
    )
