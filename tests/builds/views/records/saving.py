"""Opening a form and saving it, as one of two people does."""

from __future__ import annotations

from tests.builds.views.records.pages import words_of


def typed(client, where: str) -> dict[str, str]:
    form = client.get(where).context["form"]
    sent = {}
    for name, field in form.fields.items():
        value = field.prepare_value(form[name].value())
        if value not in (None, False):
            sent[name] = str(value)
    return sent


def save(client, where: str, sent: dict[str, str], status: int) -> str:
    answer = client.post(where, sent)
    assert answer.status_code == status, words_of(answer)
    return words_of(answer)


def hidden(words: str, name: str) -> str:
    return words.split(f'name="{name}" value="')[1].split('"')[0]
