"""`python -m barwright`: the commands, where the script of that name is not in the path."""

from barwright.cli import run

if __name__ == "__main__":
    run()
