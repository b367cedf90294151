"""The maker is a folder run as a program, so its modules are found by path."""

from __future__ import annotations

import sys
from pathlib import Path

sys.path.append(str(Path(__file__).parents[2] / "example_projects" / "verrin_maker"))
