"""The parts of the side view, each drawn from the vehicle's outline and the chosen look."""
