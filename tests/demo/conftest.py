"""What the tests of the demo stand on: its journal, built without pictures."""

from __future__ import annotations

from tests.demo_built import built as built
from tests.demo_built import demo_desk as demo_desk
from tests.demo_built import unpictured as unpictured
