"""Tells of each BCP 47 tag on a line of standard input whether it is valid, and its language's English name, by langcodes."""

import sys

import langcodes

for line in sys.stdin:
    tag = line.strip()
    valid = langcodes.tag_is_valid(tag)
    print(tag, "valid" if valid else "not valid", langcodes.Language.get(tag).language_name() if valid else "-")
