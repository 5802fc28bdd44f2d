"""The ladder: levels from the top, one scale, what can be promised."""

from datetime import datetime, timedelta

from builds.charts import Finish, Rung, ladder, smear_strip

NOW = datetime(2027, 1, 11, 8)
SHOW = datetime(2027, 6, 11, 16)


def by(*days: float) -> Finish:
    return Finish(*(NOW + timedelta(days=day) for day in days))


RUNGS = [
    Rung("on the stand", 0.97, by(60, 70, 80, 90)),
    Rung("running", 0.80, by(90, 110, 150, 160)),
    Rung("complete", 0.19, by(120, 160, 180, 200)),
]


def test_the_top_rung_comes_first_and_the_best_that_holds_is_named():
    drawn = ladder(RUNGS, now=NOW, move_in=SHOW, wanted="complete")
    assert [rung.name for rung in drawn.rungs] == [
        "complete",
        "running",
        "on the stand",
    ]
    assert [rung.holds for rung in drawn.rungs] == [False, True, True]
    assert drawn.rungs[0].wanted
    assert drawn.sentence == (
        "The wish is complete: 19 in 100. What can be promised at 80 in 100 is running."
    )


def test_all_rungs_share_one_scale():
    drawn = ladder(RUNGS, now=NOW, move_in=SHOW, wanted="running")
    posts = {rung.strip.post for rung in drawn.rungs}
    assert len(posts) == 1
    top, middle, low = (rung.strip.smear for rung in drawn.rungs)
    assert low.x50 < middle.x50 < top.x50
    for one in (top, middle, low):
        assert 0 <= one.x10 <= one.x50 <= one.x80 <= one.x90 <= 200


def test_nothing_holds():
    drawn = ladder(
        [Rung("running", 0.5, None)], now=NOW, move_in=SHOW, wanted="running"
    )
    assert drawn.sentence.endswith("No level holds at 80 in 100 yet.")
    assert drawn.rungs[0].strip is None


def test_no_show_no_odds():
    drawn = ladder([Rung("running", None, by(1, 2, 3, 4))], now=NOW, move_in=None,
                   wanted="running")  # fmt: skip
    assert drawn.sentence == "No show is set, so there are dates but no odds."
    assert drawn.rungs[0].strip.post is None


def test_a_strip_by_itself_spans_today_to_the_last():
    strip = smear_strip(by(10, 20, 30, 40), now=NOW, move_in=None)
    assert strip.smear.x90 > 0.9 * strip.width
    assert strip.smear.wide == round(strip.smear.x90 - strip.smear.x10, 1)
