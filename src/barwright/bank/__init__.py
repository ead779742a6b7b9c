"""The bank: items that a department shares, one JSON object a line; text in, text out, no file opened here."""
