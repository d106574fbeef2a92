"""Photos on disk: looked at before they are let in, rid of their position, then kept unchanged under their SHA-256."""

from __future__ import annotations

import hashlib
import io
import re
import warnings
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from datetime import datetime
from multiprocessing import get_context
from multiprocessing.connection import Connection
from pathlib import Path

from PIL import ExifTags, Image, ImageOps, UnidentifiedImageError

from greenhouse_desk.domain.faults import Refused
from greenhouse_desk.store.disk import disk_refusals, fingerprint, put
from greenhouse_desk.store.photo_rewriting import rewritten, tells_position

FORMATS = ("JPEG", "PNG", "WEBP", "TIFF", "GIF")
MAX_BYTES = 64 * 1024 * 1024
MAX_PIXELS = 80_000_000
MAX_SECONDS = 60.0
JPEG_QUALITY = 85
NAME = re.compile(r"[0-9a-f]{64}\Z")
HEIF_MARK = re.compile(rb"^....ftyp(heic|heix|heim|heis|hevc|hevx|mif1|msf1)", re.DOTALL)


@dataclass(frozen=True, slots=True)
class Picture:
    """A picture that was decoded whole: its bytes, SHA-256, format, size in pixels, file name.

    The bytes are those that came, unless they told a position or are none the window shows: then it was written anew.

    `taken` is the time the camera wrote into it: naive local time, or aware where the camera noted its zone.
    """

    data: bytes
    sha256: str
    format: str
    width: int
    height: int
    name: str
    taken: datetime | None


def path(photos: Path, sha256: str) -> Path:
    """Where the photo with this SHA-256 lies below `photos`. ValueError for anything that is no SHA-256."""
    if not NAME.match(sha256):
        raise ValueError(f"not a SHA-256: {sha256!r}")
    return photos / sha256[:2] / sha256


def keep(photos: Path, picture: Picture) -> None:
    """Write the picture to its place, unless it is there already. Raises Refused when the disk fails."""
    target = path(photos, picture.sha256)
    with disk_refusals("Keeping the photo"):
        if not target.exists():
            put(target, picture.data)


def sound(photos: Path, sha256: str) -> bool:
    """Whether the photo is there and still has the bytes it came with."""
    try:
        return fingerprint(path(photos, sha256)) == sha256
    except OSError:
        return False


def all_kept(photos: Path) -> Iterable[str]:
    """The SHA-256 of every photo file below `photos`."""
    return (file.name for file in sorted(photos.glob("??/*")) if NAME.match(file.name))


def look_at(source: Path) -> Picture:
    """Read and decode the picture file `source` whole, here in this process. Raises Refused, naming the file.

    Not for a thread beside others: it turns a warning of Pillow into an error, which Python does for all threads.
    """
    with disk_refusals("Reading the photo"):
        size = source.stat().st_size
        data = b"" if size > MAX_BYTES else source.read_bytes()
    if size > MAX_BYTES:
        raise Refused("The photo is too large", f"{source.name} has {size / 2**20:.0f} MB, at most "
                      f"{MAX_BYTES / 2**20:.0f} MB are taken.", "Save it smaller and add it again.")
    return examine(data, source.name)


def look_at_apart(sources: Sequence[Path], look: Callable[[Path], Picture] = look_at) -> tuple[Picture | Refused, ...]:
    """As `look` for each file, in another process, so that a file made to harm a decoder fails alone."""
    answers: list[Picture | Refused] = []
    while len(answers) < len(sources):
        answers.extend(_ask(sources[len(answers):], look))
    return tuple(answers)


def _ask(sources: Sequence[Path], look: Callable[[Path], Picture]) -> Iterable[Picture | Refused]:
    """Answers of one process, in order, up to the first file that stops it or keeps it too long."""
    apart = get_context("spawn")
    ours, theirs = apart.Pipe(duplex=False)
    process = apart.Process(target=_work, args=(theirs, list(sources), look), daemon=True)
    process.start()
    theirs.close()
    try:
        for source in sources:
            try:
                answer: Picture | Refused | None = ours.recv() if ours.poll(MAX_SECONDS) else None
            except EOFError:
                answer = None
            yield answer or _broken(source.name, "its decoder stopped or took too long")
            if answer is None:
                return
    finally:
        process.kill()
        process.join()
        process.close()
        ours.close()


def _work(pipe: Connection, sources: Sequence[Path], look: Callable[[Path], Picture]) -> None:
    for source in sources:
        try:
            pipe.send(look(source))
        except Refused as refused:
            pipe.send(refused)


def examine(data: bytes, name: str) -> Picture:
    """Decode the bytes of a picture called `name` whole. Raises Refused when they are none that is let in."""
    try:
        with warnings.catch_warnings(action="error", category=Image.DecompressionBombWarning):
            image = _open(data)
            if image.width * image.height > MAX_PIXELS:
                raise Image.DecompressionBombError(f"{image.width} by {image.height} pixels")
            kind, taken = image.format or "", _taken(image)
            image.load()
            anew = rewritten(image, data)
    except (Image.DecompressionBombError, Image.DecompressionBombWarning) as error:
        raise Refused("The photo has too many pixels", f"{name}: {error}.",
                      "Save it smaller and add it again.") from error
    except UnidentifiedImageError as error:
        raise Refused("This is not a photo", f"{name} is none of {', '.join(FORMATS)}, HEIC.",
                      "Save it as one of these and add it again.") from error
    except (OSError, SyntaxError, ValueError, EOFError) as error:
        raise _broken(name, str(error)) from error
    if anew is not None:
        return _of_anew(anew, name, taken)
    return Picture(data, hashlib.sha256(data).hexdigest(), kind, image.width, image.height, name, taken)


def small(photos: Path, sha256: str, most: int) -> tuple[bytes, int, int] | None:
    """A kept photo for print, upright, at most `most` pixels a side: a JPEG that tells nothing but what it shows, its
    width and height. None where the file is lost or damaged."""
    if not sound(photos, sha256):
        return None
    try:
        with _open(path(photos, sha256).read_bytes()) as image:
            image.draft("RGB", (most, most))
            shown = ImageOps.exif_transpose(image).convert("RGB")
            shown.thumbnail((most, most))
            made = io.BytesIO()
            shown.save(made, "JPEG", quality=JPEG_QUALITY)
    except (OSError, SyntaxError, ValueError, EOFError, Image.DecompressionBombError):
        return None
    return made.getvalue(), shown.width, shown.height


def _of_anew(data: bytes, name: str, taken: datetime | None) -> Picture:
    """The picture that was written anew, looked at again: nothing with a position is ever kept."""
    sha256 = hashlib.sha256(data).hexdigest()
    with _open(data) as image:
        if tells_position(image):
            raise _broken(name, "its position could not be taken out")
        return Picture(data, sha256, image.format or "", image.width, image.height, name, taken)


def _broken(name: str, words: str) -> Refused:
    return Refused("The photo is damaged", f"{name} could not be read to its end: {words}.",
                   "Copy it from the camera again, or choose another.")


def _open(data: bytes) -> Image.Image:
    if HEIF_MARK.match(data):
        import pi_heif  # a door: slow, and few photos need it
        pi_heif.register_heif_opener()
        return Image.open(io.BytesIO(data), formats=("HEIF",))
    return Image.open(io.BytesIO(data), formats=FORMATS)


def _taken(image: Image.Image) -> datetime | None:
    detail = image.getexif().get_ifd(ExifTags.IFD.Exif)
    words = str(detail.get(ExifTags.Base.DateTimeOriginal, "")).strip("\0 ")
    zone = str(detail.get(ExifTags.Base.OffsetTimeOriginal, "")).strip("\0 ")
    for text, shape in ((words + zone, "%Y:%m:%d %H:%M:%S%z"), (words, "%Y:%m:%d %H:%M:%S")):
        try:
            return datetime.strptime(text, shape)  # noqa: DTZ007  the camera may not know its zone
        except ValueError:
            continue
    return None
