"""The last act on a job that still stands, and who may take it back."""

from __future__ import annotations

from builds.models import Event, Job, Role, User

# Acts that are not taken back, and what to do instead.
STAYS = {
    "created job": "A job that was added stays. Leave it out of the plan instead.",
    "set links": "A sheet said what comes first. Add links or take them away here.",
    "refused date": "It stays refused. Take down the right date instead.",
    "robbed part": "The part is in the other car. Rob it back instead.",
    "owed part": "The part is gone to the other car. Rob it back instead.",
    "added way": "Take the way away again instead.",
    "removed way": "Add the way again instead.",
    "listed piece": "A piece that was listed by mistake is taken off its list.",
    "struck piece": "Put it on the list again.",
    "recorded promise": "A date that was given is kept. Take down the right one.",
}


def last_act(job: Job) -> Event | None:
    """Give the newest act that changed a job's rows and is not taken back."""
    acts = Event.objects.filter(job=job, undoes=None, undone=None)
    return acts.exclude(verb="reported trouble").select_related("by").first()


def act_to_undo(by: User, job: Job) -> Event | None:
    """Give the last act if they may take it back: their own, and the lead anybody's."""
    event = last_act(job)
    if event is None or event.verb in STAYS:
        return None
    return event if by.role == Role.LEAD or event.by_id == by.pk else None
