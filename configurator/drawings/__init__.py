"""Our own drawings as plain shapes: the vehicle, weights against limits, ranges."""
