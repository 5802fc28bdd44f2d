"""Five cars and five hundred jobs: a page still asks the database little."""

from builds.actions.demo import load_demo
from builds.models import Build, User
from builds.planning.replan import replan
from tests.conftest import client_of

MOST = 20  # questions to the database for one page


def test_no_page_of_the_lead_asks_more_with_more_jobs(
    db, settings, django_assert_max_num_queries
):
    settings.DEMO = True
    load_demo()
    assert replan().state == "done"
    client = client_of(User.objects.filter(role="lead").first())
    cars = [f"/cars/{build.key}/" for build in Build.objects.all()]
    assert len(cars) == 5
    for url in ("/morning/", "/cars/", *cars):
        with django_assert_max_num_queries(MOST):
            page = client.get(url)
        assert page.status_code == 200
        assert "in 100" in page.content.decode()
