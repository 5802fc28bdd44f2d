"""What is said when something went wrong: what became of what was typed, what now."""

from __future__ import annotations

from typing import NamedTuple


class Words(NamedTuple):
    """A heading, what became of what was sent, and what to do."""

    title: str
    lede: str
    then: str


AGAIN = "Go back: most browsers still hold what you typed. Sent twice, it counts once."
KEEP = "Go back and copy what you typed, load that page again, and send it once more."

WORDS = {
    400: Words(
        "That could not be read",
        "What arrived was not whole, or not meant for this site. Nothing was saved.",
        "Go back, load the page again and send it once more.",
    ),
    403: Words(
        "This page is not yours to open",
        "It belongs to somebody else’s work. Nothing was changed.",
        "If it should be yours, ask the lead.",
    ),
    404: Words(
        "There is nothing at this address",
        "It may have been taken out, or the link may be old. Nothing was changed.",
        "Look for it from your own page.",
    ),
    405: Words(
        "This address is for a button, not for looking",
        "Nothing was changed.",
        "Open the page the button stands on.",
    ),
    409: Words(
        "Somebody else was quicker",
        "What you sent does not fit what is there now. Nothing of it was saved.",
        KEEP,
    ),
    413: Words(
        "That is too much at once",
        "What you sent is larger than what is taken here. Nothing was saved.",
        "Send a smaller file, or fewer words.",
    ),
    429: Words(
        "That was too often in a short time",
        "This one was not done. What you sent before it is kept.",
        "Wait a minute and try again.",
    ),
    500: Words(
        "Something went wrong here",
        "The fault is ours, not yours. What you last sent was not saved.",
        "Go back and look before you send it again. If it happens twice, tell whoever"
        " looks after this machine the code below.",
    ),
    503: Words(
        "The workshop’s machine cannot answer just now",
        "What you last sent was not saved. What was saved before is safe.",
        f"Wait half a minute. {AGAIN}",
    ),
}
STALE = Words(
    "This page had been open for too long",
    "To be safe, what you sent was not taken. Nothing was saved.",
    KEEP,
)
FULL = Words(
    "The disk of the workshop’s machine is full",
    "What you last sent was not saved. All that was saved before can still be read.",
    f"Tell whoever looks after this machine. {AGAIN}",
)
