"""How the record's tables came to be, step by step."""
