"""Pictures that are not kept as they came: those that tell where they were taken, and those the window cannot show."""

from __future__ import annotations

import io
from typing import Any

from PIL import ExifTags, Image

SHOWN_AS_THEY_ARE = {"JPEG", "PNG", "WEBP", "TIFF", "GIF"}
"""What the window can show; of several pictures in one JPEG the first is kept, HEIC as JPEG."""
QUALITY = 95
XMP_KEYS = ("xmp", "XML:com.adobe.xmp")
TIFF_XMP = 700
APP1, START_OF_SCAN, END_OF_JPEG = b"\xff\xe1", b"\xff\xda", b"\xff\xd9"


def tells_position(image: Image.Image) -> bool:
    """Whether a picture says where it was taken: in EXIF, or as XMP."""
    spoken = [image.info.get(key, b"") for key in XMP_KEYS]
    return bool(image.getexif().get_ifd(ExifTags.IFD.GPSInfo)) or any("GPS" in _text(words) for words in spoken)


def rewritten(image: Image.Image, data: bytes) -> bytes | None:
    """The loaded picture anew, without its position and in a format the window shows; None when it may stay as it is.

    `data` are the bytes it came as. Time, camera and turn stay; a JPEG's picture data too, bit by bit. Raises OSError
    or ValueError when it cannot be written.
    """
    kind = image.format if image.format in SHOWN_AS_THEY_ARE else "JPEG"
    if kind == image.format and not tells_position(image):
        return None
    exif = image.getexif()
    for tag in (ExifTags.IFD.GPSInfo, TIFF_XMP):
        if tag in exif:
            del exif[tag]
    if kind == image.format == "JPEG" and data.endswith(END_OF_JPEG):
        return _other_exif(data, exif.tobytes())
    told: dict[str, Any] = {"exif": exif, "icc_profile": image.info.get("icc_profile")}
    if kind in ("JPEG", "WEBP"):
        told["quality"] = QUALITY
    out = io.BytesIO()
    (image.convert("RGB") if kind == "JPEG" else image).save(out, kind, **told)
    return out.getvalue()


def _other_exif(data: bytes, exif: bytes) -> bytes:
    """A JPEG with this EXIF in the place of its own, and without XMP: both stand in segments before the picture."""
    kept, at = [data[:2], APP1, (len(exif) + 2).to_bytes(2, "big"), exif], 2
    while data[at:at + 2] != START_OF_SCAN and data[at:at + 1] == b"\xff":
        end = at + 2 + int.from_bytes(data[at + 2:at + 4], "big")
        if data[at:at + 2] != APP1:
            kept.append(data[at:end])
        at = end
    return b"".join((*kept, data[at:]))


def _text(words: object) -> str:
    return words.decode("utf-8", "replace") if isinstance(words, bytes) else str(words)
