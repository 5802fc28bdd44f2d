"""One late piece and what waits for it, at three moments of a build.

An exhaust and a machined piece both gate a trial fit; then weld, anodise in a batch,
plumbing, fluids, first start. An undesigned loom gates first start too. A trimmer
who is away next week gates the cabin. Common practice, no source.
"""

from tests.scheduling.reference.cases import answered, fixed, week

DAY = ["08:00-12:00", "13:00-17:00"]
PEOPLE = [
    {"id": "wilf", "trades": {"weld": 3}},
    {"id": "mo", "trades": {"mechanic": 2}},
    {"id": "eli", "trades": {"electric": 2}},
    {"id": "tess", "trades": {"trim": 2}, "away": ["2027-02-15/2027-02-19"]},
]
VENDORS = [{"id": "exhausts"}, {"id": "machinist"}, {"id": "anodiser"}]
BATCH = {"id": "batch", "vendor": "anodiser", "jobs": ["anodise", "anodise-trays"]}
RUNNING = "running"


def job(name, kind, length, after=(), level=RUNNING, **more):
    return {
        "id": name,
        "build": "car",
        "kind": kind,
        "estimate": fixed(length),
        "after": list(after),
        "level": level,
    } | more


def jobs():
    away = {"sent": "2027-01-25"}
    carpet = {"sent": "2027-02-03", "promised": "2027-02-12"}
    return [
        job("exhaust", "outside", 10, vendor="exhausts", **away),
        job("piece", "outside", 15, vendor="machinist", promised="2027-02-19", **away),
        job("trial-fit", "check", 8, ["exhaust", "piece"], trade="weld"),
        job("weld", "bench", 6, ["trial-fit"], trade="weld", commitment=True),
        job("anodise", "outside", 10, ["weld"], vendor="anodiser"),
        job("trays", "bench", 4, trade="weld"),
        job("anodise-trays", "outside", 10, ["trays"], vendor="anodiser"),
        job("plumbing", "bench", 16, ["anodise", "anodise-trays"], trade="mechanic"),
        job("fluids", "bench", 2, ["plumbing"], trade="mechanic"),
        job("loom-design", "bench", 24, trade="electric"),
        job("loom-made", "bench", 40, ["loom-design"], trade="electric"),
        job("loom-laid", "bench", 16, ["loom-made"], trade="electric"),
        job("first-start", "check", 4, ["fluids", "loom-laid"], trade="mechanic"),
        job("carpet", "order", 3, level="complete", **carpet),
        job("cabin", "bench", 16, ["carpet"], level="complete", trade="trim"),
        job("hand-over", "mark", 0, ["first-start", "cabin"], level="complete"),
    ]


def story(now, done=()):
    """Return the answer at a moment with some jobs done."""
    table = jobs()
    for one in table:
        if one["id"] in done:
            one |= {"state": "done", "finished": "2027-02-08T08:00"}
    plan = {
        "now": now,
        "calendars": {"shop": {"week": week(hours=DAY)}},
        "builds": [{"id": "car"}],
        "people": PEOPLE,
        "vendors": VENDORS,
        "consignments": [BATCH],
        "jobs": table,
    }
    return answered(plan, samples=400)


PLUMBED = {
    "exhaust",
    "piece",
    "trial-fit",
    "weld",
    "anodise",
    "trays",
    "anodise-trays",
    "plumbing",
}
RUN = PLUMBED | {"fluids", "loom-design", "loom-made", "loom-laid", "first-start"}


def path_to(result, level):
    return result["builds"]["car"]["levels"][level]["critical_path"]


def test_the_late_piece_blocks_most_while_it_is_out():
    """Exhaust back, piece out: fit, weld, anodise, plumbing, fluids, start, end."""
    result = story("2027-02-08T08:00", done={"exhaust"})
    first = result["blocking"][0]
    assert first["job"] == "piece"
    assert result["jobs"]["piece"]["condition"] == "away"
    held = {"trial-fit", "weld", "anodise", "plumbing", "fluids", "first-start"}
    assert first["holds"] >= len(held | {"hand-over"})
    # the trial fit waits for it alone; nothing else stands before the weld
    assert list(first["frees"]) == ["trial-fit"]
    assert result["jobs"]["trial-fit"]["waits_for"] == ["piece"]
    assert path_to(result, RUNNING)[0] == "piece"
    assert held <= set(path_to(result, RUNNING))


def test_with_both_out_the_trial_fit_waits_for_both():
    jobs_now = story("2027-02-08T08:00")["jobs"]
    assert sorted(jobs_now["trial-fit"]["waits_for"]) == ["exhaust", "piece"]
    assert jobs_now["trial-fit"]["condition"] == "waiting"
    # either alone would not clear the fit
    assert not jobs_now["piece"]["frees"]
    assert not jobs_now["exhaust"]["frees"]
    assert jobs_now["piece"]["only_this"] == 0


def test_once_the_plumbing_is_done_the_loom_stands_before_running():
    result = story("2027-02-08T08:00", done=PLUMBED)
    # loom 24 + 40 + 16 = 80 h against 2 h of fluids, then 4 h of first start
    loom = ["loom-design", "loom-made", "loom-laid"]
    assert path_to(result, RUNNING) == [*loom, "first-start"]
    assert result["blocking"][0]["job"] == "loom-design"
    # made, laid, first start, hand-over
    assert result["blocking"][0]["holds"] == 4
    # 84 h from Monday 8th: ten days end Friday 19th, 4 h on Monday 22nd
    planned = result["builds"]["car"]["levels"][RUNNING]["planned"]
    assert planned == "2027-02-22T12:00"


def test_once_it_runs_the_trimmer_stands_before_complete():
    """Friday 12th: the carpet comes in that day; Tess is away from Monday 15th."""
    result = story("2027-02-12T08:00", done=RUN)
    assert path_to(result, "complete")[:2] == ["carpet", "cabin"]
    cabin = result["jobs"]["cabin"]
    assert cabin["who"] == ["tess"]
    # back on Monday 22nd; 16 h are two days
    assert cabin["planned_start"] == "2027-02-22T08:00"
    assert cabin["planned_finish"] == "2027-02-23T17:00"
    assert result["builds"]["car"]["levels"]["complete"]["planned"] == (
        "2027-02-23T17:00"
    )


def test_in_the_week_she_is_away_the_cabin_says_so():
    result = story("2027-02-15T08:00", done=RUN | {"carpet"})
    cabin = result["jobs"]["cabin"]
    assert cabin["planned_start"] == "2027-02-22T08:00"
    assert any("away" in reason for reason in cabin["reasons"])
    assert "cabin" not in result["today"].get("tess", [])
    assert result["blocking"][0]["job"] == "cabin"
