"""Adding what must come first."""

from django.urls import reverse

from builds.models import Link
from tests.assertions import assert_one_event
from tests.builds.views.records.pages import assert_refused_on_the_page, words_of
from tests.factories.job import JobFactory

AFTER = {"kind": "after", "wait": ""}


def address(job):
    return reverse("link_add", args=[job.key])


def test_the_list_can_be_searched_without_script(lead_client, car, other_car):
    weld = JobFactory(key="weld", build=car, title="Weld tank")
    JobFactory(build=car, title="Trial fit tank")
    JobFactory(build=car, title="Paint")
    JobFactory(build=other_car, title="Trial fit loom")
    page = words_of(lead_client.get(address(weld), {"q": "trial tank"}))
    assert "Trial fit tank" in page
    assert "Paint" not in page
    assert "Trial fit loom" not in page
    assert "Trial fit loom" in words_of(lead_client.get(address(weld), {"q": "loom"}))


def test_a_script_gets_the_list_alone(lead_client, car):
    weld = JobFactory(key="weld", build=car)
    JobFactory(build=car, title="Paint")
    response = lead_client.get(
        address(weld), {"q": "pa"}, headers={"HX-Request": "true"}
    )
    page = words_of(response)
    assert "<html" not in page
    assert 'id="found"' in page
    assert "Paint" in page


def test_any_search_is_answered(lead_client, car):
    weld = JobFactory(key="weld", build=car)
    for asked in ("\0", "%_", "x" * 5000, "' OR 1=1", "\u202e"):
        assert lead_client.get(address(weld), {"q": asked}).status_code == 200


def test_a_job_is_put_first_with_a_wait(lead_client, car):
    weld, fit = JobFactory(key="weld", build=car), JobFactory(key="fit", build=car)
    typed = {"before": "fit", "kind": "with", "wait": "1w 24h"}
    with assert_one_event("added link"):
        response = lead_client.post(address(weld), typed)
    link = Link.objects.get()
    assert response["Location"] == address(weld)
    assert (link.before, link.kind) == (fit, "with")
    assert (link.wait_days, link.wait_hours) == (5, 24)


def test_a_ring_is_refused_with_the_loop_in_titles(lead_client, car):
    fit = JobFactory(key="fit", build=car, title="Trial fit")
    weld = JobFactory(key="weld", build=car, title="Weld", after=[fit])
    JobFactory(key="paint", build=car, title="Paint", after=[weld])
    response = lead_client.post(address(fit), AFTER | {"before": "paint"})
    assert_refused_on_the_page(response, "wait for each other in a ring")
    ring = words_of(response).split("in a ring: ")[1].split("</li>")[0]
    assert sorted(set(ring.strip(" .").split(" → "))) == [
        "“Paint”", "“Trial fit”", "“Weld”",
    ]  # fmt: skip
    assert Link.objects.count() == 2


def test_a_job_does_not_wait_for_itself(lead_client, car):
    weld = JobFactory(key="weld", build=car)
    response = lead_client.post(address(weld), AFTER | {"before": "weld"})
    assert response.status_code == 422
    assert not Link.objects.exists()


def test_the_same_press_twice_adds_it_once(lead_client, car):
    weld, _ = JobFactory(key="weld", build=car), JobFactory(key="fit", build=car)
    lead_client.post(address(weld), AFTER | {"before": "fit"})
    again = lead_client.post(address(weld), AFTER | {"before": "fit"})
    assert_refused_on_the_page(again, "already waits for")
    assert Link.objects.count() == 1


def test_a_bad_wait_is_refused(lead_client, car):
    weld, _ = JobFactory(key="weld", build=car), JobFactory(key="fit", build=car)
    response = lead_client.post(
        address(weld), {"before": "fit", "kind": "after", "wait": "3"}
    )
    assert_refused_on_the_page(response, "Write 2d for two working days")
    assert 'value="3"' in words_of(response)


def test_a_job_that_is_gone_is_said(lead_client, car):
    weld = JobFactory(key="weld", build=car)
    for key in ("gone", ""):
        response = lead_client.post(address(weld), AFTER | {"before": key})
        assert response.status_code == 422


def test_a_link_is_taken_away_and_put_back(lead_client, car):
    fit = JobFactory(key="fit", build=car)
    weld = JobFactory(key="weld", build=car, after=[fit])
    weld.links.update(wait_days=1.5, wait_hours=6)
    remove = reverse("link_remove", args=["weld", weld.links.get().pk])
    with assert_one_event("removed link"):
        page = words_of(lead_client.post(remove, follow=True))
    undo = page.split(f'action="{address(weld)}?')[1].split('"')[0]
    assert lead_client.post(remove).status_code == 302, "Is a second press harmless?"
    assert not Link.objects.exists()
    lead_client.post(f"{address(weld)}?{undo}")
    link = Link.objects.get()
    assert (link.before, link.wait_days, link.wait_hours) == (fit, 1.5, 6)


def test_another_jobs_link_is_not_taken_away_here(lead_client, car):
    fit = JobFactory(key="fit", build=car)
    weld = JobFactory(key="weld", build=car, after=[fit])
    lead_client.post(reverse("link_remove", args=["fit", weld.links.get().pk]))
    assert Link.objects.count() == 1
