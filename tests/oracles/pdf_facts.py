"""What a PDF says of itself, read by the package pikepdf.

Arguments: PDF files. Out: a JSON list with, for each, its language, tags, output intents, metadata, attachments and boxes.
"""

import json
import sys

import pikepdf


def facts(path):
    with pikepdf.open(path) as pdf:
        root = pdf.Root
        with pdf.open_metadata() as metadata:
            named = {name: str(metadata.get(name, "")) for name in ("pdfaid:part", "pdfaid:conformance", "pdfuaid:part", "dc:title")}
        specs = {name: spec for name, spec in pdf.attachments.items()}
        attached = {
            name: [spec.get_file().read_bytes().decode(), str(spec.obj.get("/AFRelationship", ""))] for name, spec in specs.items()
        }
        return {
            "language": str(root.get("/Lang", "")),
            "marked": bool(root.MarkInfo.Marked),
            "tagged": "/StructTreeRoot" in root,
            "intents": len(root.get("/OutputIntents", [])),
            "metadata": named,
            "attached": attached,
            "trims": [[float(side) for side in page.trimbox] for page in pdf.pages],
        }


json.dump([facts(path) for path in sys.argv[1:]], sys.stdout)
