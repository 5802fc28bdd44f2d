"""What was refused leaves no photograph behind; what was done keeps its own."""

from __future__ import annotations

from pathlib import Path

import pytest
from django.core.files.base import ContentFile

from builds.actions.consignment_leaves import DropOff, send_consignment
from builds.actions.counting import Counted, Return
from builds.actions.errors import Refused
from builds.actions.goods_in import Signature, take_in, take_in_consignment
from builds.actions.pieces import list_piece, move_piece
from builds.models import LinkKind, PieceMove
from tests.factories.job import JobFactory


@pytest.fixture
def photo():
    return ContentFile(b"a picture")


@pytest.fixture
def kept(settings):
    """Return a way to give the photographs that are on the disk."""

    def kept() -> list[str]:
        root = Path(settings.MEDIA_ROOT)
        found = (path for path in root.rglob("*") if path.is_file())
        return sorted(path.relative_to(root).as_posix() for path in found)

    return kept


def named_in_trails() -> list[str]:
    return sorted({str(one.photo) for one in PieceMove.objects.exclude(photo="")})


def counted(job, good: int) -> Return:
    row = job.piece_list.first()
    counts = {row.key if row else "": Counted(good=good)}
    return Return(job=job, counts=counts, version=job.version, accepted=True)


def test_a_piece_that_may_not_move(lena, pedals, photo, kept):
    piece = list_piece(by=lena, job=pedals, name="Gate")
    with pytest.raises(Refused):
        move_piece(
            by=lena, piece=piece, holder="Ana", place="x", note="x" * 4001, photo=photo
        )
    assert kept() == []
    move_piece(by=lena, piece=piece, holder="Ana", place="x", photo=photo)
    assert kept() == named_in_trails() != []


def test_pieces_that_may_not_be_accepted_yet(lena, away, photo, kept):
    """Refused at the very end: it may not finish before something that is open."""
    link = away.links.create(before=JobFactory(build=away.build), kind=LinkKind.BY)
    signature = Signature(signed="Petra", photo=photo)
    with pytest.raises(Refused):
        take_in(by=lena, ret=counted(away, 14), signature=signature)
    assert kept() == []
    link.delete()
    away.refresh_from_db()
    take_in(by=lena, ret=counted(away, 14), signature=signature)
    assert kept() == named_in_trails() != []


def test_a_consignment_of_which_one_job_may_not_leave(lena, batch, caps, photo, kept):
    link = caps.links.create(before=JobFactory(build=caps.build))
    drop_off = DropOff(signed="Tomos", photo=photo)
    with pytest.raises(Refused):
        send_consignment(by=lena, consignment=batch, version=1, drop_off=drop_off)
    assert kept() == []
    link.delete()
    send_consignment(by=lena, consignment=batch, version=1, drop_off=drop_off)
    assert kept() == named_in_trails() != []


def test_a_consignment_of_which_one_job_may_not_be_counted_in(
    lena, batch, pedals, caps, photo, kept
):
    leaving = DropOff(signed="Tomos")
    send_consignment(by=lena, consignment=batch, version=1, drop_off=leaving)
    for job in (pedals, caps):
        job.refresh_from_db()
    batch.refresh_from_db()
    caps.links.create(before=JobFactory(build=caps.build), kind=LinkKind.BY)
    with pytest.raises(Refused):
        take_in_consignment(
            by=lena,
            consignment=batch,
            version=batch.version,
            returns=[counted(pedals, 7), counted(caps, 2)],
            signature=Signature(signed="Petra", photo=photo),
        )
    assert kept() == []
