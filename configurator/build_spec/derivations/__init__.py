"""How each kind of fact is worked out, one module for each kind."""
