"""What this project uses of jeepney, which ships no types of its own."""

from typing import Any

class Message:
    body: tuple[Any, ...]

class DBusAddress:
    def __init__(self, object_path: str, bus_name: str | None = ..., interface: str | None = ...) -> None: ...

class DBusErrorResponse(Exception):
    name: str

def new_method_call(
    remote_obj: DBusAddress, method: str, signature: str | None = ..., body: tuple[Any, ...] = ...
) -> Message: ...
