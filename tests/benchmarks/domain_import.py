"""Imports every module of the rules and tells how long that took, and what else came in with them."""

from __future__ import annotations

import importlib
import json
import pkgutil
import sys
import time

start = time.perf_counter()

from greenhouse_desk import domain  # noqa: E402  it is measured

for found in pkgutil.iter_modules(domain.__path__):
    importlib.import_module(f"{domain.__name__}.{found.name}")
took = time.perf_counter() - start
sys.stdout.write(json.dumps({"import_s": took, "others": sorted(name for name in sys.modules if "." not in name)}))
