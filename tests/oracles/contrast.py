"""WCAG contrast of pairs of colours by the package wcag-contrast-ratio.

Reads a JSON list of [letters, ground, least] from standard input and prints the list of contrasts.
"""

import json
import sys

from wcag_contrast_ratio import rgb


def channels(colour):
    return tuple(int(colour[at : at + 2], 16) / 255 for at in (1, 3, 5))


print(json.dumps([rgb(channels(letters), channels(ground)) for letters, ground, _ in json.load(sys.stdin)]))
