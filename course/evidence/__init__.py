"""How far to trust the simulator: the car against print, the direction table, and which readings separate which faults."""
