"""Where the keyboard goes: into a page that comes to the front, to where it last was there."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication, QWidget


def lead_into(page: QWidget) -> None:
    """Put the keyboard into `page`, where it last was or on its first control; nothing where it is there already."""
    at = QApplication.focusWidget()
    if at is not None and page.isAncestorOf(at) and _takes_keys(at):
        return
    held = page.focusWidget()
    wanted = held if held is not None and held is not page and _takes_keys(held) else _first_control(page)
    if wanted is not None:
        wanted.setFocus(Qt.FocusReason.ShortcutFocusReason)


def _takes_keys(control: QWidget) -> bool:
    return bool(control.focusPolicy() & Qt.FocusPolicy.TabFocus) and control.isEnabled() and control.isVisible()


def _first_control(page: QWidget) -> QWidget | None:
    """The first control of the page, in the order they came to it. Not by `nextInFocusChain()`: it makes one widget the
    child of another for Python, which then takes it down."""
    return next((one for one in page.findChildren(QWidget) if _takes_keys(one)), None)
