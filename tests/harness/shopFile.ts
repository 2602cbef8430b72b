/** A shop's file that uses every key, right in all of them; machine, tools and parts are invented. */
export const WHOLE_SHOP_FILE = `{
  "version": 1,
  "units": "mm",
  "profile": {
    "base": "iso",
    "offsetRegister": "diameter",
    "turns": { "letter": "L", "counts": "extra" },
    "start": { "units": 21 },
    "extraM": [21, 22]
  },
  "blockDelete": "skip",
  "blockNumbers": { "write": true, "start": 5, "step": 5 },
  "limits": { "steps": 100000, "depth": 8, "moves": 200000, "seconds": 20 },
  "machine": {
    "axes": {
      "X": { "min": -560, "max": 0, "rapid": 20000, "acceleration": 2500, "reference": 0 },
      "Y": { "min": -400, "max": 0, "rapid": 20000, "reference": 0 },
      "Z": { "min": -450, "max": 0, "rapid": 12000, "reference": 0 },
      "A": { "min": -10, "max": 100, "rapid": 3000, "reference": 0 }
    },
    "topFeed": 8000,
    "topSpeed": 10000,
    "power": 7.5,
    "cornerTolerance": 0.02,
    "toolChange": 4,
    "spindleRunUp": 1.5,
    "workOffsets": {
      "G54": { "X": -250, "Y": -150, "Z": -420, "A": 0 },
      "G54.1 P2": { "X": -100 }
    }
  },
  "tools": [
    {
      "number": 1, "kind": "end-mill", "description": "roughing", "diameter": 10, "cornerRadius": 0.5,
      "teeth": 3, "length": 110, "fluteLength": 22, "cuttingMaterial": "carbide", "centreCutting": true,
      "hand": "right", "rampLimit": 3, "lengthOffset": 1, "radiusOffset": 21
    },
    { "number": 2, "kind": "drill", "diameter": 5, "pointAngle": 135 },
    { "number": 3, "kind": "countersink", "diameter": 12, "tip": 1 },
    {
      "number": 4, "kind": "tap", "thread": "M6", "forming": false, "leadTurns": 2.5,
      "holder": { "kind": "reversing", "ratio": 1.75, "selfFeed": 3, "freeUp": 5, "float": 2, "torque": 12 }
    }
  ],
  "materials": {
    "plate": { "kc11": 700, "mc": 0.25, "cuttingSpeed": { "hss": [60, 100], "carbide": [200, 400] } },
    "bar steel": { "kc11": 1700 }
  },
  "material": "plate",
  "stock": { "offset": "G54", "shape": "box", "min": [0, 0, -20], "max": [80, 50, 0] },
  "holder": "float",
  "rules": { "units-unset": "off", "feed-missing": "warning" },
  "programs": {
    "bracket-*.nc": {
      "profile": "iso-macro",
      "material": "bar steel",
      "stock": { "shape": "cylinder", "diameter": 40, "centre": [0, 0], "top": 0, "bottom": -30 },
      "tools": [{ "number": 2, "kind": "drill", "diameter": 6.8 }, { "number": 9, "kind": "other" }],
      "rules": { "feed-missing": "error" }
    },
    "fixtures/**/*.nc": { "rules": { "units-unset": "hint" } }
  }
}
`;
