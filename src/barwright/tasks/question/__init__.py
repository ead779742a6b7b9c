"""The tasks behind `barwright question`: changes to single questions of a made quiz."""
