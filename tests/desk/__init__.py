"""Tests of the desk: a package, so that what its modules share is imported under one name."""
