"""A browser's own long name of itself, in two words people know."""

from __future__ import annotations

# Looked for in this order: most browsers also call themselves one of those further on.
BROWSERS = {
    "Edg": "Edge",
    "OPR/": "Opera",
    "SamsungBrowser": "Samsung’s browser",
    "Firefox": "Firefox",
    "FxiOS": "Firefox",
    "CriOS": "Chrome",
    "Chrome": "Chrome",
    "Safari": "Safari",
}
DEVICES = {
    "iPhone": "an iPhone",
    "iPad": "an iPad",
    "Android": "Android",
    "Windows": "Windows",
    "Mac OS X": "a Mac",
    "CrOS": "a Chromebook",
    "Linux": "Linux",
}
LONGEST = 70


def device(told: str) -> str:
    """Say `Chrome on Android`; what nobody knows stays as it called itself."""
    browser = next((name for mark, name in BROWSERS.items() if mark in told), "")
    where = next((name for mark, name in DEVICES.items() if mark in told), "")
    if browser and where:
        return f"{browser} on {where}"
    return told if len(told) <= LONGEST else told[:LONGEST] + "…"
