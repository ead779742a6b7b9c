"""Files of answers, whatever made them, become responses: bytes go in, what students answered comes out."""
