"""Goods in, on a phone: nobody signs for a count they have not been shown."""

import re

from builds.models import Event, Job, Piece


def word(page):
    return re.search(r'name="seen"\s+value="(\w*)"', page).group(1)


def counted(job, **facts):
    return {
        "job0-version": job.version,
        "signed": "Petra",
        "place": "rack 3",
        **{f"job0-{name}": value for name, value in facts.items()},
    }


def test_the_list_shows_what_can_be_counted_in(look, technician_client, away):
    page = look("goods_in", client=technician_client)
    assert "14 pieces with Wrenfold Anodic" in page
    assert "14 went, their note says 12." in page


def test_all_of_it_is_signed_for_at_once(press, technician_client, away):
    facts = counted(away, good_0="14", noted="14")
    status, page = press("goods_in_job", away.key, client=technician_client, **facts)
    assert status == 302
    assert "“Trim” is counted in." in page
    event = Event.objects.get()
    assert f"/bench/trim/undo/{event.pk}/" in page
    away.refresh_from_db()
    assert (away.pieces_back, away.state) == (14, "under way")
    assert Piece.objects.get().place == "rack 3"


def test_a_difference_is_shown_before_anyone_signs(press, away):
    """13 in the box, 14 out, 14 on their note: shown, named, and only then signed."""
    facts = counted(away, good_0="13", noted="14")
    status, page = press("goods_in_job", away.key, **facts)
    assert status == 422
    assert "The count does not agree" in page
    assert "14 are out and 13 were counted." in page
    assert "their note says 14 and 13 were counted." in page
    assert not Event.objects.exists()
    unnamed = facts | {"seen": word(page)}
    status, page = press("goods_in_job", away.key, **unnamed)
    assert status == 409
    assert "Name what is missing before you sign" in page
    named = facts | {"job0-missing_0": "1", "job0-which_0": "Left sill strip"}
    status, page = press("goods_in_job", away.key, **named)
    assert status == 422  # it is another difference now, so it is shown first
    status, page = press("goods_in_job", away.key, **named, seen=word(page))
    assert status == 302
    assert str(Piece.objects.get(state="missing")) == "Left sill strip"
    assert Event.objects.get().after["signed"] == "Petra"


def test_the_lead_lets_work_go_on_with_the_good_ones(press, away):
    facts = counted(
        away, good_0="11", rejected_0="3", why_0="pitted", accepted="on",
        low="3", likely="6", high="12",
    )  # fmt: skip
    assert press("goods_in_job", away.key, **facts)[0] == 302
    fresh = Job.objects.get(key__startswith="trim-again")
    assert (fresh.likely, fresh.pieces) == (6.0, 3)
    assert Job.objects.get(key="fit").links.count() == 1  # nothing ticked: it is free
    assert Job.objects.get(key="trim").state == "done"


def test_what_is_ticked_waits_for_the_rest(press, away):
    facts = counted(away, good_0="11", rejected_0="3", accepted="on", waits=["fit"])
    assert press("goods_in_job", away.key, **facts)[0] == 302
    assert Job.objects.get(key="fit").links.count() == 2


def test_a_technician_counts_but_does_not_accept(press, technician_client, away):
    facts = counted(away, good_0="14", accepted="on")
    press("goods_in_job", away.key, client=technician_client, **facts)
    assert Job.objects.get(key="trim").state == "under way"


def test_what_is_not_out_cannot_be_counted_in(look, press, pedals):
    assert "Nothing of it is out now." in look("goods_in_job", pedals.key)
    status, _ = press("goods_in_job", pedals.key, **counted(pedals, good_0="7"))
    assert status == 422
    assert not Event.objects.exists()


def test_without_a_name_nothing_is_signed(press, away):
    facts = counted(away, good_0="14") | {"signed": ""}
    assert press("goods_in_job", away.key, **facts)[0] == 422
    assert not Event.objects.exists()


def test_the_second_of_two_is_told(press, technician_client, away):
    facts = counted(away, good_0="14")
    press("goods_in_job", away.key, client=technician_client, **facts)
    status, _ = press("goods_in_job", away.key, **facts)
    assert status in (409, 422)
    assert Event.objects.count() == 1
    away.refresh_from_db()
    assert away.pieces_back == 14


def test_a_consignment_is_counted_in_job_by_job(press, batch):
    batch.refresh_from_db()
    press(
        "consignment_leave", batch.key, version=batch.version, signed="Tomos",
        count_0="7", count_1="2",
    )  # fmt: skip
    pedals, caps = (Job.objects.get(key=key) for key in ("pedals", "caps"))
    batch.refresh_from_db()
    facts = {
        "version": batch.version,
        "signed": "Petra",
        "job0-version": pedals.version,
        "job0-good_0": "7",
        "job0-noted": "7",
        "job0-accepted": "on",
        "job1-version": caps.version,
        "job1-good_0": "1",
        "job1-rejected_0": "1",
        "job1-accepted": "on",
    }
    status, page = press("goods_in_consignment", batch.key, **facts)
    assert status == 302
    assert "“Black batch” is counted in." in page
    pedals.refresh_from_db()
    assert pedals.state == "done"
    assert Job.objects.get(key__startswith="caps-again").pieces == 1
    status, _ = press("goods_in_consignment", batch.key, **facts)
    assert status in (409, 422)
    assert Event.objects.filter(verb="counted in consignment").count() == 1
