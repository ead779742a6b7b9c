"""The bank's commands, one module each; `files` and `lock` are how all of them read and write a shared file."""
