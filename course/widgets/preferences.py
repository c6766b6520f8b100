"""What the workbook remembers of a learner's taste: the units."""

import json
import os
from pathlib import Path

from platformdirs import user_config_path

from course.units import UNIT_SETS

FIRST_UNITS = "psi_f"


def preferences_file():
    """Where the learner's choices are kept; checks point it elsewhere, so that nobody's taste changes a stored notebook."""
    if os.environ.get("WORKBOOK_PREFERENCES"):
        return Path(os.environ["WORKBOOK_PREFERENCES"])
    return user_config_path("vehicle-ac-workbook", appauthor=False) / "preferences.json"


def remembered_units(path=None):
    """The unit set last chosen, or the first one where nothing readable is kept."""
    try:
        kept = json.loads(Path(path or preferences_file()).read_text(encoding="utf-8"))
        return kept["units"] if kept["units"] in UNIT_SETS else FIRST_UNITS
    except (OSError, ValueError, KeyError, TypeError):
        return FIRST_UNITS


def remember_units(key, path=None):
    """Keep a unit set for next time; a full or locked disk only means that it is not remembered."""
    path = Path(path or preferences_file())
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(json.dumps({"units": key}), encoding="utf-8")
    except OSError:
        return False
    return True
