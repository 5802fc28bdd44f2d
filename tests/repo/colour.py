"""Colour as seen: contrast, CIELAB, and the three kinds of colour blindness."""

from __future__ import annotations

Colour = tuple[float, float, float]

# Machado, Oliveira and Fernandes, "A Physiologically-based Model for Simulation of
# Color Vision Deficiency", IEEE TVCG 15(6), 2009: the matrices at severity 1.0.
VISIONS: dict[str, tuple[Colour, Colour, Colour]] = {
    "normal": ((1, 0, 0), (0, 1, 0), (0, 0, 1)),
    "protan": (
        (0.152286, 1.052583, -0.204868),
        (0.114503, 0.786281, 0.099216),
        (-0.003882, -0.048116, 1.051998),
    ),
    "deutan": (
        (0.367322, 0.860646, -0.227968),
        (0.280085, 0.672501, 0.047413),
        (-0.011820, 0.042940, 0.968881),
    ),
    "tritan": (
        (1.255528, -0.076749, -0.178779),
        (-0.078411, 0.930809, 0.147602),
        (0.004733, 0.691367, 0.303900),
    ),
}
# sRGB to XYZ and the D65 white: IEC 61966-2-1.
TO_XYZ = (
    (0.4124564, 0.3575761, 0.1804375),
    (0.2126729, 0.7151522, 0.0721750),
    (0.0193339, 0.1191920, 0.9503041),
)
WHITE = (0.95047, 1.0, 1.08883)


def linear(text: str) -> Colour:
    parts = (int(text[at : at + 2], 16) / 255 for at in (1, 3, 5))
    red, green, blue = (
        part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4
        for part in parts
    )
    return red, green, blue


def through(matrix: tuple[Colour, ...], colour: Colour) -> Colour:
    a, b, c = (
        sum(m * part for m, part in zip(row, colour, strict=True)) for row in matrix
    )
    return a, b, c


def contrast(one: str, other: str) -> float:
    """Give the ratio of WCAG 2.2, "contrast ratio"."""
    low, high = sorted(through(TO_XYZ, linear(text))[1] for text in (one, other))
    return (high + 0.05) / (low + 0.05)


def lab(colour: Colour) -> Colour:
    def root(share: float) -> float:
        return (
            share ** (1 / 3) if share > 216 / 24389 else (24389 / 27 * share + 16) / 116
        )

    xyz = through(TO_XYZ, colour)
    x, y, z = (root(part / white) for part, white in zip(xyz, WHITE, strict=True))
    return 116 * y - 16, 500 * (x - y), 200 * (y - z)


def distance(one: str, other: str, vision: str) -> float:
    """Give the CIE76 difference of two colours as this eye sees them."""
    seen = []
    for text in (one, other):
        mixed = through(VISIONS[vision], linear(text))
        red, green, blue = (min(1.0, max(0.0, part)) for part in mixed)
        seen.append(lab((red, green, blue)))
    return sum((a - b) ** 2 for a, b in zip(*seen, strict=True)) ** 0.5
