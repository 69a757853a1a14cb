"""What the notation of lengths means, told once for every program that reads it."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

FILE = Path(__file__).with_name("vectors.json")
VECTORS: dict[str, Any] = json.loads(FILE.read_text(encoding="utf-8"))
