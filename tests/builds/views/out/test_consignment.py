"""A consignment on its page: made up, seen off, taken back."""

from builds.models import Consignment, Event, Forecast, ForecastState, Job, Piece
from tests.factories.job import JobFactory


def leave(press, row, *, seven="7", two="2", signed="Tomos"):
    row.refresh_from_db()
    return press(
        "consignment_leave", row.key, version=row.version, signed=signed,
        count_0=seven, count_1=two, words="With the drawing",
    )  # fmt: skip


def test_put_together_from_two_cars(press, pedals, caps):
    status, page = press(
        "consignment_new", vendor="anodiser", name="Black batch",
        jobs=["pedals", "caps"],
    )  # fmt: skip
    assert status == 302
    assert "“Black batch” is put together." in page
    assert "9 pieces of 2 cars." in page
    assert Piece.objects.count() == 2


def test_what_is_not_trial_fitted_is_refused_by_name(press, pedals, caps):
    caps.links.create(before=JobFactory(kind="check", title="Trial fit the caps"))
    status, page = press("consignment_new", vendor="anodiser", jobs=["caps"])
    assert status == 422
    assert "“Trial fit the caps” has not been passed" in page
    assert not Consignment.objects.exists()


def test_nothing_chosen_is_said(press, pedals):
    status, page = press("consignment_new", vendor="anodiser")
    assert status == 422
    assert "Choose what travels in it." in page


def test_a_firm_that_is_not_there(look, press, shop):
    look("consignment_new", status=404)
    assert press("consignment_new", vendor="nobody")[0] == 404


def test_it_leaves_with_a_name_and_can_be_taken_back(press, batch):
    status, page = leave(press, batch)
    assert status == 302
    assert "“Black batch” has left with Tomos." in page
    assert {one.state for one in Job.objects.all()} == {"under way"}
    event = Event.objects.get(verb="sent consignment")
    assert f"/out/black-batch/undo/{event.pk}/" in page
    status, page = press("consignment_undo", batch.key, event.pk)
    assert "is as it was before" in page
    assert {one.state for one in Job.objects.all()} == {"open"}


def test_a_count_that_differs_keeps_it_here(press, batch):
    status, page = leave(press, batch, seven="6")
    assert status == 422
    assert "the list says 7 and 6 were counted" in page
    assert "Being made up" in page or "ready to go" in page
    assert Job.objects.filter(state="open").count() == 2


def test_the_second_who_sends_it_is_told(press, batch, tom):
    version = batch.version
    leave(press, batch)
    status, page = press(
        "consignment_leave", batch.key, version=version, signed="Petra",
        count_0="7", count_1="2",
    )  # fmt: skip
    assert status == 422
    assert "has left already" in page
    assert Event.objects.filter(verb="sent consignment").count() == 1


def test_what_travels_is_changed_by_whoever_saw_it_last(press, batch):
    status, page = press(
        "consignment", batch.key, version=batch.version, name="Black tin",
        leaves="15 jan", jobs=["pedals"],
    )  # fmt: skip
    assert status == 302
    assert "“Black tin” is changed." in page
    status, page = press(
        "consignment", batch.key, version=batch.version, jobs=["pedals", "caps"]
    )
    assert status == 422
    assert "lena changed “Black tin” after you opened it" in page


def test_taken_apart_each_goes_on_its_own(press, batch):
    status, page = press("consignment_apart", batch.key)
    assert status == 302
    assert "is taken apart" in page
    assert not Consignment.objects.exists()


def test_what_came_of_it_is_told_from_the_answers(look, lena, batch):
    """Before: 40 in 100 and a job waiting. After: 55 in 100 and the job clear."""
    job = JobFactory(key="fit-pedals", title="Fit the pedals")
    event = Event.objects.create(
        by=lena, verb="counted in consignment", subject="Black batch",
        after={"consignment": batch.key, "signed": "Petra"},
    )  # fmt: skip
    for chance, condition in ((0.40, "waiting"), (0.55, "clear")):
        row = Forecast.objects.create(
            state=ForecastState.DONE,
            input_hash=condition,
            answer=_answer(chance, job.key, condition),
        )
        if condition == "waiting":
            Forecast.objects.filter(pk=row.pk).update(
                asked_at=event.at.replace(year=event.at.year - 1)
            )
    page = look("consignment", batch.key)
    assert "Fit the pedals" in page
    assert "40 in 100 before, now" in page
    assert "55 in 100" in page
    assert "Signed for by Petra." in page


def _answer(chance, key, condition):
    entry = {"level": "running", "levels": {"running": {"probability": chance}}}
    return {
        "jobs": {key: {"condition": condition}},
        "shows": {"summer": {"name": "Summer", "entries": {"coupe": entry}}},
    }
