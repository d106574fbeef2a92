"""Files written whole or not at all, for those who may not reach into the store: settings, key bindings, caches."""

from __future__ import annotations

from greenhouse_desk.store.disk import put as put
from greenhouse_desk.store.disk import whole as whole
