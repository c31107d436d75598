"""How different colours look to people who lack one kind of cone, by the package colorspacious.

In: a JSON list of sRGB colours, #rrggbb. Out: a JSON list of [deficiency, index, index, difference in CAM02-UCS].
"""

import itertools
import json
import sys

from colorspacious import cspace_convert, deltaE

colours = [[int(value[at : at + 2], 16) / 255 for at in (1, 3, 5)] for value in json.load(sys.stdin)]
told = []
for kind in ("protanomaly", "deuteranomaly", "tritanomaly"):
    seen = [
        cspace_convert(colour, {"name": "sRGB1+CVD", "cvd_type": kind, "severity": 100}, "sRGB1").clip(0, 1)
        for colour in colours
    ]
    for one, other in itertools.combinations(range(len(seen)), 2):
        told.append([kind, one, other, float(deltaE(seen[one], seen[other], input_space="sRGB1"))])
json.dump(told, sys.stdout)
