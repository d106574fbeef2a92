"""Which real key, pedal or button does which of the five deeds; a grower may bind them anew."""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from pathlib import Path

import tomli_w
from PySide6.QtCore import Qt
from PySide6.QtGui import QKeySequence

from greenhouse_desk.domain.bench import Key
from greenhouse_desk.domain.faults import Refused
from greenhouse_desk.services import files

Bindings = dict[Key, tuple[Qt.Key, ...]]
K = Qt.Key
DEFAULT: Bindings = {
    Key.NEXT: (K.Key_Space, K.Key_PageDown),
    Key.SOAK: (K.Key_S, K.Key_PageUp),
    Key.BACK: (K.Key_B,),
    Key.NOTE: (K.Key_N,),
    Key.UNDO: (K.Key_U,),
}
TAKEN = {K.Key_Escape, K.Key_Return, K.Key_Enter, K.Key_Backspace, *range(K.Key_0, K.Key_9 + 1)}
BESIDE = {K.Key_Shift, K.Key_Control, K.Key_Alt, K.Key_AltGr, K.Key_Meta, K.Key_Super_L, K.Key_Super_R, K.Key_CapsLock,
          K.Key_NumLock, K.Key_ScrollLock, K.Key_Dead_Acute, K.Key_Dead_Circumflex, K.Key_Dead_Grave,
          K.Key_Dead_Diaeresis, K.Key_unknown}
"""Keys that are pressed for the sake of another, or that tell nothing: while a note is typed they would act on it."""


def name_of(key: Qt.Key) -> str:
    """What is written on the key."""
    short = {K.Key_PageDown: "Page Down", K.Key_PageUp: "Page Up"}
    return short.get(key) or QKeySequence(key).toString(QKeySequence.SequenceFormat.PortableText)


class KeyMap:
    """Bindings of real keys to deeds. The first key bound is the one drawn on the key cap."""

    def __init__(self, bindings: Bindings | None = None) -> None:
        self.bindings = dict(bindings or DEFAULT)
        self._deeds = {key: deed for deed, keys in self.bindings.items() for key in keys}

    def deed(self, key: int) -> Key | None:
        """What the real key does, None when it is bound to nothing."""
        return next((deed for bound, deed in self._deeds.items() if bound == key), None)

    def cap(self, deed: Key) -> str:
        """What stands on the drawn key cap."""
        return name_of(self.bindings[deed][0])

    def bound(self, deed: Key, key: Qt.Key) -> KeyMap:
        """The same map with `key` bound to `deed` in front; Refused when the key is spoken for."""
        if key in BESIDE:
            raise Refused("That key cannot be bound", "It goes with other keys, or has no name of its own.",
                          "Press another key or pedal.")
        name = name_of(key)
        if key in TAKEN:
            raise Refused(f"{name} cannot be bound", "Digits, Enter, Backspace and Esc have their own work.",
                          "Press another key or pedal.")
        if self._deeds.get(key, deed) is not deed:
            raise Refused(f"{name} is bound already", f"It does “{self._deeds[key].value}”.",
                          "Press another key, or bind that one anew first.")
        rest = tuple(other for other in self.bindings[deed] if other != key)
        return KeyMap({**self.bindings, deed: (key, *rest)})


def read(path: Path) -> tuple[KeyMap, str]:
    """The bindings kept in `path`, and words on what is wrong with it ("" when nothing); the defaults without it."""
    if not path.exists():
        return KeyMap(), ""
    try:
        data = tomllib.loads(path.read_text("utf-8"))
        return KeyMap(_bindings(data)), ""
    except (tomllib.TOMLDecodeError, UnicodeDecodeError, ValueError) as error:
        return KeyMap(), f"{path} is set aside, the usual keys are used: {error}"


def write(path: Path, keys: KeyMap) -> None:
    """Keep the bindings in `path`, whole or not at all."""
    kept = {deed.value: [QKeySequence(key).toString(QKeySequence.SequenceFormat.PortableText) for key in bound]
            for deed, bound in keys.bindings.items()}
    files.put(path, tomli_w.dumps(kept).encode())


def _bindings(data: Mapping[str, object]) -> Bindings:
    found: Bindings = {}
    seen: dict[Qt.Key, Key] = {}
    for deed in Key:
        names = data.get(deed.value)
        if not isinstance(names, list) or not names:
            raise ValueError(f"{deed.value}: a list of keys was expected")
        found[deed] = tuple(_key(deed.value, name) for name in names)
        for key in found[deed]:
            if seen.setdefault(key, deed) is not deed:
                raise ValueError(f"{deed.value}: a key is bound twice")
    return found


def _key(where: str, name: object) -> Qt.Key:
    sequence = QKeySequence.fromString(str(name), QKeySequence.SequenceFormat.PortableText)
    key = sequence[0].key() if sequence.count() == 1 else K.Key_unknown  # type: ignore[index]  # the stubs lack it
    if key in (*BESIDE, *TAKEN):
        raise ValueError(f"{where}: {name!r} is not a key that can be bound")
    return Qt.Key(key)
