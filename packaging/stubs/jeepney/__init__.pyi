"""What this project uses of jeepney, which ships no types of its own."""

from enum import Enum
from typing import Any

class Message:
    header: Header
    body: tuple[Any, ...]

class DBusAddress:
    def __init__(self, object_path: str, bus_name: str | None = ..., interface: str | None = ...) -> None: ...

class DBusErrorResponse(Exception):
    name: str

def new_method_call(
    remote_obj: DBusAddress, method: str, signature: str | None = ..., body: tuple[Any, ...] = ...
) -> Message: ...

class MessageType(Enum):
    method_call = 1
    method_return = 2
    error = 3
    signal = 4

class Header:
    message_type: MessageType

def new_method_return(parent_msg: Message, signature: str | None = ..., body: tuple[Any, ...] = ...) -> Message: ...
