"""Reads an SVG with Python's own XML reader and tells its root and its size in points, rounded."""

import sys
import xml.etree.ElementTree as tree

root = tree.fromstring(sys.stdin.read())
width, height = (float(root.get(side).removesuffix("pt")) for side in ("width", "height"))
print(root.tag.rpartition("}")[2], round(width), round(height))
