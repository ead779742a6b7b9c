"""Barwright: rhythm-reading quizzes whose every wrong answer is a diagnosis."""

__version__ = "0.1.0"
__all__ = ["__version__"]
