"""Protocols: ordered treatments, how they are read, every fault they can have, and what they need laid out."""

from greenhouse_desk.domain.protocol_checks import causes, faults
from greenhouse_desk.domain.protocol_materials import KitLine, cautions, making, materials
from greenhouse_desk.domain.protocol_mixing import mixing_faults
from greenhouse_desk.domain.protocol_reading import read_protocol
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

__all__ = [
    "ONLY_IF", "SAY_LENGTH", "Asks", "Deed", "KitLine", "Material", "Protocol", "ProtocolStep", "Work", "causes",
    "cautions", "faults", "making", "materials", "mixing_faults", "read_protocol",
]
