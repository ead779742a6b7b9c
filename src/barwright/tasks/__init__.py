"""One module a command: reads files, calls the packages, writes files. The only place where the branches meet."""
