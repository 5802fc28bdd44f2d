"""Which copies stay: seven days, four weeks, twelve months, by hand and by property."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

from hypothesis import given
from hypothesis import strategies as st

from builds.upkeep.kept import copies_in, name_of, tidy, to_keep

MOMENTS = st.datetimes(
    datetime(2024, 1, 1), datetime(2035, 1, 1), timezones=st.just(UTC)
)


def nights(count: int) -> list[datetime]:
    last = datetime(2027, 3, 31, 2, tzinfo=UTC)  # a Wednesday
    return [last - timedelta(days=back) for back in range(count)]


def test_of_two_years_of_nights_twenty_stay():
    """Seven days to 25 March; the ends of the weeks before, 21 and 14 March (28 and 31
    March are among the days); the ends of the eleven months before."""
    stay = to_keep(nights(730))
    assert sorted(at.date().isoformat() for at in stay) == [
        "2026-04-30", "2026-05-31", "2026-06-30", "2026-07-31", "2026-08-31",
        "2026-09-30", "2026-10-31", "2026-11-30", "2026-12-31", "2027-01-31",
        "2027-02-28", "2027-03-14", "2027-03-21", "2027-03-25", "2027-03-26",
        "2027-03-27", "2027-03-28", "2027-03-29", "2027-03-30", "2027-03-31",
    ]  # fmt: skip


@given(st.lists(MOMENTS, unique=True))
def test_no_more_than_the_three_rules_ask_for_and_always_the_newest(made):
    stay = to_keep(made)
    assert len(stay) <= 7 + 4 + 12
    assert stay <= set(made)
    if made:
        assert max(made) in stay


@given(st.lists(MOMENTS, min_size=1, unique=True))
def test_tidied_twice_is_tidied_once(made):
    assert to_keep(to_keep(made)) == to_keep(made)


def test_only_what_is_named_like_a_copy_is_let_go(tmp_path):
    for at in nights(40):
        (tmp_path / name_of(at)).touch()
    (tmp_path / "holiday.jpg").touch()
    (tmp_path / f"{name_of(nights(1)[0])}.part").touch()
    gone = tidy(tmp_path)
    assert len(gone) + len(copies_in(tmp_path)) == 40
    assert (tmp_path / "holiday.jpg").exists()
    assert set(copies_in(tmp_path)) == to_keep(nights(40))
