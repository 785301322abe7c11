"""What the engine proves about a catalog, and proofs of it that anybody can replay."""
