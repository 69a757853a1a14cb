"""Photos made fit to keep: upright, no larger than needed, without the place where they were taken."""

from __future__ import annotations

import hashlib
import io
import warnings

from PIL import Image, ImageOps, UnidentifiedImageError

from sillwright.store import Photo
from sillwright.web.faults import Refused
from sillwright.wording import fault

KINDS = {"JPEG": "image/jpeg", "PNG": "image/png", "WEBP": "image/webp"}
LARGEST_SIDE = 2048
SMALL_SIDE = 320
MOST_PIXELS = 60_000_000
"""More than any phone takes; beyond it a small file may unpack to fill the memory."""
_GPS = 0x8825
"""EXIF tag of the position. Source: CIPA DC-008 (EXIF 2.3), table 4 (from memory)."""


def kept_photo(data: bytes, *, job: str, ident: str, keep_position: bool) -> Photo:
    """Return a photo as it is kept: WebP, at most 2048 pixels wide or high, other EXIF left out.

    Raises:  Refused: it is no JPEG, PNG or WebP, or has too many pixels
    """
    with warnings.catch_warnings():
        warnings.simplefilter("error", Image.DecompressionBombWarning)
        try:
            picture = _opened(data)
            exif = _position(picture) if keep_position else None
            upright = ImageOps.exif_transpose(picture).convert("RGB")
        except (UnidentifiedImageError, OSError, SyntaxError, ValueError, EOFError) as error:
            raise Refused(415, fault("photo.kind", "file")) from error
        except (Image.DecompressionBombError, Image.DecompressionBombWarning) as error:
            raise Refused(413, fault("photo.too_many_pixels", "file")) from error
    whole = _written(upright, LARGEST_SIDE, exif=exif)
    return Photo(
        id=ident,
        job=job,
        sha256=hashlib.sha256(whole[0]).hexdigest(),
        sent_sha256=hashlib.sha256(data).hexdigest(),
        width=whole[1][0],
        height=whole[1][1],
        data=whole[0],
        small=_written(upright, SMALL_SIDE)[0],
    )


def _opened(data: bytes) -> Image.Image:
    picture = Image.open(io.BytesIO(data), formats=tuple(KINDS))
    if picture.width * picture.height > MOST_PIXELS:
        raise Image.DecompressionBombError
    picture.load()
    return picture


def _position(picture: Image.Image) -> Image.Exif | None:
    """Return where a photo was taken and nothing else, None where it does not say."""
    found = picture.getexif().get_ifd(_GPS)
    if not found:
        return None
    exif = Image.Exif()
    exif.get_ifd(_GPS).update(found)
    return exif


def _written(
    picture: Image.Image, side: int, *, exif: Image.Exif | None = None
) -> tuple[bytes, tuple[int, int]]:
    smaller = picture.copy()
    smaller.thumbnail((side, side))
    smaller.info.clear()
    out = io.BytesIO()
    smaller.save(out, "WEBP", quality=82, **({} if exif is None else {"exif": exif}))
    return out.getvalue(), smaller.size
