"""No kept photo tells where it was taken; the time stays, and what tells no position is kept byte for byte."""

from __future__ import annotations

import io
from datetime import datetime
from pathlib import Path

import pytest
from PIL import ExifTags, Image, ImageChops, PngImagePlugin

from greenhouse_desk.domain.faults import Refused
from greenhouse_desk.store import photos
from greenhouse_desk.store.photo_rewriting import tells_position

PHONE = Path(__file__).with_name("phone.heic")
"""Left half red, right half green, 64 by 48, with a time and a position: drawn by Pillow, encoded by heif-enc."""
TAKEN = "2026:05:01 18:20:30"
XMP = b'<x:xmpmeta xmlns:x="adobe:ns:meta/"><rdf exif:GPSLatitude="51,28.6N"/></x:xmpmeta>'


def halves() -> Image.Image:
    """Left half red, right half green."""
    image = Image.new("RGB", (64, 48), (90, 140, 70))
    image.paste((200, 60, 60), (0, 0, 32, 48))
    return image


def placed(kind: str, **more: object) -> bytes:
    """A picture that tells time, camera's way of holding it, and a position."""
    exif = Image.Exif()
    exif[ExifTags.Base.Orientation] = 6
    exif.get_ifd(ExifTags.IFD.Exif)[ExifTags.Base.DateTimeOriginal] = TAKEN
    exif.get_ifd(ExifTags.IFD.GPSInfo).update({1: "N", 2: (51.0, 28.0, 40.0), 3: "E", 4: (0.0, 0.0, 5.0)})
    out = io.BytesIO()
    halves().save(out, kind if kind != "TIFF" else "JPEG", exif=exif, **more)
    if kind == "TIFF":  # Pillow writes the position of a TIFF only from EXIF it has read
        with Image.open(io.BytesIO(out.getvalue())) as read:
            out = io.BytesIO()
            halves().save(out, kind, exif=read.getexif())
    return out.getvalue()


@pytest.mark.parametrize("kind", ["JPEG", "PNG", "WEBP", "TIFF"])
def test_the_position_goes_and_time_and_turn_stay(kind: str) -> None:
    data = placed(kind)
    with Image.open(io.BytesIO(data)) as before:
        assert tells_position(before)
    kept = photos.examine(data, "shot")
    assert kept.data != data
    assert (kept.format, kept.taken) == (kind, datetime(2026, 5, 1, 18, 20, 30))  # noqa: DTZ001  no zone was noted
    with Image.open(io.BytesIO(kept.data)) as image:
        exif = image.getexif()
        assert not tells_position(image)
        assert kind == "TIFF" or exif[ExifTags.Base.Orientation] == 6, "a TIFF is turned while it is read"
        assert exif.get_ifd(ExifTags.IFD.Exif)[ExifTags.Base.DateTimeOriginal] == TAKEN
    assert photos.examine(kept.data, "again").data == kept.data


@pytest.mark.parametrize("kind", ["JPEG", "WEBP", "PNG"])
def test_a_position_told_as_xmp_goes_too(kind: str) -> None:
    out = io.BytesIO()
    if kind == "PNG":
        told = PngImagePlugin.PngInfo()
        told.add_itxt("XML:com.adobe.xmp", XMP.decode())
        halves().save(out, kind, pnginfo=told)
    else:
        halves().save(out, kind, xmp=XMP)
    assert b"GPSLatitude" in out.getvalue()
    assert b"GPS" not in photos.examine(out.getvalue(), "shot").data


@pytest.mark.parametrize("progressive", [False, True])
def test_the_picture_data_of_a_jpeg_stay_bit_by_bit(progressive: bool) -> None:
    data = placed("JPEG", quality=80, progressive=progressive, xmp=XMP)
    kept = photos.examine(data, "shot").data
    assert kept[kept.index(b"\xff\xda"):] == data[data.index(b"\xff\xda"):]
    assert b"GPS" not in kept
    with Image.open(io.BytesIO(data)) as before, Image.open(io.BytesIO(kept)) as after:
        assert ImageChops.difference(before, after).getbbox() is None


def test_what_hangs_on_behind_a_jpeg_is_not_taken_along() -> None:
    """A moving picture behind the still one may tell the position too."""
    assert b"film" not in photos.examine(placed("JPEG") + b"film", "shot").data


def test_of_several_pictures_in_one_file_the_first_is_kept() -> None:
    out = io.BytesIO()
    halves().save(out, "MPO", save_all=True, append_images=[halves()])
    kept = photos.examine(out.getvalue(), "shot")
    assert (kept.format, kept.width) == ("JPEG", 64)


def test_heic_becomes_a_picture_the_window_shows_without_its_position() -> None:
    kept = photos.examine(PHONE.read_bytes(), "phone.heic")
    assert (kept.format, kept.width, kept.height) == ("JPEG", 64, 48)
    assert kept.taken == datetime(2026, 5, 1, 18, 20, 30)  # noqa: DTZ001  no zone was noted
    with Image.open(io.BytesIO(kept.data)) as image:
        apart = ImageChops.difference(image.convert("RGB").resize((2, 1), Image.Resampling.BOX),
                                      halves().resize((2, 1), Image.Resampling.BOX)).getextrema()
        assert not tells_position(image)
    assert max(high for _, high in apart) <= 6  # type: ignore[misc]  # three bands


def test_a_cut_off_heic_is_refused() -> None:
    with pytest.raises(Refused):
        photos.examine(PHONE.read_bytes()[:-80], "phone.heic")


def test_a_position_that_stays_is_refused(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(photos, "rewritten", lambda _image, _data: placed("PNG"))
    with pytest.raises(Refused, match="position could not be taken out"):
        photos.examine(placed("JPEG"), "shot")
