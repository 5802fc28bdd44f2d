import factory
from factory.django import DjangoModelFactory

from builds.models import Job, Kind, Link
from tests.factories.build import BuildFactory
from tests.factories.vendor import VendorFactory


class JobFactory(DjangoModelFactory):
    class Meta:
        model = Job
        skip_postgeneration_save = True

    key = factory.Sequence(lambda n: f"job-{n}")
    position = factory.Sequence(lambda n: n)
    title = factory.Sequence(lambda n: f"Job {n}")
    build = factory.SubFactory(BuildFactory)
    likely = 4.0

    @factory.post_generation
    def after(job, create, jobs):
        for before in jobs or ():
            Link.objects.create(job=job, before=before)


class OutsideJobFactory(JobFactory):
    kind = Kind.OUTSIDE
    likely = 5.0
    vendor = factory.SubFactory(VendorFactory)
