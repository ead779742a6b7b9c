"""What is printed: forms in words and finished drawings become PDF files; no file is opened but the templates."""
