"""How much of a foreign package is read: enough for the largest that we write, too little to fill a computer.

The largest are 1,000 items with pictures and 144 spellings each: some 6,000 files, up to 45 MB of XML and 1,600,000
marks, in one document or in 1,000. At these bounds a check stays under 400 MB of memory and 10 seconds.
"""

KB, MB = 1_000, 1_000_000

MOST_FILES = 12_000
MOST_DIRECTORY_BYTES = 2 * MB  # of a zip's list of contents
MOST_UNPACKED_BYTES = 300 * MB
MOST_RATIO = 250  # unpacked to packed; the text of a quiz shrinks 40 times at most, zeros 1,000 times
SMALL_BYTES = 1 * MB  # up to this size any ratio is harmless
MOST_PATH_LENGTH = 240  # many file systems end at 255
MOST_FOLDERS_DEEP = 20

MOST_XML_BYTES = 32 * MB
MOST_PICTURE_BYTES = 16 * MB
MOST_MARKS = 1_400_000  # "<", "=", "&lt;" and "&#" in one document: each costs up to 150 bytes once it is read
MOST_PACKAGE_MARKS = 1_700_000  # in all documents together: each costs up to 5 microseconds to check
MOST_DOCUMENTS = 1_600
MOST_ITEMS = 3_000
MOST_HTML_MARKS = 20_000  # the same in one text
MOST_SIBLINGS = 4_000  # elements in one element: their check takes the square of it, 0.04 seconds here
MOST_LISTED = 12_500  # the same in a manifest, which lists every file and is checked faster
MOST_ATTRIBUTES = 200  # of one element, namespaces among them: the standards know 40; it is parsed in the square of it
MOST_LEVELS = 80  # elements inside elements
MOST_KEPT = 200  # characters of a name or number that is looked up again and again: longer ones are not remembered
