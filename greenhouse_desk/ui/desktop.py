"""A word on the desktop, where the desktop takes any: freedesktop notifications over D-Bus."""

from __future__ import annotations

import sys

SERVICE = "org.freedesktop.Notifications"
PATIENCE_S = 0.5
"""How long the window may wait for the desktop's answer."""


def notify(title: str, text: str, urgent: bool = False) -> bool:
    """Show a notification; False when the desktop has none (no bus, no service, no answer). Never raises."""
    if sys.platform != "linux":
        return False
    from jeepney import DBusAddress, DBusErrorResponse, new_method_call
    from jeepney.io.blocking import open_dbus_connection
    from jeepney.wrappers import unwrap_msg

    address = DBusAddress("/org/freedesktop/Notifications", SERVICE, SERVICE)
    hints = {"urgency": ("y", 2 if urgent else 1)}
    body: tuple[object, ...] = ("Greenhouse Desk", 0, "", title, text, [], hints, -1)
    try:
        with open_dbus_connection(auth_timeout=PATIENCE_S) as connection:
            message = new_method_call(address, "Notify", "susssasa{sv}i", body)
            unwrap_msg(connection.send_and_get_reply(message, timeout=PATIENCE_S))
    except (OSError, KeyError, RuntimeError, ValueError, DBusErrorResponse):
        return False
    return True
