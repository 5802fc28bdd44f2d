"""A photograph: decoded and written anew, so nothing but the picture is kept."""

from __future__ import annotations

import warnings
from io import BytesIO
from typing import Any

from django import forms
from django.core.exceptions import ValidationError
from django.core.files.base import ContentFile
from PIL import Image, ImageOps

MOST_BYTES = 15 * 1024 * 1024
MOST_PIXELS = 50_000_000
LONGEST_SIDE = 1600
FORMATS = ("JPEG", "PNG", "WEBP")
ACCEPT = "image/jpeg,image/png,image/webp"
NOT_A_PHOTO = "This cannot be read as a photograph. Send a JPEG, PNG or WebP picture."
TOO_LARGE = "This picture is too large. Send one of 15 MB or less."


class PhotoField(forms.FileField):
    """A photograph, or none; what comes out is a new JPEG, and only the picture."""

    def __init__(self, **kwargs: Any) -> None:
        kwargs.setdefault("required", False)
        kwargs.setdefault("widget", forms.FileInput(attrs={"accept": ACCEPT}))
        super().__init__(**kwargs)

    def clean(self, data: Any, initial: Any = None) -> Any:
        """Give the picture written anew, or None."""
        file = super().clean(data, initial)
        if not file:
            return None
        if file.size > MOST_BYTES:
            raise ValidationError(TOO_LARGE)
        return ContentFile(_written_anew(file.read()))


def _written_anew(data: bytes) -> bytes:
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("error", Image.DecompressionBombWarning)
            with Image.open(BytesIO(data), formats=FORMATS) as picture:
                return _as_jpeg(picture)
    except ValidationError:
        raise
    except (Image.DecompressionBombWarning, Image.DecompressionBombError) as error:
        raise ValidationError(TOO_LARGE) from error
    except Exception as error:  # bytes made to be wrong may break a decoder anyhow
        raise ValidationError(NOT_A_PHOTO) from error


def _as_jpeg(picture: Image.Image) -> bytes:
    if picture.width * picture.height > MOST_PIXELS:
        raise ValidationError(TOO_LARGE)
    upright = ImageOps.exif_transpose(picture).convert("RGB")
    upright.thumbnail((LONGEST_SIDE, LONGEST_SIDE))
    out = BytesIO()
    upright.save(out, "JPEG", quality=85, optimize=True)
    return out.getvalue()
