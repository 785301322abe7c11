"""What the screens show, as plain data: no screen library in here."""
