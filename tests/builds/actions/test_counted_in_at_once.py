"""People who count in the same consignment at the same moment."""

from threading import Barrier, Thread

import pytest
from django.db import connection

from builds.actions.counting import Counted, Return
from builds.actions.errors import Refused
from builds.actions.goods_in import Signature, take_in_consignment
from builds.models import Consignment, Event, Job, User
from tests.factories.job import OutsideJobFactory
from tests.factories.piece import PieceFactory
from tests.factories.workshop import CalendarFactory, WorkshopFactory


@pytest.mark.postgres
@pytest.mark.django_db(transaction=True)
def test_of_eight_who_count_in_at_once_one_wins():
    """On SQLite writers queue; only PostgreSQL lets them meet."""
    if connection.vendor != "postgresql":
        pytest.skip("DATABASE_URL names no PostgreSQL server")
    CalendarFactory()
    WorkshopFactory()
    lead = User.objects.create(username="lena", role="lead")
    job = OutsideJobFactory(
        key="pedals", state="under way", sent="2027-01-04", pieces=7,
        started="2027-01-04T08:00",
    )  # fmt: skip
    piece = PieceFactory(job=job, count=7, state="out", holder="Wrenfold")
    row = Consignment.objects.create(
        key="batch", vendor=job.vendor, left="2027-01-04T08:00"
    )
    row.loads.create(job=job)
    barrier, told = Barrier(8), []

    def count_in(number):
        barrier.wait()
        counted = {piece.key: Counted(good=5)}
        try:
            take_in_consignment(
                by=lead,
                consignment=Consignment.objects.get(),
                version=1,
                returns=[Return(Job.objects.get(), counted)],
                signature=Signature(str(number)),
            )
        except Refused as refused:
            told.append(refused.words)
        finally:
            connection.close()

    threads = [Thread(target=count_in, args=(number,)) for number in range(8)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    job.refresh_from_db()
    assert len(told) == 7
    assert all("after you opened it" in words for words in told)
    assert job.pieces_back == 5
    assert Event.objects.filter(verb="counted in consignment").count() == 1
