"""The bank's commands, one module each; `files` is how all of them read and write a shared file."""
