"""Protocols: ordered treatments, how they are read, every fault they can have, and what they need laid out."""

from greenhouse_desk.domain.protocol_steps import (
    ONLY_IF,
    SAY_LENGTH,
    Asks,
    Deed,
    Material,
    Protocol,
    ProtocolStep,
    Work,
)

__all__ = ["ONLY_IF", "SAY_LENGTH", "Asks", "Deed", "Material", "Protocol", "ProtocolStep", "Work"]
