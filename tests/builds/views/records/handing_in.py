"""Handing a sheet in, looking at it and taking it in, as a lead does."""

from __future__ import annotations

from django.core.files.uploadedfile import SimpleUploadedFile
from django.urls import reverse

from builds.models import SheetFile
from tests.builds.views.records.pages import words_of


def hand_in(client, text: str | bytes, name: str = "jobs.csv") -> int:
    data = text if isinstance(text, bytes) else text.encode()
    sent = {"file": SimpleUploadedFile(name, data)}
    answer = client.post(reverse("move_in"), sent)
    assert answer.status_code == 302, words_of(answer)[:3000]
    return SheetFile.objects.latest("pk").pk


def look(client, number: int) -> str:
    return words_of(client.get(reverse("sheet", args=[number])))


def take(client, number: int):
    page = look(client, number)
    mark = page.split('name="mark" value="')[1].split('"')[0]
    sent = {"mark": mark}
    return client.post(reverse("sheet_take", args=[number]), sent, follow=True)
