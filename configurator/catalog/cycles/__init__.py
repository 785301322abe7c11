"""Speed tables of the standard driving cycles, one sample a second."""
