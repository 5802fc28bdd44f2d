"""What was written down stays as it was written."""

import pytest
from django.core.exceptions import ObjectDoesNotExist

from builds.models import Event
from tests.factories.job import JobFactory

pytestmark = pytest.mark.django_db


@pytest.fixture
def event():
    return Event.objects.create(verb="started job", subject="Weld tank")


def test_it_is_not_saved_again(event):
    event.subject = "Something else"
    with pytest.raises(TypeError):
        event.save()


def test_it_is_not_deleted(event):
    with pytest.raises(TypeError):
        event.delete()


def test_no_set_of_them_is_changed_or_deleted(event):
    with pytest.raises(TypeError):
        Event.objects.update(subject="Something else")
    with pytest.raises(TypeError):
        Event.objects.filter(pk=event.pk).delete()
    assert Event.objects.get().subject == "Weld tank"


def test_it_outlives_its_job():
    job = JobFactory(title="Weld tank")
    event = Event.objects.create(verb="started job", subject=str(job), job=job)
    job.delete()
    event.refresh_from_db()
    assert (event.job, event.subject) == (None, "Weld tank")
    with pytest.raises(ObjectDoesNotExist):
        job.refresh_from_db()
