"""A week of hours as strokes: how many, how long, how much of them solid."""

import itertools

import pytest

from builds.charts.tally import RANK, STROKES, WIDE, frame, stroke_size, tally


def drawn(own, given, over, stroke=4.0):
    return tally(own, given, over, frame(stroke, [own], [over]))


def test_hours_there_are_hang_from_the_line_solid_where_given():
    # 30 h are seven and a half strokes of 4 h; 14 h given are three and a half.
    week = drawn(30, 14, 0)
    assert len(week.own) == 8
    assert [one.solid for one in week.own] == [RANK] * 3 + [RANK / 2] + [0] * 4
    assert [one.height for one in week.own] == [RANK] * 7 + [RANK / 2]
    assert all(one.y > week.line for one in week.own)
    assert week.over == ""


def test_hours_over_lean_above_the_line():
    week = drawn(30, 30, 10)
    # 10 h: two strokes and a half.
    assert len(week.leaning) == 3
    for path in week.leaning:
        foot = float(path.split()[1].split("l")[0])
        assert foot < week.line


def test_ten_strokes_fill_a_rank_with_a_gap_after_five():
    week = drawn(44, 0, 0)
    xs, ys = [one.x for one in week.own], {one.y for one in week.own}
    assert len(ys) == 2
    steps = [b - a for a, b in itertools.pairwise(xs[:STROKES])]
    assert max(steps) == steps[4]
    assert min(steps) == steps[0]
    assert xs[10] == xs[0]


def test_a_week_with_no_hours_has_no_strokes():
    assert drawn(0, 0, 0).own == ()


@pytest.mark.parametrize(
    ("most", "size"), [(0, 4), (40, 4), (120, 4), (121, 8), (300, 24), (5000, 48)]
)
def test_strokes_stand_for_more_where_weeks_are_long(most, size):
    assert stroke_size([most, 1]) == size


@pytest.mark.parametrize("own", [0, 3.9, 20, 39, 168])
@pytest.mark.parametrize("over", [0, 7, 70])
def test_everything_stays_inside_the_picture(own, over):
    stroke = stroke_size([own, over])
    week = tally(own, own / 2, over, frame(stroke, [own, 40], [over, 3]))
    for one in week.own:
        assert 0 <= one.x <= week.width - WIDE
        assert one.y + one.height <= week.height
    for path in week.leaning:
        foot, top = (float(n) for n in (path.split()[1].split("l")[0], path.split()[2]))
        assert foot + top >= 0


def test_the_paths_draw_every_stroke_once():
    week = drawn(30, 14, 10)
    assert week.outline.count("M") == 8
    assert week.solid.count("M") == 4  # three and a half
    assert week.over.count("M") == 3
