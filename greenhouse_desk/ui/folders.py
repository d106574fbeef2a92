"""Where things are kept on this computer: the collection, the window's settings, the log, the picture cache."""

from __future__ import annotations

import logging
from dataclasses import dataclass
from logging.handlers import RotatingFileHandler
from pathlib import Path

import platformdirs

NAME = "greenhouse-desk"
LOG_BYTES = 1_000_000


@dataclass(frozen=True, slots=True)
class Folders:
    """Where things are kept: the collection, this computer's settings, its log, its picture cache."""

    collection: Path
    settings: Path
    log: Path
    cache: Path


def folders(collection: Path | None) -> Folders:
    """The folders in use; the collection's own default where none is named."""
    return Folders(collection or platformdirs.user_data_path(NAME), platformdirs.user_config_path(NAME),
                   platformdirs.user_state_path(NAME), platformdirs.user_cache_path(NAME))


def start_log(folder: Path) -> None:
    """Everything worth knowing afterwards goes to a file; where none can be written, to the terminal."""
    form = "%(asctime)s %(levelname)s %(name)s: %(message)s"
    try:
        folder.mkdir(parents=True, exist_ok=True)
        handler: logging.Handler = RotatingFileHandler(folder / "log.txt", maxBytes=LOG_BYTES, backupCount=2,
                                                       encoding="utf-8")
    except OSError:
        handler = logging.StreamHandler()
    logging.basicConfig(level=logging.INFO, format=form, handlers=[handler])
