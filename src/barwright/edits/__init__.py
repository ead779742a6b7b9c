"""What a teacher changed in single questions of a made quiz: read from an open text file, and applied to its forms."""
