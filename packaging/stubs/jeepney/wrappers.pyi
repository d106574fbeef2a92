"""Reading a reply: an error reply is raised."""

from typing import Any

from jeepney import Message

def unwrap_msg(msg: Message) -> tuple[Any, ...]: ...
