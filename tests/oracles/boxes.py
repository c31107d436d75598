"""The boxes of each page of a PDF as pikepdf reads them, and None where the page itself does not say; as JSON."""

import json
import sys

import pikepdf

with pikepdf.open(sys.argv[1]) as pdf:
    pages = []
    for page in pdf.pages:
        box = lambda name: [float(at) for at in page.obj[name]] if name in page.obj else None
        pages.append({name: box("/" + name) for name in ["MediaBox", "TrimBox", "BleedBox"]})
json.dump(pages, sys.stdout)
