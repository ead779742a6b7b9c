"""What the pages of the desk show: read, never written. The commands print the same; what is changed, tasks change."""
