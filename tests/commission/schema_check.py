#!/usr/bin/env python3
"""Holds the JSON Schemas against an outside validator: every shipped file is valid, every key has a
title, a description and an example, and each of the mistakes below is found.

usage: schema_check.py REPOSITORY   (needs python3-jsonschema and python3-yaml)
"""
import copy, glob, json, re, sys
import jsonschema, yaml

HOME = sys.argv[1]


class Core(yaml.SafeLoader):
    """YAML 1.2's core: 'off' and 'no' are words, 05:10 is no number."""


Core.yaml_implicit_resolvers = {
    k: [(tag, rule) for tag, rule in v if tag not in ("tag:yaml.org,2002:bool", "tag:yaml.org,2002:int",
                                                      "tag:yaml.org,2002:float", "tag:yaml.org,2002:timestamp")]
    for k, v in copy.deepcopy(yaml.SafeLoader.yaml_implicit_resolvers).items()}
Core.add_implicit_resolver("tag:yaml.org,2002:bool", re.compile("^(?:true|false)$"), list("tf"))
Core.add_implicit_resolver("tag:yaml.org,2002:int", re.compile("^[-+]?[0-9]+$"), list("-+0123456789"))
Core.add_implicit_resolver("tag:yaml.org,2002:float", re.compile(r"^[-+]?(?:[0-9]+\.[0-9]*|\.[0-9]+)(?:[eE][-+]?[0-9]+)?$"),
                           list("-+.0123456789"))


def load(path):
    with open(path, encoding="utf-8") as file:
        return yaml.load(file, Core)


def schema_of(path):
    with open(path, encoding="utf-8") as file:
        schema = json.load(file)
    jsonschema.Draft202012Validator.check_schema(schema)
    return schema


UNIT = schema_of(HOME + "/circuits/unit.schema.json")
SCENARIO = schema_of(HOME + "/scenarios/scenario.schema.json")
failures = []


def errors(schema, data):
    return [e for e in jsonschema.Draft202012Validator(schema).iter_errors(data)]


for path in sorted(glob.glob(HOME + "/circuits/*.yaml")):
    for error in errors(UNIT, load(path)):
        failures.append("%s: %s at %s" % (path, error.message[:200], list(error.absolute_path)))
for path in sorted(glob.glob(HOME + "/scenarios/*.yaml")):
    for error in errors(SCENARIO, load(path)):
        failures.append("%s: %s at %s" % (path, error.message[:200], list(error.absolute_path)))


# Every key: title, description, example; in its place or where its reference points.
def resolved(schema, node):
    while isinstance(node, dict) and "$ref" in node:
        node = schema["$defs"][node["$ref"].rsplit("/", 1)[1].replace("%20", " ")]
    return node


def described(schema, node, where, seen, inside_if=False):
    if isinstance(node, list):
        for i, one in enumerate(node):
            described(schema, one, where, seen)
        return
    if not isinstance(node, dict):
        return
    for key, value in node.items():
        if key in ("if", "enum", "examples", "required", "const"):
            continue
        if key == "properties" and node.get("type") == "object":
            for name, one in value.items():
                full = resolved(schema, one)
                for word in ("title", "description", "examples"):
                    if word not in full:
                        failures.append("%s/%s: no %s" % (where, name, word))
        described(schema, value, where + "/" + key, seen)


described(UNIT, UNIT, "unit", set())
described(SCENARIO, SCENARIO, "scenario", set())

GOOD_UNIT = load(HOME + "/circuits/wf-208.yaml")
GOOD_SCENARIO = load(HOME + "/scenarios/mb-007.yaml")


def put(path, value):
    def change(data):
        at = data
        for key in path[:-1]:
            at = at[key]
        if value is None:
            del at[path[-1]]
        else:
            at[path[-1]] = value
    return change


S = lambda path, value: ("scenario", path, value)
U = lambda path, value: ("unit", path, value)
MISTAKES = [
    # a scenario's head
    S(["scenario"], None), S(["scenario"], "MB 7"), S(["scenario"], "../x"), S(["unit"], None), S(["unit"], "wf-280"),
    S(["unit hash"], "abc"), S(["title"], None), S(["title"], {"es": "x"}), S(["title"], {"english": "x", "en": "x"}),
    S(["difficulty"], 0), S(["difficulty"], 6), S(["difficulty"], "hard"), S(["dificulty"], 2), S(["par"], None),
    S(["par"], "40"), S(["par"], "40 mins"), S(["par"], 40), S(["skills"], [1]), S(["skills"], ["x"]),
    # its ticket
    S(["ticket"], None), S(["ticket", "site"], None), S(["ticket", "said"], None), S(["ticket", "outdoor"], "74"),
    S(["ticket", "outdoor"], 74), S(["ticket", "outdoor"], "74 psig"), S(["ticket", "outdoor"], None),
    S(["ticket", "humidity"], "60 °F"), S(["ticket", "time"], "7:30"), S(["ticket", "time"], "24:00"),
    S(["ticket", "time"], 730), S(["ticket", "weather"], "dry"),
    # what is wrong
    S(["wrong"], None), S(["wrong"], []), S(["wrong"], [{"what": "HSL", "how": "stuck open"}] * 5),
    S(["wrong", 0, "what"], None), S(["wrong", 0, "how"], None), S(["wrong", 0, "what"], "HLS"),
    S(["wrong", 0, "how"], "stuck opn"), S(["wrong", 0, "hwo"], "x"), S(["wrong", 0, "after"], "20"),
    S(["wrong", 0, "what"], "condenser"), S(["wrong", 0], "HSL: stuck open"),
    S(["wrong", 0, "comes and goes"], {"with": "time", "every": "30 min"}),
    S(["wrong", 0, "comes and goes"], {"with": "moon"}),
    S(["wrong", 0, "comes and goes"], {"with": "temperature", "of": "box.air", "bad at": "85 °F"}),
    S(["wrong", 0, "comes and goes"], {"with": "temperature", "of": "boks", "bad at": "85 °F", "good at": "80 °F"}),
    S(["wrong", 0, "comes and goes"], {"with": "vibration"}), S(["pairs", 0], []), S(["pairs", 0, 0, "what"], "XX"),
    # what is found, what is answered
    S(["found"], None), S(["found"], {}), S(["found", "box"], "5 °F"), S(["found", "box"], 5),
    S(["found", "compressor"], "stopped"), S(["found", "evaporator fans"], "cycling"), S(["found", "overload"], "out"),
    S(["found", "frost"], "85 %"), S(["found", "suction"], "5 psig"), S(["answers", "since wen"], "x"),
    S(["answers", "since when"], {"es": "x"}), S(["unit"], []), S(["unit"], 208),
    # of several boxes
    S(["found", "box 0"], "24 °F ± 3"), S(["found", "box 5"], "24 °F ± 3"), S(["found", "box 2"], "24 °F"),
    S(["found", "box two"], "24 °F ± 3"), S(["found", "evaporator fans 2"], "runing"), S(["found", "frost 2"], "60"),
    S(["found", "compressor 2"], "stopped"), S(["found", "overload 2"], "set"),
    # a unit's head
    U(["unit"], None), U(["unit"], "WF 208"), U(["name"], None), U(["naem"], "x"), U(["outdoor"], ["50 °F"]),
    U(["outdoor"], [50, 110]), U(["supply"], None), U(["supply", "kind"], "star"), U(["supply", "nominal"], "208"),
    U(["supply", "nominal"], None), U(["supply", "frequency"], "60"), U(["supply", "earthed"], "maybe"),
    # places
    U(["places"], None), U(["places"], {}), U(["places", "roof", "name"], None), U(["places", "roof", "walk"], 3),
    U(["places", "roof", "cautions"], ["laddr"]), U(["places", "roof", "outdors"], True),
    # devices
    U(["devices"], None), U(["devices", "CC", "kind"], "contacter"), U(["devices", "CC", "kind"], None),
    U(["devices", "CC", "coil"], None), U(["devices", "CC", "coil"], "208"), U(["devices", "CC", "coil"], "208 A"),
    U(["devices", "CC", "at"], None), U(["devices", "CC", "coil volts"], "208 V"), U(["devices", "CC", "panel"], [1]),
    U(["devices", "CC", "panel"], [0, 1]), U(["devices", "FU4", "class"], "slow"), U(["devices", "FU4", "rating"], "5 a"),
    U(["devices", "HPC", "opens"], "425 psi"), U(["devices", "HPC", "opens"], 425), U(["devices", "HPC", "senses"], "haed"),
    U(["devices", "HPC", "reset"], "auto"), U(["devices", "EF1", "moves"], "evaporator.fan 3"),
    U(["devices", "EF1", "share"], "half"), U(["devices", "DCK", "starts"], ["4", "10 h"]), U(["devices", "C C"], {}),
    U(["devices", "CAP1", "capacitance"], "7.5 MF"), U(["devices", "DTF", "warm"], "55"),
    # rungs, wires, plant
    U(["rungs"], None), U(["rungs", "power", 0], "L1, DISC"), U(["rungs", "power", 0], ["L1"]),
    U(["rungs", "power", 0], ["L1", "DISC P1"]), U(["rungs", "power", 0], ["L1", {"any": ["A"]}, "L2"]),
    U(["rungs", "power", 0], ["L1", {"all": ["A", "B"]}, "L2"]), U(["wires", "usual", "size"], "14"),
    U(["wires", "usual", "length"], "3"), U(["wires", "runs", 0, "from"], None), U(["wires", "runs", 0, "colour"], "red"),
    U(["plant"], None), U(["plant", "refrigerant"], "R-405A"), U(["plant", "refrigerant"], None),
    U(["plant", "condensor"], {}), U(["plant", "charge", "full"], "14.5"), U(["plant", "charge", "fraction"], "50 %"),
    U(["plant", "compressor", "displacement"], "565 ft³"), U(["plant", "box", "walls"], "20 W"),
    # looks, probes, gauges
    U(["gauges"], {}), U(["probes", "coil", "of"], "head"), U(["probes", "coil", "name"], None),
    U(["looks", "door", "sense"], "taste"), U(["looks", "door", "of"], "box.dor"), U(["looks", "door", "states"], []),
    U(["looks", "door", "needs"], "ladder"), U(["looks", "door", "takes"], "4"),
    U(["looks", "door", "of"], []), U(["looks", "door", "of"], 5), U(["looks", "door", "of"], "box.9.air"),
]

missed = 0
for kind, path, value in MISTAKES:
    data = copy.deepcopy(GOOD_UNIT if kind == "unit" else GOOD_SCENARIO)
    put(path, value)(data)
    if not errors(UNIT if kind == "unit" else SCENARIO, data):
        missed += 1
        failures.append("not found: %s, %s made %r" % (kind, path, value))

for failure in failures:
    print(failure)
print("%d mistakes, %d not found; %d failures" % (len(MISTAKES), missed, len(failures)))
sys.exit(1 if failures else 0)
