"""Photos: let in only when they decode whole, kept byte for byte, and never half written."""

from __future__ import annotations

import hashlib
import io
import os
import zlib
from collections.abc import Callable
from datetime import datetime, timedelta, timezone
from pathlib import Path
from struct import pack

import pi_heif
import pytest
from PIL import ExifTags, Image

from greenhouse_desk.domain.faults import Refused
from greenhouse_desk.store import photos


def picture(kind: str = "JPEG", taken: str = "", zone: str = "") -> bytes:
    image = Image.linear_gradient("L").convert("RGB").resize((60, 40))
    exif = Image.Exif()
    if taken:
        exif.get_ifd(ExifTags.IFD.Exif)[ExifTags.Base.DateTimeOriginal] = taken
    if zone:
        exif.get_ifd(ExifTags.IFD.Exif)[ExifTags.Base.OffsetTimeOriginal] = zone
    out = io.BytesIO()
    image.save(out, kind, **({"exif": exif} if taken else {}))
    return out.getvalue()


def huge_png(side: int) -> bytes:
    """A PNG of a few bytes that would fill the memory: its header alone promises `side` by `side` pixels."""
    def chunk(name: bytes, data: bytes) -> bytes:
        return pack(">I", len(data)) + name + data + pack(">I", zlib.crc32(name + data))
    head = pack(">IIBBBBB", side, side, 8, 0, 0, 0, 0)
    return b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", head) + chunk(b"IDAT", zlib.compress(b"\0")) + chunk(b"IEND", b"")


@pytest.mark.parametrize("kind", photos.FORMATS)
def test_each_allowed_format_is_kept_byte_for_byte(tmp_path: Path, kind: str) -> None:
    data = picture(kind)
    (tmp_path / "shot").write_bytes(data)
    found = photos.look_at(tmp_path / "shot")
    assert (found.format, found.width, found.height, found.name) == (kind, 60, 40, "shot")
    photos.keep(tmp_path / "photos", found)
    at = photos.path(tmp_path / "photos", hashlib.sha256(data).hexdigest())
    assert at.read_bytes() == data
    assert list(photos.all_kept(tmp_path / "photos")) == [found.sha256]


def test_formats_that_are_not_let_in_are_refused_by_name() -> None:
    for kind in ("EPS", "BMP", "PPM"):
        with pytest.raises(Refused, match="not a photo") as caught:
            photos.examine(picture(kind), "shot.x")
        assert "shot.x" in caught.value.detail
    for data in (b"", b"%PDF-1.7", b"<svg/>", b"8BPS" + bytes(100)):
        with pytest.raises(Refused):
            photos.examine(data, "shot.x")


@pytest.mark.parametrize("kind", ["JPEG", "PNG", "WEBP", "TIFF"])
def test_a_cut_off_file_is_refused(kind: str) -> None:
    with pytest.raises(Refused):
        photos.examine(picture(kind)[:-200], "cut.x")


def test_a_picture_of_too_many_pixels_is_refused_before_it_is_decoded() -> None:
    for side in (9_000, 12_000, 60_000):
        with pytest.raises(Refused, match="too many pixels"):
            photos.examine(huge_png(side), "bomb.png")


def test_a_file_that_is_too_large_is_not_even_read(tmp_path: Path) -> None:
    with (tmp_path / "big.jpg").open("wb") as file:
        file.truncate(photos.MAX_BYTES + 1)
    with pytest.raises(Refused, match="too large"):
        photos.look_at(tmp_path / "big.jpg")


def test_a_file_that_is_not_there_is_refused(tmp_path: Path) -> None:
    with pytest.raises(Refused, match="Reading the photo failed"):
        photos.look_at(tmp_path / "none.jpg")


@pytest.mark.parametrize(("taken", "zone", "expected"), [
    ("2026:05:01 18:20:30", "", datetime(2026, 5, 1, 18, 20, 30)),  # noqa: DTZ001  a camera without a zone
    ("2026:05:01 18:20:30", "+02:00", datetime(2026, 5, 1, 18, 20, 30, tzinfo=timezone(timedelta(hours=2)))),
    ("0000:00:00 00:00:00", "", None), ("yesterday", "", None), ("", "", None)])
def test_the_time_the_camera_wrote_is_read(taken: str, zone: str, expected: datetime | None) -> None:
    assert photos.examine(picture("JPEG", taken, zone), "x").taken == expected


def test_heic_goes_through_its_own_door(monkeypatch: pytest.MonkeyPatch) -> None:
    """The decoder cannot write HEIC, so a file that only claims to be one must reach it and be refused by it."""
    asked: list[bool] = []
    register = pi_heif.register_heif_opener

    def count() -> None:
        asked.append(True)
        register()

    monkeypatch.setattr(pi_heif, "register_heif_opener", count)
    with pytest.raises(Refused):
        photos.examine(b"\0\0\0\x18ftypheic" + bytes(200), "phone.heic")
    assert asked == [True]
    photos.examine(picture(), "phone.jpg")
    assert asked == [True]


def test_keeping_a_photo_again_writes_nothing(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    found = photos.examine(picture(), "x")
    photos.keep(tmp_path, found)
    monkeypatch.setattr(os, "replace", _no_space)
    photos.keep(tmp_path, found)


def test_a_full_disk_leaves_no_half_photo(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(os, "fsync", _no_space)
    with pytest.raises(Refused, match="Keeping the photo failed") as caught:
        photos.keep(tmp_path, photos.examine(picture(), "x"))
    assert "There is no room left for" in caught.value.detail
    assert [path for path in tmp_path.rglob("*") if path.is_file()] == []


def test_only_a_sha256_names_a_photo(tmp_path: Path) -> None:
    for odd in ("../../etc/passwd", "", "A" * 64, "0" * 63, "0" * 64 + "\n"):
        with pytest.raises(ValueError, match="not a SHA-256"):
            photos.path(tmp_path, odd)


def test_damage_to_a_kept_photo_is_seen(tmp_path: Path) -> None:
    found = photos.examine(picture(), "x")
    photos.keep(tmp_path, found)
    assert photos.sound(tmp_path, found.sha256)
    photos.path(tmp_path, found.sha256).write_bytes(b"x")
    assert not photos.sound(tmp_path, found.sha256)
    assert not photos.sound(tmp_path, "0" * 64)


def stop_at_bad(source: Path) -> photos.Picture:
    """As look_at, but the whole process dies at a file called bad, as a broken decoder would make it."""
    if source.name == "bad":
        os._exit(139)
    return photos.look_at(source)


@pytest.mark.parametrize("look", [stop_at_bad])
def test_a_file_that_kills_its_decoder_fails_alone(tmp_path: Path, look: Callable[[Path], photos.Picture]) -> None:
    for name, data in (("one", picture()), ("text", b"words"), ("bad", b""), ("two", picture("PNG"))):
        (tmp_path / name).write_bytes(data)
    one, words, bad, two = photos.look_at_apart([tmp_path / name for name in ("one", "text", "bad", "two")], look)
    assert isinstance(one, photos.Picture)
    assert one.data == picture()
    assert isinstance(words, Refused)
    assert words.title == "This is not a photo"
    assert isinstance(bad, Refused)
    assert bad.detail.startswith("bad could not be read")
    assert isinstance(two, photos.Picture)
    assert two.format == "PNG"


def _no_space(*_: object) -> None:
    raise OSError(28, "No space left on device")
