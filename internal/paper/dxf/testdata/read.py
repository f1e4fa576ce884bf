"""Reads a DXF file with ezdxf and prints what is in it as JSON: what the audit
says, layers, units, and area and extent of every outline, reckoned from the
bulges by ezdxf's own arithmetic."""
import json
import math
import sys

import ezdxf
from ezdxf.math import bulge_to_arc


def extent(points):
    """Extent and area of a closed run of (x, y, bulge)."""
    xs, ys, area = [], [], 0.0
    for (x1, y1, b), (x2, y2, _) in zip(points, points[1:] + points[:1]):
        xs += [x1, x2]
        ys += [y1, y2]
        area += (x1 * y2 - x2 * y1) / 2
        if b == 0:
            continue
        c, start, end, r = bulge_to_arc((x1, y1), (x2, y2), b)
        turn = (end - start) % (2 * math.pi)
        area += math.copysign(r * r / 2 * (turn - math.sin(turn)), b)
        for q in range(-8, 9):
            a = q * math.pi / 2
            if start <= a <= start + turn:
                xs.append(c.x + r * math.cos(a))
                ys.append(c.y + r * math.sin(a))
    return area, [min(xs), min(ys), max(xs), max(ys)]


doc = ezdxf.readfile(sys.argv[1])
audit = doc.audit()
out = {
    "version": doc.dxfversion,
    "errors": [str(e.message) for e in audit.errors],
    "fixes": [str(e.message) for e in audit.fixes],
    "layers": sorted(layer.dxf.name for layer in doc.layers),
    "linetypes": {layer.dxf.name: layer.dxf.linetype for layer in doc.layers},
    "units": doc.header.get("$INSUNITS", None),
    "metric": doc.header.get("$MEASUREMENT", None),
    "kinds": {},
    "outlines": [],
    "texts": [],
}
for e in doc.modelspace():
    kind = e.dxftype()
    out["kinds"][kind] = out["kinds"].get(kind, 0) + 1
    if kind == "POLYLINE" and e.is_closed:
        points = [(v.dxf.location.x, v.dxf.location.y, v.dxf.get("bulge", 0)) for v in e.vertices]
        area, box = extent(points)
        out["outlines"].append({"layer": e.dxf.layer, "area": area, "box": box, "vertices": len(points)})
    if kind == "CIRCLE":
        c, r = e.dxf.center, e.dxf.radius
        out["outlines"].append({"layer": e.dxf.layer, "area": math.pi * r * r, "box": [c.x - r, c.y - r, c.x + r, c.y + r], "vertices": 0})
    if kind == "TEXT":
        out["texts"].append(e.plain_text())
if len(sys.argv) > 2:
    doc.saveas(sys.argv[2])
json.dump(out, sys.stdout)
