"""Own components of the screens, with their assets beside them."""
