"""A piece's page, its photographs, and the list of a job's pieces."""

from io import BytesIO

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.test import Client
from django.urls import reverse
from PIL import Image

from builds.actions.pieces import list_piece
from builds.models import Job, PieceMove
from tests.conftest import client_of


@pytest.fixture
def gate(lena, pedals):
    return list_piece(by=lena, job=pedals, name="Gear gate")


def picture(kind="JPEG", size=(40, 30), **facts):
    out = BytesIO()
    Image.new("RGB", size, "red").save(out, kind, **facts)
    return out.getvalue()


def sent(data, name="photo.jpg"):
    return SimpleUploadedFile(name, data, content_type="image/jpeg")


def moved(press, gate, photo):
    return press(
        "piece", gate.key, holder="Nkechi", place="panel bay", signed="Nkechi",
        photo=photo,
    )  # fmt: skip


def test_the_trail_says_from_whom_to_whom(press, gate):
    status, page = moved(press, gate, "")
    assert status == 302
    words = " ".join(page.split())
    assert "From Test workshop to Nkechi: panel bay." in words
    assert "signed for by Nkechi" in words


def test_the_code_of_a_label_survives_signing_in(gate, tom):
    tom.set_password("a long enough word")
    tom.save()
    client = Client()
    where = reverse("piece", args=[gate.key])
    asked = client.get(where)
    assert asked.status_code == 302
    data = {"login": "tom", "password": "a long enough word", "next": where}
    assert client.post(asked["Location"], data)["Location"] == where
    assert client.get(where).status_code == 200


def test_a_photograph_is_written_anew_without_where_it_was_taken(
    press, gate, lead_client
):
    """EXIF is tag 0x8825 for the place (Exif 2.3); none of it is kept."""
    exif = Image.Exif()
    exif[0x010F] = "A telephone"
    exif.get_ifd(0x8825)[1] = "N"
    data = picture(exif=exif.tobytes(), size=(4000, 3000))
    moved(press, gate, sent(data, "../../x.jpg"))
    move = PieceMove.objects.exclude(photo="").get()
    assert move.photo.name.startswith("pieces/")
    where = reverse("piece_photo", args=[gate.key, move.pk])
    answer = lead_client.get(where)
    assert answer["X-Content-Type-Options"] == "nosniff"
    assert "sandbox" in answer["Content-Security-Policy"]
    with Image.open(BytesIO(answer.content)) as kept:
        assert (kept.format, kept.size) == ("JPEG", (1600, 1200))
        assert not dict(kept.getexif())


def test_nobody_else_sees_a_photograph(press, gate, carla):
    moved(press, gate, sent(picture()))
    move = PieceMove.objects.exclude(photo="").get()
    where = reverse("piece_photo", args=[gate.key, move.pk])
    assert client_of(carla).get(where).status_code == 403
    assert Client().get(where).status_code == 302


@pytest.mark.parametrize(
    "data",
    [
        b"<svg xmlns='http://www.w3.org/2000/svg'><script>1</script></svg>",
        b"<html>not a picture</html>",
        picture()[:200],
        picture("GIF"),
        b"",
    ],
)
def test_what_is_no_photograph_is_refused_in_words(press, gate, data):
    status, page = moved(press, gate, sent(data))
    assert status == 422
    assert "photograph" in page or "empty" in page
    assert not PieceMove.objects.exclude(photo="").exists()


def test_a_picture_that_would_fill_the_memory_is_refused(press, gate):
    """A small file of 9,000 by 9,000 points of one colour."""
    data = picture("PNG", size=(9000, 9000))
    status, page = moved(press, gate, sent(data))
    assert status == 422
    assert "too large" in page


def test_pieces_are_put_on_the_list_and_taken_off(press, look, pedals):
    status, page = press("job_pieces", "pedals", name="Pedal pad", count="2")
    assert status == 302
    assert "“Pedal pad” is on the list." in page
    row = Job.objects.get(key="pedals").piece_list.get(name="Pedal pad")
    status, page = press("piece_strike", row.key)
    assert "is off the list" in page
    assert Job.objects.get(key="pedals").pieces == 5


def test_a_name_is_needed(press, pedals):
    status, page = press("job_pieces", "pedals", name="  ", count="1")
    assert status == 422
    assert "Fill this in." in page
