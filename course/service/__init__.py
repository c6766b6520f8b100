"""The service job in numbers: leaks, dye, recovery, evacuation, oil and charge, as pure functions."""
