"""Pure constraint reasoning: what is still possible, why not, and the extremes."""
