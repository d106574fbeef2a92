"""Run as a child process on a private bus: part of a desktop that takes some calls and prints what it was told."""

from __future__ import annotations

import sys

from jeepney import DBusAddress, MessageType, new_method_call, new_method_return
from jeepney.io.blocking import open_dbus_connection


def main(service: str, calls: int) -> None:
    """Own the name `service`, say so on standard output, answer that many calls with the number 7."""
    with open_dbus_connection() as connection:
        bus = DBusAddress("/org/freedesktop/DBus", "org.freedesktop.DBus", "org.freedesktop.DBus")
        connection.send_and_get_reply(new_method_call(bus, "RequestName", "su", (service, 0)))
        sys.stdout.write("ready\n")
        sys.stdout.flush()
        while calls:
            message = connection.receive()
            if message.header.message_type is MessageType.method_call:
                calls -= 1
                connection.send(new_method_return(message, "u", (7,)))
                sys.stdout.write(f"{message.body}\n")


if __name__ == "__main__":
    main(sys.argv[1], int(sys.argv[2]))
