"""A plan changed piece by piece: the file stays the truth, with its remarks and in its order."""
